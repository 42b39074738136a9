package geom

import "math"

// Segment is a straight line, or with Arc set a circular arc, from A to B. C
// is the centre of the arc and Clockwise its direction of travel. An arc whose
// ends are equal is the full circle. The two ends of an arc should lie equally
// far from C; when they do not the radius is the mean of both distances.
type Segment struct {
	A, B, C        Point
	Arc, Clockwise bool
}

// Line returns the straight segment from a to b.
func Line(a, b Point) Segment { return Segment{A: a, B: b} }

// ArcAround returns the arc from a to b about the centre c, the full circle
// when a equals b.
func ArcAround(a, b, c Point, clockwise bool) Segment {
	return Segment{A: a, B: b, C: c, Arc: true, Clockwise: clockwise}
}

// Radius returns the radius of an arc and 0 for a line.
func (g Segment) Radius() float64 {
	if !g.Arc {
		return 0
	}
	a, b := g.A.Dist(g.C), g.B.Dist(g.C)
	return a + (b-a)/2
}

// Sweep returns the signed angle an arc runs through, positive counterclockwise,
// within [-2π, 2π]. It is 0 for a line and for an arc without radius.
func (g Segment) Sweep() float64 {
	if !g.Arc {
		return 0
	}
	a, b := g.A.Sub(g.C), g.B.Sub(g.C)
	if a == (Point{}) || b == (Point{}) || !a.finite() || !b.finite() {
		return 0
	}
	t := 2 * math.Pi
	if g.A != g.B {
		t = turn(a, b, g.Clockwise)
	}
	if g.Clockwise {
		return -t
	}
	return t
}

// turn is the angle in [0, 2π) from a to b in the given direction of travel.
func turn(a, b Point, clockwise bool) float64 {
	t := math.Atan2(a.Cross(b), a.Dot(b))
	if clockwise {
		t = -t
	}
	if t < 0 {
		t += 2 * math.Pi
	}
	return t
}

// finite says whether every coordinate that counts is an ordinary number.
func (g Segment) finite() bool {
	return g.A.finite() && g.B.finite() && (!g.Arc || g.C.finite())
}

// Length returns the length along the segment; 0 when it is not finite.
func (g Segment) Length() float64 {
	if !g.finite() {
		return 0
	}
	if g.Arc {
		return g.Radius() * math.Abs(g.Sweep())
	}
	return g.A.Dist(g.B)
}

// At returns the point at the distance s along the segment. s is clamped to
// the length; the ends are exact.
func (g Segment) At(s float64) Point { return g.at(s, g.Length()) }

func (g Segment) at(s, length float64) Point {
	switch {
	case !(s > 0) || length == 0:
		return g.A
	case s >= length:
		return g.B
	case g.Arc:
		r := g.Radius()
		angle := s / r
		if g.Clockwise {
			angle = -angle
		}
		return g.C.Add(g.A.Sub(g.C).Unit().Rotate(angle).Scale(r))
	}
	d := g.B.Sub(g.A)
	return Point{g.A.X + portion(d.X, s, length), g.A.Y + portion(d.Y, s, length)}
}

// portion is d*s/length, exact when the line runs along the axis of d.
func portion(d, s, length float64) float64 {
	if math.Abs(d) == length {
		return math.Copysign(s, d)
	}
	return d * (s / length)
}

// Tangent returns the unit direction of travel at the distance s along the
// segment, clamped to the length. It is the zero vector without a length.
func (g Segment) Tangent(s float64) Point {
	length := g.Length()
	if length == 0 {
		return Point{}
	}
	if !g.Arc {
		return g.B.Sub(g.A).Unit()
	}
	out := g.at(s, length).Sub(g.C).Unit()
	if g.Clockwise {
		return out.Left().Scale(-1)
	}
	return out.Left()
}

// Sub returns the part from the distance s0 to s1 along the segment, both
// clamped to the length. Arcs stay arcs about the same centre. With s1 <= s0
// the result is a line without length at s0.
func (g Segment) Sub(s0, s1 float64) Segment {
	length := g.Length()
	if s0 = max(s0, 0); !(s0 < s1) || s0 >= length {
		p := g.at(s0, length)
		return Line(p, p)
	}
	if s1 = min(s1, length); s0 == 0 && s1 == length {
		return g
	}
	part := g
	part.A, part.B = g.at(s0, length), g.at(s1, length)
	if !g.Arc {
		return part
	}
	// Rounding may put the two ends of a very short part in each other's
	// place, and an arc with equal ends would be the whole circle.
	expected := (s1 - s0) / g.Radius()
	switch got := math.Abs(part.Sweep()); {
	case got-expected > math.Pi:
		return Line(part.A, part.B)
	case expected-got > math.Pi:
		part.B = part.A
	}
	return part
}

// Reverse returns the segment travelled the other way.
func (g Segment) Reverse() Segment {
	g.A, g.B = g.B, g.A
	if g.Arc {
		g.Clockwise = !g.Clockwise
	}
	return g
}

// Box returns the smallest box that holds the segment, an arc's extremes
// included. It is empty for a segment that is not finite.
func (g Segment) Box() Box {
	if !g.finite() {
		return EmptyBox()
	}
	b := BoxOf(g.A, g.B)
	if !g.Arc {
		return b
	}
	r := g.Radius()
	for _, d := range [...]Point{{r, 0}, {0, r}, {-r, 0}, {0, -r}} {
		if p := g.C.Add(d); g.sweeps(d) {
			b = b.Union(Box{p, p})
		}
	}
	return b
}

// sweeps says whether the arc passes through the direction d seen from its
// centre.
func (g Segment) sweeps(d Point) bool {
	return turn(g.A.Sub(g.C), d, g.Clockwise) <= math.Abs(g.Sweep())
}

// covers says whether p, a point of the segment's whole line or circle, lies
// between its ends.
func (g Segment) covers(p Point) bool {
	if g.Arc {
		return g.sweeps(p.Sub(g.C))
	}
	d := g.B.Sub(g.A)
	return d.Dot(p.Sub(g.A)) >= 0 && d.Dot(p.Sub(g.B)) <= 0
}

// Nearest returns the point q of the segment that is nearest to p, its
// distance s along the segment and its distance d from p. Of equally near
// points one is returned: the first end when p is the centre of an arc. d is
// +Inf when the segment or p is not finite.
func (g Segment) Nearest(p Point) (q Point, s float64, d float64) {
	if !g.finite() || !p.finite() {
		return g.A, 0, math.Inf(1)
	}
	if g.Arc {
		return g.nearestOnArc(p)
	}
	return g.nearestOnLine(p)
}

func (g Segment) nearestOnLine(p Point) (q Point, s, d float64) {
	dir, rel := g.B.Sub(g.A), p.Sub(g.A)
	length := dir.Norm()
	switch {
	case !(dir.Dot(rel) > 0):
		return g.A, 0, p.Dist(g.A)
	case dir.Dot(p.Sub(g.B)) >= 0:
		return g.B, length, p.Dist(g.B)
	case dir.Y == 0: // along an axis whole numbers stay exact
		return Point{p.X, g.A.Y}, math.Abs(rel.X), math.Abs(rel.Y)
	case dir.X == 0:
		return Point{g.A.X, p.Y}, math.Abs(rel.Y), math.Abs(rel.X)
	}
	u := dir.Scale(1 / length)
	s = u.Dot(rel)
	return g.at(s, length), s, math.Abs(u.Cross(rel))
}

func (g Segment) nearestOnArc(p Point) (q Point, s, d float64) {
	r, sweep := g.Radius(), math.Abs(g.Sweep())
	length := r * sweep
	out := p.Sub(g.C)
	n := out.Norm()
	if n == 0 || length == 0 {
		return g.A, 0, p.Dist(g.A)
	}
	if t := turn(g.A.Sub(g.C), out, g.Clockwise); t <= sweep {
		return g.C.Add(out.Scale(r / n)), min(t*r, length), math.Abs(n - r)
	}
	if a, b := p.Dist(g.A), p.Dist(g.B); a <= b {
		return g.A, 0, a
	} else {
		return g.B, length, b
	}
}
