package geom

import "math"

// areaAndCentroid sums the signed area of a closed path and its centre. Every
// segment gives the triangle from the origin o, near the path so that little
// cancels, and an arc the circular segment between itself and its chord: area
// r²(θ-sin θ)/2, first moment about the centre 2/3 r³ sin³(θ/2) toward the
// middle of the arc (standard results for the circular segment).
func areaAndCentroid(segs []Segment, o Point) (float64, Point) {
	var area float64
	var moment Point
	for _, g := range segs {
		if !g.finite() {
			return 0, o
		}
		a, b := g.A.Sub(o), g.B.Sub(o)
		triangle := a.Cross(b) / 2
		area += triangle
		moment = moment.Add(a.Add(b).Scale(triangle / 3))
		if sweep := g.Sweep(); sweep != 0 {
			r := g.Radius()
			segment := r * r * sinDefect(sweep) / 2
			area += segment
			middle := g.A.Sub(g.C).Unit().Rotate(sweep / 2)
			arm := 2.0 / 3 * r * r * r * math.Pow(math.Sin(sweep/2), 3)
			moment = moment.Add(g.C.Sub(o).Scale(segment)).Add(middle.Scale(arm))
		}
	}
	if c := moment.Scale(1 / area); area != 0 && c.finite() {
		return area, o.Add(c)
	}
	return area, o
}

// sinDefect is t - sin t, by its series where the difference would cancel.
func sinDefect(t float64) float64 {
	if math.Abs(t) > 0.1 {
		return t - math.Sin(t)
	}
	q := t * t
	return t * q / 6 * (1 - q/20*(1-q/42*(1-q/72)))
}

// Region is the area inside Outer and outside every hole. The holes lie inside
// Outer and apart from each other; the direction of the loops does not matter.
type Region struct {
	Outer *Loop
	Holes []*Loop
}

// Area returns the area in square nanometres.
func (r Region) Area() float64 {
	if r.Outer == nil {
		return 0
	}
	area := math.Abs(r.Outer.area)
	for _, h := range r.Holes {
		area -= math.Abs(h.area)
	}
	return area
}

// Centroid returns the centre of the area; that of Outer where holes leave
// nothing, and the origin without Outer.
func (r Region) Centroid() Point {
	if r.Outer == nil {
		return Point{}
	}
	o := r.Outer.centroid
	var moment Point
	for _, h := range r.Holes {
		moment = moment.Sub(h.centroid.Sub(o).Scale(math.Abs(h.area)))
	}
	if shift := moment.Scale(1 / r.Area()); shift.finite() {
		return o.Add(shift)
	}
	return o
}

// Contains says whether p lies in the area; on a boundary the answer may be
// either.
func (r Region) Contains(p Point) bool {
	if r.Outer == nil || !r.Outer.Contains(p) {
		return false
	}
	for _, h := range r.Holes {
		if h.Contains(p) {
			return false
		}
	}
	return true
}

// boundaries are all loops of the region.
func (r Region) boundaries() []*Loop {
	if r.Outer == nil {
		return nil
	}
	return append([]*Loop{r.Outer}, r.Holes...)
}

// DistanceTo returns the shortest distance between two regions and a point of
// each where it is attained; 0 and a common point when they share one. d is
// +Inf when either has no boundary.
func (r Region) DistanceTo(other Region) (d float64, pa, pb Point) {
	m := closest{d: math.Inf(1)}
	for _, a := range r.boundaries() {
		for _, b := range other.boundaries() {
			m.tryLoops(a, b)
		}
	}
	if m.d == 0 || math.IsInf(m.d, 1) {
		return m.d, m.pa, m.pb
	}
	// No boundaries meet, so regions that overlap have all of one's outline in
	// the other.
	if p := r.Outer.At(0); other.Contains(p) {
		return 0, p, p
	}
	if p := other.Outer.At(0); r.Contains(p) {
		return 0, p, p
	}
	return m.d, m.pa, m.pb
}
