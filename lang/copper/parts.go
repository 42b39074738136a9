package copper

import (
	"math"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// What of a piece lies on others, beside them, or far from a point.

// Besides is how near two pieces come, A an area and B a line, where what of A
// lies on other pieces is left out: of those that A meets and that on wants. What
// is left out altogether is nowhere near. Beside a half hole that A joins on an
// inner layer the edge does not count.
func (m *Map) Besides(n Near, on func(a, other *Piece) bool) Near {
	others := m.touching(n.A, func(q *Piece) bool { return on(n.A, q) })
	if len(others) == 0 {
		return n
	}
	n.D = math.Inf(1)
	edges := n.B.Shape()
	if outer, _ := m.Outer(n.A.Layers); !outer {
		for _, q := range others {
			if q.Kind == Barrel { // without a land there: what joins it comes as near to the edge as it is large
				edges = outside(edges, q.box.Center(), (q.box.Max.X-q.box.Min.X)/2+m.asked.Past[1])
			}
		}
	}
	for _, l := range besides(n.A, others) {
		for _, edge := range edges {
			if d, pa, pb := geom.LoopDistance(l, edge); d < n.D {
				n.D, n.PA, n.PB = d, pa, pb
			}
		}
	}
	return n
}

// besides are the lines that bound what of an area lies on no other: of its own
// boundary what is outside them, of theirs what is within it.
func besides(p *Piece, others []*Piece) []*geom.Loop {
	own, pads := p.Shape(), []*geom.Loop(nil)
	for _, q := range others {
		pads = append(pads, q.Shape()...)
	}
	const within, border, outside = 1, 0, -1
	bounds := parted(own, pads, func(lies int) bool { return lies == outside })
	for _, l := range parted(pads, own, func(lies int) bool { return lies == within }) {
		for _, x := range parted([]*geom.Loop{l}, pads, func(lies int) bool { return lies == border }) {
			if !seam(x, pads) {
				bounds = append(bounds, x)
			}
		}
	}
	return bounds
}

// seam tells of a line between areas whether they cover both its sides.
func seam(line *geom.Loop, areas []*geom.Loop) bool {
	half := line.Perimeter() / 2
	aside := line.Tangent(half).Left().Scale(hair / 10)
	return lies(line.At(half).Add(aside), areas) > 0 && lies(line.At(half).Sub(aside), areas) > 0
}

// parted are the parts of boundaries that lie within areas, on their boundaries or
// outside all of them, as is wanted.
func parted(of, areas []*geom.Loop, want func(lies int) bool) []*geom.Loop {
	var list []*geom.Loop
	for _, l := range of {
		for _, g := range l.Segments() {
			parts := []geom.Segment{g}
			for _, a := range areas {
				for _, side := range a.Segments() {
					parts = cutAll(parts, side)
				}
			}
			for _, x := range parts {
				if want(lies(x.At(x.Length()/2), areas)) {
					list = append(list, geom.NewLoop([]geom.Segment{x}))
				}
			}
		}
	}
	return list
}

// lies tells where a point lies: 1 well within any of areas, -1 well outside all
// of them, 0 on a boundary.
func lies(at geom.Point, areas []*geom.Loop) int {
	where := -1
	for _, a := range areas {
		_, _, d := a.Nearest(at)
		switch {
		case d <= board.Tolerance:
			where = max(where, 0)
		case a.Contains(at):
			return 1
		}
	}
	return where
}

// speck, nm², and hair, nm, are what rounding, and copper that just abuts, may
// seem to overlap by.
const (
	speck = 1e6
	hair  = 1e3
)

// Overlap tells whether two pieces share more than their boundaries.
func Overlap(a, b *Piece) bool {
	switch {
	case a.Kind.line():
		return inside(a, b) > hair
	case b.Kind.line():
		return inside(b, a) > hair
	}
	return geom.AreaCovered([][]*geom.Loop{a.Shape(), b.Shape()}, func(c []int) bool { return c[0] > 0 && c[1] > 0 }) > speck
}

// inside is the length of a line within an area.
func inside(line, area *Piece) float64 {
	sum := 0.0
	for _, x := range parted(line.Shape(), area.Shape(), func(lies int) bool { return lies > 0 }) {
		sum += x.Perimeter()
	}
	return sum
}

// cutAll parts each of some segments where it meets another.
func cutAll(parts []geom.Segment, at geom.Segment) (next []geom.Segment) {
	for _, x := range parts {
		next = append(next, cut(x, at)...)
	}
	return next
}

// cut parts a segment where it meets another.
func cut(g, at geom.Segment) []geom.Segment {
	ends := []float64{0, g.Length()}
	for _, p := range geom.Intersections(g, at, board.Tolerance) {
		if _, s, _ := g.Nearest(p); s > board.Tolerance && s < g.Length()-board.Tolerance {
			if s < ends[len(ends)-2] || len(ends) > 2 && s < ends[1] {
				ends = append([]float64{0, s}, ends[1:]...)
			} else {
				ends = append(ends[:len(ends)-1], s, g.Length())
			}
		}
	}
	if len(ends) == 2 {
		return []geom.Segment{g}
	}
	var parts []geom.Segment
	for i := range len(ends) - 1 {
		parts = append(parts, g.Sub(ends[i], ends[i+1]))
	}
	return parts
}

// outside is what of lines is farther from a point than a distance.
func outside(lines []*geom.Loop, centre geom.Point, far float64) []*geom.Loop {
	disc := geom.Circle(centre, 2*far).Segments()[0]
	var left []*geom.Loop
	for _, l := range lines {
		for _, g := range l.Segments() {
			for _, part := range cut(g, disc) {
				if part.At(part.Length()/2).Dist(centre) >= far {
					left = append(left, geom.NewLoop([]geom.Segment{part}))
				}
			}
		}
	}
	return left
}
