package geom

import "math"

// closest keeps the nearest pair of points found so far.
type closest struct {
	d      float64
	pa, pb Point
}

func (m *closest) try(d float64, pa, pb Point) {
	if d < m.d {
		*m = closest{d, pa, pb}
	}
}

// Distance returns the shortest distance between two segments and a point of
// each where it is attained. Segments that meet have the distance 0 and one
// common point; a distance within rounding (4e-15 of the largest coordinate)
// counts as meeting. Whole numbers of nanometres between lines along the axes
// come out exact. With a segment that is not finite d is +Inf.
func Distance(a, b Segment) (d float64, pa, pb Point) {
	if !a.finite() || !b.finite() {
		return math.Inf(1), a.A, b.A
	}
	m := meet(a.carrier(), b.carrier(), 0)
	for _, p := range m.points() {
		if a.covers(p) && b.covers(p) {
			return 0, p, p
		}
	}
	near := closest{d: math.Inf(1), pa: a.A, pb: b.A}
	for _, p := range [...]Point{a.A, a.B} {
		q, _, d := b.Nearest(p)
		near.try(d, p, q)
	}
	for _, p := range [...]Point{b.A, b.B} {
		q, _, d := a.Nearest(p)
		near.try(d, q, p)
	}
	near.tryNormals(a, b)
	if near.d <= roundoff(a, b) {
		return 0, near.pa, near.pa
	}
	return near.d, near.pa, near.pb
}

// tryNormals tries the pairs of inner points that share a normal: those pass
// through the centre of each arc.
func (m *closest) tryNormals(a, b Segment) {
	switch {
	case a.Arc && b.Arc:
		u := b.C.Sub(a.C).Unit()
		if u == (Point{}) {
			return // about one centre every normal is shared, those at the ends too
		}
		for _, k := range [...]float64{1, -1} {
			if p := a.C.Add(u.Scale(k * a.Radius())); a.covers(p) {
				q, _, d := b.Nearest(p)
				m.try(d, p, q)
			}
			if p := b.C.Add(u.Scale(k * b.Radius())); b.covers(p) {
				q, _, d := a.Nearest(p)
				m.try(d, q, p)
			}
		}
	case a.Arc:
		q, _, _ := b.Nearest(a.C)
		p, _, d := a.Nearest(q)
		m.try(d, p, q)
	case b.Arc:
		p, _, _ := a.Nearest(b.C)
		q, _, d := b.Nearest(p)
		m.try(d, p, q)
	}
}

// LoopDistance returns the shortest distance between the boundaries of two
// loops and a point of each where it is attained; 0 and a common point when
// they meet. d is +Inf when either has no segments.
func LoopDistance(a, b *Loop) (d float64, pa, pb Point) {
	m := closest{d: math.Inf(1)}
	m.tryLoops(a, b)
	return m.d, m.pa, m.pb
}

// tryLoops lowers m to the distance of the two boundaries, leaving out what
// the boxes show to be farther than what is known already.
func (m *closest) tryLoops(a, b *Loop) {
	if !(a.box.DistanceTo(b.box) < m.d) {
		return
	}
	if len(a.segs) > len(b.segs) {
		swapped := closest{d: m.d, pa: m.pb, pb: m.pa}
		swapped.tryLoops(b, a)
		*m = closest{d: swapped.d, pa: swapped.pb, pb: swapped.pa}
		return
	}
	for i, g := range a.segs {
		b.index().near(a.boxes[i], m.d, func(j int) float64 {
			d, p, q := Distance(g, b.segs[j])
			m.try(d, p, q)
			return m.d
		})
	}
}

// ShapeDistance returns the shortest distance between the areas inside two
// loops and a point of each where it is attained; 0 and a common point when
// the areas share one, as when one lies in the other. d is +Inf when either
// has no segments.
func ShapeDistance(a, b *Loop) (d float64, pa, pb Point) {
	return Region{Outer: a}.DistanceTo(Region{Outer: b})
}
