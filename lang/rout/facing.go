package rout

import (
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Facing is what of a board's own profile lies across from a tab's root, where
// the frame, or what is cut out, should be.
type Facing struct {
	Along  float64 // where on the profile's path, nm
	Across float64 // how far outward from the root, nm
	Needed float64 // how far at least, nm: the tab's slot, a strip of frame and the slot along the other side
	Bit    float64 // with a bit of this diameter, nm
	// Deep is how wide the slot along the other side is made there, nm: the `length` of the
	// tab that is nearest along it, or 0, where it is as wide as the bit.
	Deep  float64
	slant float64 // of the other side: how much of a ray its slot takes, in its widths
}

// apart, nm, is how far from each other the places on a root are at most from
// which it is looked for what lies across.
const apart = 0.5 * mm

// leastCosine is that of a side which counts as lying across from a root.
const leastCosine = 0.5

// Faces tells of the nearest place across from a tab's root where no bit, passing along
// the board's own profile, leaves frame for the tab to reach: none that is as wide as the
// tab itself is at its waist. That width is our own judgement. Of the bits that the
// tab itself allows the one is named that asks for least: the finest, unless the tabs' lengths set how wide the slots
// are, and only its waist hangs on the bit.
func (x *Bits) Faces(t *board.Tab) (f Facing, ok bool) {
	across := x.across[t]
	if f, ok = cutOff(t, across, x.least); !ok {
		return f, false
	}
	for _, d := range candidates {
		if d <= x.least {
			break
		}
		if !allows(t, d) {
			continue
		}
		other, off := cutOff(t, across, d)
		if !off {
			return other, false
		}
		if other.Needed < f.Needed-board.Tolerance {
			f = other
		}
	}
	return f, true
}

// spoils tells whether a bit cuts a tab off that another would not.
func (x *Bits) spoils(t *board.Tab, d float64) bool {
	if _, off := cutOff(t, x.across[t], d); off {
		if _, always := x.Faces(t); !always {
			return true
		}
	}
	return pocketed(t, d) && !pocketed(t, x.slim(t))
}

// allows tells whether a tab's width and length leave room for a bit.
func allows(t *board.Tab, d float64) bool {
	return spares(t, d) && (!t.Length.Given() || d <= t.Length.Value+board.Tolerance)
}

// slim is the bit that asks for the least room between two slots beside a tab, of those
// that it allows; the finest where it allows none.
func (x *Bits) slim(t *board.Tab) float64 {
	best := x.least
	for _, d := range candidates {
		if d > x.least && allows(t, d) && amid(t, d) < amid(t, best)-board.Tolerance {
			best = d
		}
	}
	return best
}

// Pocket is the throat through which alone the frame that a tab reaches hangs together
// with the rest.
type Pocket struct {
	Throat float64 // how wide it is, nm
	Needed float64 // at least, nm: the slots along both sides, and frame as wide as the tab's waist
	Bit    float64 // with a bit of this diameter, nm
}

// Pocket tells of a tab that stands in a pocket of the outline whose throat the rout
// takes: the frame there is cut off, and the tab holds nothing.
func (x *Bits) Pocket(t *board.Tab) (k Pocket, ok bool) {
	d := x.slim(t)
	if !pocketed(t, d) {
		return k, false
	}
	open, shut := 0.0, amid(t, d)
	for shut-open > board.Tolerance {
		if half := (open + shut) / 2; inPocket(t, half) {
			shut = half
		} else {
			open = half
		}
	}
	return Pocket{Throat: 2 * shut, Needed: 2 * amid(t, d), Bit: d}, true
}

// amid is how far from the profile, nm, the middle is of a strip of frame beside the slot,
// as wide as a tab's waist.
func amid(t *board.Tab, d float64) float64 {
	return math.Max(t.Length.Value, d) + math.Max(0, waist(t, d))/2
}

func pocketed(t *board.Tab, d float64) bool {
	p := t.Edge.Profile
	return !p.Cutout && drawn(p) && inPocket(t, amid(t, d))
}

// inPocket tells whether what runs at a distance from the profile, nm, beside a tab closes
// round without the rest of it: the outside of the board lies on another loop.
func inPocket(t *board.Tab, off float64) bool {
	c := contourOf(t.Edge.Profile, off)
	if !slices.ContainsFunc(c.missed, func(m missed) bool { return m.parted }) {
		return false
	}
	at := t.Edge.Along(t.Position)
	beside, lowest := -1, 0
	for i, g := range c.pieces {
		if g.from <= at && at <= g.to {
			beside = i
		}
		if g.Box().Min.Y < c.pieces[lowest].Box().Min.Y {
			lowest = i
		}
	}
	if beside < 0 {
		return false // it faces the board
	}
	for i, n := beside, 0; n <= len(c.pieces); n++ {
		if i == lowest {
			return false
		}
		if i = c.next(i); i == beside {
			return true
		}
	}
	return false
}

// next is the piece that goes on where one ends.
func (c *contour) next(i int) int {
	best, least := i, math.Inf(1)
	for k := range c.pieces {
		next := (i + 1 + k) % len(c.pieces)
		if d := c.pieces[i].B.Dist(c.pieces[next].A); d < least {
			best, least = next, d
		}
		if least <= joined/1000 {
			break
		}
	}
	return best
}

// cutOff is the nearest of the places across from a tab where a bit of a
// diameter leaves it no frame.
func cutOff(t *board.Tab, across []Facing, d float64) (f Facing, ok bool) {
	for _, a := range across {
		a.Bit = d
		a.Needed = math.Max(t.Length.Value, d) + math.Max(0, waist(t, d)) + math.Max(a.Deep, d)*a.slant
		if a.Across < a.Needed-board.Tolerance && (!ok || a.Across < f.Across) {
			f, ok = a, true
		}
	}
	return f, ok
}

// facing is what of its own profile lies across from a tab's root, near enough
// that a bit of this diameter, or a finer one, may leave no frame between.
func (x *Bits) facing(t *board.Tab, d float64) (list []Facing) {
	deep := d
	for _, other := range x.tabs[t.Edge.Profile] {
		deep = math.Max(deep, other.Length.Value)
	}
	reach := math.Max(t.Length.Value, d) + t.Width.Value + deep/leastCosine
	segs := others(t, reach)
	if len(segs) == 0 {
		return nil
	}
	n := math.Ceil(t.Width.Value / apart)
	for i := range int(n) + 1 {
		at := t.From() + t.Width.Value*float64(i)/n
		for _, f := range struck(t, at, reach, segs) {
			f.Deep = x.deep(t.Edge.Profile, f.Along)
			list = append(list, f)
		}
	}
	return list
}

// deep is how wide frames make the slot at a place of a profile, nm: as the length of the
// tab nearest along it; midway between two, by an apart or so, as the longer's. On a tab's
// own root there is none.
func (x *Bits) deep(p *board.Profile, at float64) float64 {
	round, nearest := p.Path.Perimeter(), math.Inf(1)
	off := func(t *board.Tab) float64 {
		from, to := t.Range()
		least := math.Inf(1)
		for _, shift := range [...]float64{-round, 0, round} {
			least = math.Min(least, math.Max(from+shift-at, at-to-shift))
		}
		return least
	}
	for _, t := range x.tabs[p] {
		nearest = math.Min(nearest, off(t))
	}
	deep := 0.0
	for _, t := range x.tabs[p] {
		if o := off(t); nearest > 0 && o <= nearest+2*apart {
			deep = math.Max(deep, t.Length.Value)
		}
	}
	return deep
}

// struck is where a ray outward from a position of a tab's root strikes some of
// its profile's segments.
func struck(t *board.Tab, at, reach float64, segs []side) (list []Facing) {
	from, out := t.Edge.Point(at), t.Edge.Inward(at).Scale(-1)
	ray := geom.Line(from, from.Add(out.Scale(reach)))
	for _, g := range segs {
		for _, hit := range geom.Intersections(ray, g.Segment, board.Tolerance) {
			_, s, _ := g.Nearest(hit)
			cosine := math.Abs(g.Tangent(s).Cross(out))
			if far := hit.Dist(from); far > 10*board.Tolerance && cosine >= leastCosine {
				list = append(list, Facing{Along: g.start + s, Across: far, slant: 1 / cosine})
			}
		}
	}
	return list
}

// side is a segment of a profile and where on the path it starts.
type side struct {
	geom.Segment
	start float64
}

// others are the segments of its profile that come within reach of a tab's
// root, less the straight one that it stands on.
func others(t *board.Tab, reach float64) (list []side) {
	path := t.Edge.Profile.Path
	from, to := t.Range()
	box := geom.BoxOf(t.Edge.Point(t.From()), t.Edge.Point(t.Position), t.Edge.Point(t.To()))
	seen := map[int]bool{}
	t.Edge.Profile.Near(box, reach, func(a, b float64) {
		i, _ := path.SegmentAt((a + b) / 2)
		if i < 0 || seen[i] {
			return
		}
		g, start := path.Segments()[i], path.Start(i)
		if !g.Arc && from >= start-board.Tolerance && to <= start+g.Length()+board.Tolerance {
			return
		}
		seen[i] = true
		list = append(list, side{g, start})
	})
	return list
}
