package geom

import (
	"math"
	"slices"
	"sort"
	"sync/atomic"
)

// Loop is a closed path of segments, each ending where the next starts and the
// last where the first starts. It does not change once made and is safe for
// use by several goroutines. Distances along it count from the start of its
// first segment.
type Loop struct {
	segs      []Segment
	boxes     []Box     // one a segment
	starts    []float64 // where each segment starts, and at the end the perimeter
	perimeter float64
	box       Box
	area      float64 // counterclockwise positive
	centroid  Point
	tree      atomic.Pointer[Index] // over boxes, made when first asked for
}

// NewLoop returns the loop along the segments, which are copied. That they
// join up is the caller's duty: for a path that does not, lengths and
// distances hold all the same, while area, centroid and inside mean nothing.
func NewLoop(segs []Segment) *Loop { return loopOf(slices.Clone(segs)) }

// loopOf is the loop along segments that nobody else holds.
func loopOf(segs []Segment) *Loop {
	l := &Loop{
		segs:   segs,
		boxes:  make([]Box, len(segs)),
		starts: make([]float64, len(segs)+1),
		box:    EmptyBox(),
	}
	for i, g := range segs {
		l.boxes[i] = g.Box()
		l.box = l.box.Union(l.boxes[i])
		l.starts[i+1] = l.starts[i] + g.Length()
	}
	l.perimeter = l.starts[len(segs)]
	l.area, l.centroid = areaAndCentroid(l.segs, l.box.Center())
	return l
}

// index is the index over the boxes. Of several who make it at once all get the
// same answers, whichever is kept.
func (l *Loop) index() *Index {
	x := l.tree.Load()
	if x == nil {
		x = NewIndex(l.boxes)
		l.tree.Store(x)
	}
	return x
}

// Segments returns the segments in order. The caller must not change them.
func (l *Loop) Segments() []Segment { return l.segs }

// Perimeter returns the length of the boundary.
func (l *Loop) Perimeter() float64 { return l.perimeter }

// SignedArea returns the area enclosed, arcs exact, positive for a loop that
// runs counterclockwise. Parts run round twice count twice.
func (l *Loop) SignedArea() float64 { return l.area }

// Centroid returns the centre of the enclosed area, arcs exact. Without an
// area it is the centre of the box.
func (l *Loop) Centroid() Point { return l.centroid }

// Box returns the smallest box that holds the loop, empty without segments.
func (l *Loop) Box() Box { return l.box }

// Clockwise says whether the loop runs clockwise.
func (l *Loop) Clockwise() bool { return l.area < 0 }

// Reverse returns the loop travelled the other way, from the same start point.
func (l *Loop) Reverse() *Loop {
	segs := make([]Segment, 0, len(l.segs))
	for _, g := range slices.Backward(l.segs) {
		segs = append(segs, g.Reverse())
	}
	return loopOf(segs)
}

// Start returns the distance along the loop at which segment i starts. i may
// be the number of segments: that gives the perimeter.
func (l *Loop) Start(i int) float64 { return l.starts[i] }

// wrap brings s into [0, perimeter).
func (l *Loop) wrap(s float64) float64 {
	s = math.Mod(s, l.perimeter)
	if s < 0 {
		s += l.perimeter
	}
	if !(s >= 0 && s < l.perimeter) { // NaN, and -tiny rounded up
		return 0
	}
	return s
}

// SegmentAt returns the segment that the distance s along the loop, taken
// modulo the perimeter, falls on, and the distance along that segment. At a
// joint it is the segment that starts there. The index is -1 for a loop
// without segments.
func (l *Loop) SegmentAt(s float64) (index int, local float64) {
	s = l.wrap(s)
	i := sort.Search(len(l.segs), func(i int) bool { return l.starts[i] > s }) - 1
	if i < 0 {
		return -1, 0
	}
	return i, s - l.starts[i]
}

// At returns the point at the distance s along the loop, modulo the perimeter.
func (l *Loop) At(s float64) Point {
	i, local := l.SegmentAt(s)
	if i < 0 {
		return Point{}
	}
	return l.segs[i].At(local)
}

// Tangent returns the unit direction of travel at the distance s along the
// loop, modulo the perimeter; at a joint that of the segment starting there.
func (l *Loop) Tangent(s float64) Point {
	i, local := l.SegmentAt(s)
	if i < 0 {
		return Point{}
	}
	return l.segs[i].Tangent(local)
}

// Stretch returns the path forward from s0 to s1, both modulo the perimeter.
// It runs over the start of the loop when s1 does not exceed s0, and once all
// round when they are equal. Parts that are short enough to be rounding alone
// (1e-13 of the perimeter) are left out.
func (l *Loop) Stretch(s0, s1 float64) []Segment {
	i, from := l.SegmentAt(s0)
	if i < 0 || l.perimeter == 0 {
		return nil
	}
	rest := l.wrap(s1) - l.wrap(s0)
	if rest <= 0 {
		rest += l.perimeter
	}
	least := 1e-13 * l.perimeter
	var path []Segment
	for rest > least {
		length := l.starts[i+1] - l.starts[i]
		if from < least {
			from = 0
		}
		to := min(from+rest, length)
		switch {
		case length-from <= least || to-from <= least:
		case to >= length-least: // no end but its own, whatever starts rounded
			path = append(path, l.segs[i].Sub(from, math.Inf(1)))
		default:
			path = append(path, l.segs[i].Sub(from, to))
		}
		rest -= length - from
		if i++; i == len(l.segs) {
			i = 0
		}
		from = 0
	}
	return path
}

// Nearest returns the point q of the boundary that is nearest to p, its
// distance s along the loop and its distance d from p. d is +Inf when there is
// no segment or p is not finite.
func (l *Loop) Nearest(p Point) (q Point, s, d float64) {
	d = math.Inf(1)
	l.index().near(Box{p, p}, d, func(i int) float64 {
		if at, local, far := l.segs[i].Nearest(p); far < d {
			q, s, d = at, l.starts[i]+local, far
		}
		return d
	})
	return q, s, d
}

// overlapping visits the segments whose boxes overlap b until visit returns
// false. Few boxes are looked through faster than an index is made.
func (l *Loop) overlapping(b Box, visit func(i int) bool) {
	const few = 12
	if len(l.boxes) > few {
		l.index().Search(b, visit)
		return
	}
	for i, c := range l.boxes {
		if c.Overlaps(b) && !visit(i) {
			return
		}
	}
}

// Contains says whether p lies inside: whether the loop winds round it. For a
// point of the boundary, within rounding, the answer may be either.
func (l *Loop) Contains(p Point) bool {
	if !l.box.Contains(p) {
		return false
	}
	winding := 0
	ray := Box{p, Point{math.Inf(1), p.Y}}
	l.overlapping(ray, func(i int) bool {
		runs, n := monotone(l.segs[i])
		for _, k := range runs[:n] {
			if k.low.Y <= p.Y && p.Y < k.high.Y && k.rightOf(p) {
				winding += k.way
			}
		}
		return true
	})
	return winding != 0
}

// Flatten returns the corners of a polygon that follows the loop, the first
// not repeated at the end. Its corners lie on the loop and its sides nowhere
// farther from it than maxDeviation, nor, whatever that is, are there fewer
// than four to a full circle. With a maxDeviation that is not positive it is
// a millionth of each radius; an arc becomes at most 2^16 sides.
func (l *Loop) Flatten(maxDeviation float64) []Point {
	var points []Point
	for i, g := range l.segs {
		length := l.starts[i+1] - l.starts[i]
		n := chords(g, maxDeviation)
		for k := range n {
			points = append(points, g.at(length*float64(k)/float64(n), length))
		}
	}
	return points
}

// chords is the number of equal chords that keep within deviation of g: one
// chord over the angle t lies r(1-cos t/2) off the arc.
func chords(g Segment, deviation float64) int {
	sweep := math.Abs(g.Sweep())
	if sweep == 0 {
		return 1
	}
	share := deviation / g.Radius()
	if !(share > 0) {
		share = 1e-6
	}
	widest := min(math.Pi/2, 4*math.Asin(math.Sqrt(min(share, 1)/2)))
	return int(max(1, min(math.Ceil(sweep/widest-1e-9), 1<<16)))
}
