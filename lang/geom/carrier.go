package geom

import "math"

// carrier is the endless line or whole circle that a segment lies on.
type carrier struct {
	p, dir Point // a point of the line and its direction, not of unit length
	c      Point // centre and radius of the circle
	r      float64
	circle bool
}

func (g Segment) carrier() carrier {
	if g.Arc {
		return carrier{c: g.C, r: g.Radius(), circle: true}
	}
	return carrier{p: g.A, dir: g.B.Sub(g.A)}
}

// meets holds up to two points in which carriers meet.
type meets struct {
	at [2]Point
	n  int
}

func (m *meets) add(p Point) {
	if p.finite() {
		m.at[m.n] = p
		m.n++
	}
}

func (m *meets) points() []Point { return m.at[:m.n] }

// meet returns the points in which two carriers meet. Where they touch within
// tol the one point of tangency is given, and not the two crossings that
// rounding would set far to either side of it. Carriers that coincide have no
// single meeting and give none.
func meet(a, b carrier, tol float64) meets {
	switch {
	case a.circle && b.circle:
		return meetCircles(a, b, tol)
	case a.circle:
		return meetLineCircle(b, a, tol)
	case b.circle:
		return meetLineCircle(a, b, tol)
	}
	return meetLines(a, b)
}

func meetLines(a, b carrier) (m meets) {
	den := a.dir.Cross(b.dir)
	if den == 0 {
		return m
	}
	p := a.p.Add(a.dir.Scale(b.p.Sub(a.p).Cross(b.dir) / den))
	for _, k := range [...]carrier{a, b} { // stay exactly on lines along an axis
		if k.dir.Y == 0 {
			p.Y = k.p.Y
		} else if k.dir.X == 0 {
			p.X = k.p.X
		}
	}
	m.add(p)
	return m
}

func meetLineCircle(l, c carrier, tol float64) (m meets) {
	u := l.dir.Unit()
	if u == (Point{}) {
		return m
	}
	rel := c.c.Sub(l.p)
	h := math.Abs(u.Cross(rel))
	foot := l.p.Add(u.Scale(u.Dot(rel)))
	if math.Abs(h-c.r) <= tol {
		m.add(foot)
	} else if h < c.r {
		half := u.Scale(math.Sqrt((c.r - h) * (c.r + h)))
		m.add(foot.Sub(half))
		m.add(foot.Add(half))
	}
	return m
}

func meetCircles(a, b carrier, tol float64) (m meets) {
	if a.r > b.r { // the smaller circle is known to less absolute rounding
		a, b = b, a
	}
	d := a.c.Dist(b.c)
	u := b.c.Sub(a.c).Unit()
	apart, within := d-(a.r+b.r), b.r-a.r-d
	switch {
	case u == (Point{}), d <= tol && within >= -tol && within <= tol:
	case math.Abs(apart) <= tol:
		m.add(a.c.Add(u.Scale(a.r + apart/2)))
	case math.Abs(within) <= tol:
		m.add(a.c.Sub(u.Scale(a.r + within/2)))
	case apart < 0 && within < 0:
		x := ((d-b.r)*(d+b.r) + a.r*a.r) / (2 * d)
		y := u.Left().Scale(math.Sqrt(max(0, (a.r-x)*(a.r+x))))
		foot := a.c.Add(u.Scale(x))
		m.add(foot.Sub(y))
		m.add(foot.Add(y))
	}
	return m
}

// roundoff is what coordinates of the size found in the segments may be off
// by after a few operations.
func roundoff(segs ...Segment) float64 {
	size := 0.0
	for _, g := range segs {
		size = max(size, math.Abs(g.A.X), math.Abs(g.A.Y), math.Abs(g.B.X), math.Abs(g.B.Y))
		if g.Arc {
			size = max(size, math.Abs(g.C.X), math.Abs(g.C.Y))
		}
	}
	return 4e-15 * size
}
