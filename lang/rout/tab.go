package rout

import (
	"math"
	"slices"
	"sort"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// TabCut is a tab as the bits leave it.
type TabCut struct {
	Bit float64 // diameter of the bit beside it, nm
	// Root is how wide it is on the profile, nm: as stated, unless a bit that has to
	// cut an inside corner beside it cuts into it, or does not come as near as its side.
	Root float64
	// Waist is how wide it is at its narrowest between the slots beside it, nm, where
	// they are as wide as the bit: W - D on a straight edge, less where the edge is
	// hollow. 0 where the bit cuts it through.
	Waist float64
	// Radius is that of the rounds at its root, nm, which the slots' ends leave.
	Radius float64
}

// Tab is a tab as its profile's bit leaves it.
func (x *Bits) Tab(t *board.Tab) TabCut {
	d := x.Bit(t.Edge.Profile)
	return TabCut{Bit: d, Root: x.root(t, d), Waist: math.Max(0, waist(t, d)), Radius: d / 2}
}

// Spares tells whether a tab keeps as much of its width as a bit should leave it.
func (x *Bits) Spares(t *board.Tab) bool { return spares(t, x.Bit(t.Edge.Profile)) }

func spares(t *board.Tab, d float64) bool {
	return waist(t, d) >= WaistShare*t.Width.Value-board.Tolerance
}

// waist is what is left between two bits of a diameter that stand off the
// profile at either end of a tab's root, nm; under 0 where they overlap.
func waist(t *board.Tab, d float64) float64 {
	off := func(at float64) geom.Point { return t.Edge.Point(at).Sub(t.Edge.Inward(at).Scale(d / 2)) }
	return off(t.From()).Dist(off(t.To())) - d
}

// root is how wide a tab comes out on the profile by a bit, nm.
func (x *Bits) root(t *board.Tab, d float64) float64 { return contourOf(t.Edge.Profile, d/2).root(t) }

func (c *contour) root(t *board.Tab) float64 {
	from, to := t.Range()
	return c.touched(to, 1) - c.touched(from, -1)
}

// robs tells whether the bit of a contour cuts into a tab's root or does not come as
// near as its side.
func (c *contour) robs(t *board.Tab) bool {
	return math.Abs(c.root(t)-t.Width.Value) > joined
}

// touched is how near to a tab's middle the bit touches the profile that is to
// come as near as a side of the tab, which lies in the direction way of its
// middle: there, or where the nearest piece of its path does that is run.
func (c *contour) touched(side float64, way float64) float64 {
	i, in := c.missing(side)
	if !in {
		return side
	}
	m := c.missed[i]
	from, to := m.from, m.to
	if round := c.profile.Path.Perimeter(); side < from {
		from, to = from-round, to-round
	}
	// In an inside corner the bit touches both sides of it at once.
	if (way < 0) != m.corner {
		return from
	}
	return to
}

// missing is the missed part of the profile in which a place lies, its ends not.
func (c *contour) missing(s float64) (i int, ok bool) {
	round := c.profile.Path.Perimeter()
	if s = math.Mod(s, round); s < 0 {
		s += round
	}
	i = slices.IndexFunc(c.missed, func(m missed) bool {
		return s > m.from+joined && s < m.to-joined || s+round > m.from+joined && s+round < m.to-joined
	})
	return i, i >= 0
}

// Margin is how much of the profile between a tab's side and the plated stretch
// next to it is bare, nm, the nearer of both sides: 0 where the plating runs up to it,
// and infinite where no more than a bit's rounding is plated.
func (x *Bits) Margin(t *board.Tab) float64 {
	from, to := t.Range()
	p := t.Edge.Profile
	return math.Min(x.bareTo(p, from, -1), x.bareTo(p, to, 1))
}

// bareTo is how far along a profile it is bare from a place, in the direction way, nm.
func (x *Bits) bareTo(p *board.Profile, at, way float64) float64 {
	wall := x.b.Wall(p)
	if len(wall.Plated) == 0 {
		return math.Inf(1)
	}
	round := p.Path.Perimeter()
	for _, shift := range [...]float64{0, round, -round} {
		here := at + shift
		i := sort.Search(len(wall.Bare), func(i int) bool { return wall.Bare[i].To >= here-board.Tolerance })
		if i == len(wall.Bare) || wall.Bare[i].From > here+board.Tolerance {
			continue
		}
		if way > 0 {
			return math.Max(0, wall.Bare[i].To-here)
		}
		return math.Max(0, here-wall.Bare[i].From)
	}
	return 0
}

// FlankMargin is how much of the profile beside a tab has to be bare, nm, so that
// the final pass of a bit crosses the copper on the first one's round end at no less
// than 30 degrees before it comes to the tab's side: 0.13 of its diameter.
func FlankMargin(bit float64) float64 { return bit * math.Sin(crossing/2) / 2 }

// strips tells whether a bit leaves copper on a tab's flank.
func (x *Bits) strips(t *board.Tab, d float64) bool {
	m := x.Margin(t)
	return m > board.Tolerance && m < FlankMargin(d)-board.Tolerance
}
