package copper

import (
	"math"
	"sync"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// borders are those that a map has worked out.
type borders struct {
	mu  sync.Mutex
	all map[bounds]*Border
}

// bounds are what makes a border.
type bounds struct {
	pullback float64
	cut      bool
	within   geom.Box
}

// Border bounds the copper that keeps a distance from every profile, in a
// rectangle if it is cut to one: what a plane with that pullback is before it runs
// to walls and gives way to others.
type Border struct {
	lines []geom.Segment
	index *geom.Index
}

// Empty tells whether nothing of the board is so far from its edges, and in the
// rectangle.
func (b *Border) Empty() bool { return len(b.lines) == 0 }

// Length is that of all of the border, nm.
func (b *Border) Length() (sum float64) {
	for _, g := range b.lines {
		sum += g.Length()
	}
	return sum
}

// Distance is how near the border comes to a piece that reaches an edge, and
// where; +Inf where it does not come within reach.
func (b *Border) Distance(p *Piece, reach float64) (least float64, at geom.Point) {
	least = math.Inf(1)
	for part, box := range p.parts() {
		var loops []*geom.Loop
		b.index.Search(box.Grow(reach), func(i int) bool {
			if loops == nil {
				loops = p.loops(part)
			}
			line := geom.NewLoop(b.lines[i : i+1])
			for _, l := range loops {
				if d, pa, _ := distance(l, p.Kind.line(), line, true); d <= reach && d < least {
					least, at = d, pa
				}
			}
			return true
		})
	}
	return least, at
}

// Border is the border at a pullback, nm, in a rectangle; nil is no rectangle.
func (m *Map) Border(pullback float64, within *geom.Box) *Border {
	key := bounds{pullback: pullback}
	if within != nil {
		key.cut, key.within = true, *within
	}
	m.borders.mu.Lock()
	defer m.borders.mu.Unlock()
	if m.borders.all == nil {
		m.borders.all = map[bounds]*Border{}
	}
	whole := m.borders.all[bounds{pullback: pullback}]
	if whole == nil {
		whole = m.border(pullback)
		m.borders.all[bounds{pullback: pullback}] = whole
	}
	if within != nil && m.borders.all[key] == nil {
		m.borders.all[key] = m.cut(whole, pullback, *within)
	}
	return m.borders.all[key]
}

// BorderOf is the border of a plane.
func (m *Map) BorderOf(p *board.Plane) *Border { return m.Border(p.Pullback.Value, p.Within) }

// beside is how far beside a rectangle's side a point is looked at, nm: more than
// keeps lets a distance be short by.
const beside = 2

// cut is the border in a rectangle: its lines there, and the rectangle's sides
// where the board beside them, inside, is as far from every edge. Of a side that
// lies on a line one of the two counts.
func (m *Map) cut(whole *Border, pullback float64, within geom.Box) *Border {
	b := &Border{}
	for _, g := range whole.lines {
		b.lines = append(b.lines, g.ClipIn(within, 1)...)
	}
	for _, side := range geom.RectangleAt(within.Min, within.Max.X-within.Min.X, within.Max.Y-within.Min.Y, 0).Segments() {
		parts := []geom.Segment{side}
		whole.index.Search(side.Box().Grow(board.Tolerance), func(i int) bool {
			parts = cutAll(parts, whole.lines[i])
			return true
		})
		for _, x := range parts {
			in := x.At(x.Length() / 2).Add(x.Tangent(x.Length() / 2).Left().Scale(beside))
			if m.b.OnBoard(in) && m.keeps(in, pullback) {
				b.lines = append(b.lines, x)
			}
		}
	}
	boxes := make([]geom.Box, len(b.lines))
	for i, g := range b.lines {
		boxes[i] = g.Box()
	}
	b.index = geom.NewIndex(boxes)
	return b
}

// PlanesOverlap tells whether two planes of one layer lie over each other, where
// they run to walls aside.
func (m *Map) PlanesOverlap(a, b *board.Plane) bool {
	in := a.Within
	if b.Within != nil {
		box := *b.Within
		if in != nil {
			box = in.Intersect(box)
			if box.Max.X-box.Min.X <= beside || box.Max.Y-box.Min.Y <= beside {
				return false
			}
		}
		in = &box
	}
	return !m.Border(max(a.Pullback.Value, b.Pullback.Value), in).Empty()
}

// Between is how near two planes of one layer that do not lie over each other come,
// what runs to walls of each included, and where; +Inf where they do not come
// within reach. Two runs that overlap are left out: they are held as pieces.
func (m *Map) Between(a, b *board.Plane, reach float64) (least float64, at geom.Point) {
	least = math.Inf(1)
	try := func(d float64, p geom.Point) {
		if d <= reach && d < least {
			least, at = d, p
		}
	}
	one, other := m.BorderOf(a), m.BorderOf(b)
	for _, g := range one.lines {
		other.index.Search(g.Box().Grow(reach), func(i int) bool {
			d, p, _ := geom.Distance(g, other.lines[i])
			try(d, p)
			return true
		})
	}
	runsA, runsB := m.runsOf(a), m.runsOf(b)
	for _, r := range runsA {
		try(m.toPlane(r, b, other, reach))
		for _, q := range runsB {
			if r.box.DistanceTo(q.box) > reach {
				continue
			}
			if d, p := closest(r, q); d > board.Tolerance || !Overlap(r, q) {
				try(d, p)
			}
		}
	}
	for _, r := range runsB {
		try(m.toPlane(r, a, one, reach))
	}
	return least, at
}

// toPlane is how near a run comes to another plane, on whose border it may lie, or
// inside it.
func (m *Map) toPlane(run *Piece, p *board.Plane, border *Border, reach float64) (float64, geom.Point) {
	if d, at := border.Distance(run, reach); d <= reach {
		return d, at
	}
	for _, l := range run.Shape() {
		if at := l.At(0); (p.Within == nil || p.Within.Contains(at)) && m.b.OnBoard(at) && m.keeps(at, p.Pullback.Value) {
			return 0, at
		}
	}
	return math.Inf(1), geom.Point{}
}

// runsOf are the pieces by which a plane runs to walls.
func (m *Map) runsOf(p *board.Plane) []*Piece {
	return m.Pieces(func(x *Piece) bool { return x.Kind == Run && x.Plane() == p })
}

// border cuts the parallels of all profiles where they cross each other, and
// keeps what is no nearer to any edge.
func (m *Map) border(pullback float64) *Border {
	b := &Border{}
	parallels := m.parallels(pullback)
	boxes := make([]geom.Box, len(parallels))
	for i, g := range parallels {
		boxes[i] = g.Box()
	}
	index := geom.NewIndex(boxes)
	var kept []geom.Box
	for i, g := range parallels {
		parts := []geom.Segment{g}
		index.Search(boxes[i].Grow(board.Tolerance), func(j int) bool {
			if j != i {
				parts = cutAll(parts, parallels[j])
			}
			return true
		})
		for _, x := range parts {
			if m.keeps(x.At(x.Length()/2), pullback) {
				b.lines = append(b.lines, x)
				kept = append(kept, x.Box())
			}
		}
	}
	b.index = geom.NewIndex(kept)
	return b
}

// keeps tells whether a point lies on the board and so far from every edge.
func (m *Map) keeps(at geom.Point, pullback float64) bool {
	if m.outline == nil || pullback > 0 && !m.b.OnBoard(at) {
		return false
	}
	far := true
	m.b.ProfilesNear(geom.BoxOf(at), pullback, func(p *board.Profile) {
		if _, _, d := p.Path.Nearest(at); d < pullback-1 {
			far = false
		}
	})
	return far
}

// parallels are the lines at a distance from each piece of a profile on the
// board's side, and the arcs about the corners where these gape.
func (m *Map) parallels(d float64) []geom.Segment {
	var list []geom.Segment
	for _, p := range m.b.Profiles() {
		segs, left := p.Path.Segments(), !p.Cutout
		for i, g := range segs {
			if x, ok := geom.Parallel(g, d, left); ok {
				list = append(list, x)
			}
			if d > 0 {
				for _, joint := range geom.BandJoint(g, segs[(i+1)%len(segs)], d, left) {
					list = append(list, joint.Segments()[1])
				}
			}
		}
	}
	return list
}
