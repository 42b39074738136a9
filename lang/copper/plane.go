package copper

import (
	"math"
	"sync"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// borders are those that a map has worked out, by pullback.
type borders struct {
	mu  sync.Mutex
	all map[float64]*Border
}

// Border bounds the copper that keeps a distance from every profile: what a
// plane with that pullback is before it runs to walls and gives way to others.
type Border struct {
	lines []geom.Segment
	index *geom.Index
}

// Empty tells whether nothing of the board is so far from its edges.
func (b *Border) Empty() bool { return len(b.lines) == 0 }

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

// Border is the border at a pullback, nm.
func (m *Map) Border(pullback float64) *Border {
	m.borders.mu.Lock()
	defer m.borders.mu.Unlock()
	if b := m.borders.all[pullback]; b != nil {
		return b
	}
	if m.borders.all == nil {
		m.borders.all = map[float64]*Border{}
	}
	b := m.border(pullback)
	m.borders.all[pullback] = b
	return b
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
