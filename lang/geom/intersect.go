package geom

import (
	"math"
	"slices"
)

// Intersections returns the points in which two segments cross or touch, ends
// included; a gap up to tol counts as touching. Segments that run along each
// other give the end points of the stretch they share. Points nearer together
// than 2 tol are given once. The result is nil when they do not meet.
func Intersections(a, b Segment, tol float64) []Point {
	if !a.finite() || !b.finite() {
		return nil
	}
	tol = max(size(tol), roundoff(a, b))
	var found []Point
	add := func(p Point, apart float64) {
		for _, q := range found {
			if p.Dist(q) <= apart {
				return
			}
		}
		found = append(found, p)
	}
	for _, p := range [...]Point{a.A, a.B} {
		if _, _, d := b.Nearest(p); d <= tol {
			add(p, tol)
		}
	}
	for _, p := range [...]Point{b.A, b.B} {
		if _, _, d := a.Nearest(p); d <= tol {
			add(p, tol)
		}
	}
	m := meet(a.carrier(), b.carrier(), tol)
	for _, p := range m.points() {
		_, _, da := a.Nearest(p)
		_, _, db := b.Nearest(p)
		if da <= tol && db <= tol {
			add(p, 2*tol)
		}
	}
	return found
}

// Crossing is a place where segments I < J of a loop meet.
type Crossing struct {
	I, J int
	At   Point
}

// Crossings returns where the loop crosses or touches itself, ordered by I,
// then J: each meeting of two segments that are not neighbours, and of
// neighbours elsewhere than at their joint, as where the path folds back on
// itself. A gap up to tol counts as touching. Segments with no more than tol
// of path between them count as neighbours. The time grows as n log n with the
// number of segments, and with the number of crossings.
func (l *Loop) Crossings(tol float64) []Crossing {
	tol = size(tol)
	var found []Crossing
	var partners []int
	for i := range l.segs {
		partners = partners[:0]
		l.overlapping(l.boxes[i].Grow(tol), func(j int) bool {
			if j > i {
				partners = append(partners, j)
			}
			return true
		})
		slices.Sort(partners)
		for _, j := range partners {
			for _, p := range l.meetings(i, j, tol) {
				found = append(found, Crossing{i, j, p})
			}
		}
	}
	return found
}

// meetings are the points where segments i < j meet, without their joints.
func (l *Loop) meetings(i, j int, tol float64) []Point {
	a, b := l.segs[i], l.segs[j]
	points := Intersections(a, b, tol)
	if len(points) == 0 {
		return nil
	}
	var joints []Point
	if l.starts[j]-l.starts[i+1] <= tol {
		joints = append(joints, a.B, b.A)
	}
	if l.starts[i]+l.perimeter-l.starts[j+1] <= tol {
		joints = append(joints, a.A, b.B)
	}
	reach := jointReach(a, b, tol)
	kept := points[:0]
	for _, p := range points {
		// Two lines from one joint meet elsewhere only by running along each
		// other, as far as an end of the shorter.
		alone := len(joints) > 0 && !a.Arc && !b.Arc && !isEnd(p, a) && !isEnd(p, b)
		if !alone && !anyWithin(joints, p, reach) {
			kept = append(kept, p)
		}
	}
	if len(kept) == 0 && len(joints) == 4 {
		// Two segments that make up the whole loop may be one path there and
		// back, which meets itself everywhere and not at the joints alone.
		middle := a.At(a.Length() / 2)
		if _, _, d := b.Nearest(middle); d <= tol {
			kept = append(kept, middle)
		}
	}
	return kept
}

// jointReach is how far from the joint of two segments it may be found as the
// meeting of their carriers. At an angle t of the two that is off by rounding
// over t, and below √(2 tol/r) an arc touches rather than crosses.
func jointReach(a, b Segment, tol float64) float64 {
	noise := roundoff(a, b)
	tol = max(tol, noise)
	if r := max(a.Radius(), b.Radius()); r > tol {
		noise *= math.Sqrt(r / tol)
	}
	return 2*tol + noise
}

func isEnd(p Point, g Segment) bool { return p == g.A || p == g.B }

func anyWithin(points []Point, p Point, reach float64) bool {
	for _, q := range points {
		if p.Dist(q) <= reach {
			return true
		}
	}
	return false
}

// Cross says whether the boundaries of two loops meet within tol, and where
// they first do along the loop with fewer segments.
func Cross(a, b *Loop, tol float64) (at Point, ok bool) {
	if len(a.segs) > len(b.segs) {
		a, b = b, a
	}
	for i, g := range a.segs {
		b.overlapping(a.boxes[i].Grow(size(tol)), func(j int) bool {
			if points := Intersections(g, b.segs[j], tol); len(points) > 0 {
				at, ok = points[0], true
			}
			return !ok
		})
		if ok {
			return at, true
		}
	}
	return Point{}, false
}
