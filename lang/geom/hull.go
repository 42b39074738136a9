package geom

import (
	"cmp"
	"slices"
)

// Hull returns the corners of the convex hull, counterclockwise from the
// leftmost (of those the lowest) without points along its sides. Points on one
// line give the two ends, equal points one; points that are not finite are
// left out.
func Hull(points []Point) []Point {
	var sorted []Point
	for _, p := range points {
		if p.finite() {
			sorted = append(sorted, p)
		}
	}
	slices.SortFunc(sorted, func(p, q Point) int {
		return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y))
	})
	sorted = slices.Compact(sorted)
	if len(sorted) < 3 {
		return sorted
	}
	lower := halfHull(sorted)
	slices.Reverse(sorted)
	upper := halfHull(sorted)
	return append(lower[:len(lower)-1], upper[:len(upper)-1]...)
}

// halfHull keeps those of the sorted points at which the path turns left.
func halfHull(sorted []Point) []Point {
	var half []Point
	for _, p := range sorted {
		for n := len(half); n >= 2 && half[n-1].Sub(half[n-2]).Cross(p.Sub(half[n-2])) <= 0; n = len(half) {
			half = half[:n-1]
		}
		half = append(half, p)
	}
	return half
}

// StrictlyInside says whether p lies more than tol inside each side of the
// counterclockwise hull. A hull that is a line or a point has no inside.
func StrictlyInside(hull []Point, p Point, tol float64) bool {
	if len(hull) < 3 {
		return false
	}
	for i, a := range hull {
		side := hull[(i+1)%len(hull)].Sub(a).Unit()
		if !(side.Cross(p.Sub(a)) > tol) {
			return false
		}
	}
	return true
}
