package rout

import (
	"math"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Facing is what of a board's own profile lies across from a tab's root, where
// the frame, or what is cut out, should be.
type Facing struct {
	Along  float64 // where on the profile's path, nm
	Across float64 // how far outward from the root, nm
	Needed float64 // how far at least, nm: the tab's slot, a strip of frame and the slot along the other side
	slant  float64 // of the other side: how much of a ray its slot takes, in diameters
}

// apart, nm, is how far from each other the places on a root are at most from
// which it is looked for what lies across.
const apart = 0.5 * mm

// leastCosine is that of a side which counts as lying across from a root.
const leastCosine = 0.5

// Faces tells of the nearest place across from a tab's root where even the
// finest bit, passing along the board's own profile, leaves no frame for the tab
// to reach: none that is as wide as the tab itself is at its waist. That width is
// our own judgement.
func (x *Bits) Faces(t *board.Tab) (f Facing, ok bool) {
	return cutOff(t, x.across[t], x.least)
}

// spoils tells whether a bit cuts a tab off that a finer one would not.
func (x *Bits) spoils(t *board.Tab, d float64) bool {
	_, off := cutOff(t, x.across[t], d)
	_, always := x.Faces(t)
	return off && !always
}

// cutOff is the nearest of the places across from a tab where a bit of a
// diameter leaves it no frame.
func cutOff(t *board.Tab, across []Facing, d float64) (f Facing, ok bool) {
	for _, a := range across {
		a.Needed = math.Max(t.Length.Value, d) + math.Max(0, waist(t, d)) + d*a.slant
		if a.Across < a.Needed-board.Tolerance && (!ok || a.Across < f.Across) {
			f, ok = a, true
		}
	}
	return f, ok
}

// across is what of its own profile lies across from a tab's root, near enough
// that a bit of this diameter, or a finer one, may leave no frame between.
func across(t *board.Tab, d float64) (list []Facing) {
	reach := math.Max(t.Length.Value, d) + t.Width.Value + d/leastCosine
	segs := others(t, reach)
	if len(segs) == 0 {
		return nil
	}
	n := math.Ceil(t.Width.Value / apart)
	for i := range int(n) + 1 {
		at := t.From() + t.Width.Value*float64(i)/n
		list = append(list, struck(t, at, reach, segs)...)
	}
	return list
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
