package geom

import "math"

// Box is an axis-parallel rectangle with its boundary. It is empty when Min
// exceeds Max; the zero Box holds the origin alone.
type Box struct{ Min, Max Point }

// EmptyBox returns the box that holds nothing, the start for Union.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Point{inf, inf}, Point{-inf, -inf}}
}

// BoxOf returns the smallest box that holds the points. NaN coordinates are
// passed over.
func BoxOf(points ...Point) Box {
	b := EmptyBox()
	for _, p := range points {
		b = b.Union(Box{p, p})
	}
	return b
}

// Empty says whether the box holds no point.
func (b Box) Empty() bool { return !(b.Min.X <= b.Max.X && b.Min.Y <= b.Max.Y) }

// Union returns the smallest box that holds both. NaN coordinates are passed
// over: the comparisons, unlike math.Min, do not spread them.
func (b Box) Union(c Box) Box {
	if c.Min.X < b.Min.X {
		b.Min.X = c.Min.X
	}
	if c.Min.Y < b.Min.Y {
		b.Min.Y = c.Min.Y
	}
	if c.Max.X > b.Max.X {
		b.Max.X = c.Max.X
	}
	if c.Max.Y > b.Max.Y {
		b.Max.Y = c.Max.Y
	}
	return b
}

// Intersect is what two boxes share; it is empty where they share nothing.
func (b Box) Intersect(c Box) Box {
	return Box{Point{max(b.Min.X, c.Min.X), max(b.Min.Y, c.Min.Y)}, Point{min(b.Max.X, c.Max.X), min(b.Max.Y, c.Max.Y)}}
}

// Grow returns the box with each side moved outward by d (inward when d is
// negative; it may then become empty). An empty box stays empty.
func (b Box) Grow(d float64) Box {
	if b.Empty() {
		return EmptyBox()
	}
	return Box{Point{b.Min.X - d, b.Min.Y - d}, Point{b.Max.X + d, b.Max.Y + d}}
}

// Overlaps says whether the boxes share a point; touching counts.
func (b Box) Overlaps(c Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X && b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y
}

// Contains says whether p lies in the box or on its boundary.
func (b Box) Contains(p Point) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X && b.Min.Y <= p.Y && p.Y <= b.Max.Y
}

// Center returns the middle of the box; the origin for an empty one.
func (b Box) Center() Point {
	if b.Empty() {
		return Point{}
	}
	return Point{b.Min.X + (b.Max.X-b.Min.X)/2, b.Min.Y + (b.Max.Y-b.Min.Y)/2}
}

// DistanceTo returns the shortest distance between the boxes, 0 when they
// overlap and +Inf when one is empty.
func (b Box) DistanceTo(c Box) float64 {
	if b.Empty() || c.Empty() {
		return math.Inf(1)
	}
	dx := max(0, c.Min.X-b.Max.X, b.Min.X-c.Max.X)
	dy := max(0, c.Min.Y-b.Max.Y, b.Min.Y-c.Max.Y)
	return Point{dx, dy}.Norm()
}
