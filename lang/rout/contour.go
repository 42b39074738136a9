package rout

import (
	"cmp"
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

const (
	// touching, nm, is how much nearer to the profile than its radius the middle of
	// a bit on an arc may come: a drawn arc's radius is known to board.RadiusSlip.
	touching = board.RadiusSlip
	// hardly, nm, is how much left standing in an inside corner counts as none.
	hardly = 2000.0
	// exact is the same on a line.
	exact = 10 * board.Tolerance
	// joined, nm, is how far from each other two pieces of its path may end and
	// start and still be one: what the rounding of an inside corner leaves.
	joined = 20e3
)

// contour is the path of a bit's middle at one distance from a profile, on the
// side off the board: as much of it as comes nowhere nearer to the profile.
// Round an outside corner the bit rolls; an inside corner it cannot reach.
type contour struct {
	profile *board.Profile
	off     float64 // nm from the profile
	pieces  []piece // in order along the profile's path
	missed  []missed
}

// piece is a part of a contour, and the part of the profile's path that it runs
// beside; from equals to where it rolls round a corner.
type piece struct {
	geom.Segment
	from, to float64
}

// missed is a part of a profile that a bit does not touch.
type missed struct {
	from, to float64 // along its path; over its start to lies beyond the perimeter
	corner   bool    // an inside corner, in which the bit leaves a rounding
	radius   float64 // of the widest arc in such a corner, nm
	drawn    bool    // such a corner is a round of many short lines
	back     bool    // such a corner turns straight back: the floor of a notch, with its sides
	parted   bool    // the bit does not pass there, but has to be lifted over
}

// contourOf is a profile's at a distance, nm, kept with the profile.
func contourOf(p *board.Profile, off float64) *contour {
	type key float64
	return p.Keep(key(off), func() any { return trace(p, off) }).(*contour)
}

func trace(p *board.Profile, off float64) *contour {
	c := &contour{profile: p, off: off}
	// What is too near at its middle by more than half its length is so all along.
	raw := slices.DeleteFunc(offset(p, off), func(g piece) bool {
		long := g.Length()
		_, _, d := p.Path.Nearest(g.At(long / 2))
		return off-d > long/2+touching
	})
	for i, cuts := range meetings(raw) {
		g := raw[i]
		long := g.Length()
		at := 0.0
		if long == 0 {
			c.add(g) // a round of the bit's own radius
			continue
		}
		for _, next := range append(cuts, long) {
			if next-at <= exact {
				continue
			}
			c.add(piece{g.Sub(at, next), g.from + (g.to-g.from)*at/long, g.from + (g.to-g.from)*next/long})
			at = next
		}
	}
	c.missed = c.gaps()
	return c
}

// add takes a piece on that comes nowhere nearer to the profile.
func (c *contour) add(g piece) {
	slip := exact
	if g.Arc || g.Length() == 0 {
		slip = touching
	}
	if _, _, d := c.profile.Path.Nearest(g.At(g.Length() / 2)); d >= c.off-slip {
		c.pieces = append(c.pieces, g)
	}
}

// offset is what lies at a distance from each segment of a profile, and the
// arcs round its outside corners, in order; nothing from an arc hollower than that.
func offset(p *board.Profile, off float64) (list []piece) {
	segs := p.Path.Segments()
	for i, g := range segs {
		start := p.Path.Start(i)
		end := start + g.Length()
		if p.Hollow(g) && math.Abs(g.Radius()-off) <= touching {
			list = append(list, piece{geom.Line(g.C, g.C), start, end})
		} else if b, ok := geom.Parallel(g, off, p.Cutout); ok && b.Length() > 0 {
			list = append(list, piece{b, start, end})
		}
		next := segs[(i+1)%len(segs)]
		if turned(p, i) > 1e-9 {
			out := func(t geom.Point) geom.Point {
				if p.Cutout {
					return g.B.Add(t.Left().Scale(off))
				}
				return g.B.Sub(t.Left().Scale(off))
			}
			list = append(list, piece{geom.ArcAround(out(g.Tangent(g.Length())), out(next.Tangent(0)), g.B, p.Cutout), end, end})
		}
	}
	return list
}

// turned is a profile's turn after a segment; straight back it is the end of a spike
// of board, round which a bit rolls.
func turned(p *board.Profile, segment int) float64 {
	turn := p.Turn(segment)
	if turn <= -math.Pi+1e-9 {
		return math.Pi
	}
	return turn
}

// meetings are, for each piece, the places along it where it meets another, in order.
func meetings(list []piece) [][]float64 {
	boxes := make([]geom.Box, len(list))
	for i, g := range list {
		boxes[i] = g.Box()
	}
	index, at := geom.NewIndex(boxes), make([][]float64, len(list))
	for i, g := range list {
		index.Search(boxes[i].Grow(1), func(j int) bool {
			if j <= i {
				return true
			}
			for _, q := range geom.Intersections(g.Segment, list[j].Segment, 1) {
				_, s, _ := g.Nearest(q)
				_, t, _ := list[j].Nearest(q)
				at[i], at[j] = append(at[i], s), append(at[j], t)
			}
			return true
		})
	}
	for i := range at {
		slices.Sort(at[i])
	}
	return at
}

// gaps are the parts of the profile beside which no piece runs.
func (c *contour) gaps() (list []missed) {
	n, round := len(c.pieces), c.profile.Path.Perimeter()
	if n == 0 {
		return []missed{{to: round, parted: true}}
	}
	for i, g := range c.pieces {
		next := c.pieces[(i+1)%n]
		to := next.from
		if i+1 == n {
			to += round
		}
		if to-g.to <= touching {
			continue
		}
		m := missed{from: c.snap(g.to), to: c.snap(to), parted: g.B.Dist(next.A) > joined}
		if !m.parted && g.from < g.to && next.from < next.to {
			m.corner = c.hollow(&m)
		}
		if m.corner && c.depth(m, g.B) <= hardly {
			continue
		}
		list = append(list, m)
	}
	return list
}

// snap puts a place that is hardly off the end of a segment there.
func (c *contour) snap(s float64) float64 {
	i, local := c.profile.Path.SegmentAt(s)
	if long := c.profile.Path.Segments()[i].Length(); local > long-2*touching {
		return s + long - local
	} else if local < 2*touching {
		return s - local
	}
	return s
}

// hollow tells whether all that is missed turns inward, by straight back at most, and
// is reached from both sides: an inside corner and no opening; and how it is round.
func (c *contour) hollow(m *missed) bool {
	path, turn, smooth := c.profile.Path, 0.0, 0.0
	segs := path.Segments()
	i, _ := path.SegmentAt(math.Mod(m.from+touching/2, path.Perimeter()))
	last, _ := path.SegmentAt(math.Mod(m.to-touching/2, path.Perimeter()))
	for k := 0; ; k++ {
		g := segs[i]
		if g.Arc {
			if g.Clockwise == c.profile.Cutout && k > 0 && i != last {
				return false // a round that the bit could roll over
			}
			if g.Clockwise != c.profile.Cutout {
				turn += math.Abs(g.Sweep())
				m.radius = math.Max(m.radius, g.Radius())
			}
		}
		if i == last || k > len(segs) {
			break
		}
		by := turned(c.profile, i)
		switch {
		case by > board.Straight:
			return false
		case by >= -board.Straight:
			smooth -= by
		}
		turn -= by
		i = (i + 1) % len(segs)
	}
	m.drawn, m.back = smooth > 2*board.Straight, turn > math.Pi-0.1
	return turn < math.Pi+1e-6 // straight back: the floor of a notch as wide as the bit
}

// depth is how much of an inside corner a bit at a point leaves, nm, at most.
func (c *contour) depth(m missed, at geom.Point) (deep float64) {
	const steps = 64
	for i := range steps + 1 {
		deep = math.Max(deep, c.profile.Path.At(m.from+(m.to-m.from)*float64(i)/steps).Dist(at)-c.off)
	}
	return deep
}

// at is where the middle of the bit is beside a place of the profile, as the
// path comes to it (or as it leaves); the bit may not come there.
func (c *contour) at(s float64, leaving bool) geom.Point {
	path := c.profile.Path
	round := path.Perimeter()
	if s = math.Mod(s, round); s < 0 {
		s += round
	}
	i, local := path.SegmentAt(s)
	segs := path.Segments()
	switch {
	case leaving && local > segs[i].Length()-1:
		i, local = (i+1)%len(segs), 0
	case !leaving && local < 1:
		i = (i + len(segs) - 1) % len(segs)
		local = segs[i].Length()
	}
	out := segs[i].Tangent(local).Left().Scale(c.off)
	if !c.profile.Cutout {
		out = out.Scale(-1)
	}
	return segs[i].At(local).Add(out)
}

// between are the runs of the bit beside a part of the profile, each without a
// break; to may lie beyond the perimeter.
func (c *contour) between(from, to float64) (runs [][]piece) {
	round := c.profile.Path.Perimeter()
	var run []piece
	for turn := math.Floor(from / round); turn*round < to; turn++ {
		for _, g := range c.pieces {
			a, b := g.from+turn*round, g.to+turn*round
			if b < from || a > to || a == b && (a <= from+touching || b >= to-touching) {
				continue
			}
			if a < b {
				low, high := math.Max(a, from), math.Min(b, to)
				if high-low <= 1 {
					continue
				}
				long := g.Length()
				g.Segment = g.Sub(long*(low-a)/(b-a), long*(high-a)/(b-a))
				a, b = low, high
			}
			g.from, g.to = a, b
			if n := len(run); n > 0 && run[n-1].B.Dist(g.A) > joined {
				runs, run = append(runs, run), nil
			}
			run = append(run, g)
		}
	}
	if run != nil {
		runs = append(runs, run)
	}
	return runs
}

// passable tells whether something missed is an inside corner that no bit cuts: a sharp
// one, or an arc that is too narrow for the finest as well.
func (m missed) passable(finest float64) bool {
	return m.corner && !m.drawn && 2*m.radius < finest-board.RadiusSlip
}

// whole tells whether all of the profile is cut but for such corners.
func (c *contour) whole(finest float64) bool {
	return !slices.ContainsFunc(c.missed, func(m missed) bool { return !m.passable(finest) })
}

// standing are the parts of a part of the profile that the bit does not reach, but
// for inside corners: sharp ones, which none reaches, and rounds that are too narrow
// for the finest bit as well.
func (c *contour) standing(from, to, finest float64) (list geom.Intervals) {
	round := c.profile.Path.Perimeter()
	for _, m := range c.missed {
		if m.passable(finest) {
			continue
		}
		for _, shift := range [...]float64{-round, 0, round} {
			a, b := math.Max(m.from+shift, from), math.Min(m.to+shift, to)
			if b-a > board.Tolerance {
				list = append(list, geom.Interval{From: a, To: b})
			}
		}
	}
	slices.SortFunc(list, func(a, b geom.Interval) int { return cmp.Compare(a.From, b.From) })
	return list
}
