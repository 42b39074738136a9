package geom

import "math"

// RectangleAt returns the rectangle with its lower left corner at min, w wide
// and h high, its corners rounded with the radius corner. It runs
// counterclockwise from the west end of its south side: south side, south-east
// arc, east side, north-east arc, north side, north-west arc, west side,
// south-west arc. Without a radius there are no arcs, and sides that the arcs
// use up are left out. corner is held to at most half the shorter side; sizes
// that are negative or NaN count as 0.
func RectangleAt(min Point, w, h, corner float64) *Loop {
	w, h = size(w), size(h)
	r := math.Min(size(corner), math.Min(w, h)/2)
	x0, y0, x1, y1 := min.X, min.Y, min.X+w, min.Y+h
	segs := make([]Segment, 0, 4)
	if r > 0 {
		segs = make([]Segment, 0, 8)
	}
	side := func(a, b Point) {
		if a != b || r == 0 {
			segs = append(segs, Line(a, b))
		}
	}
	arc := func(a, b, c Point) {
		if r > 0 {
			segs = append(segs, ArcAround(a, b, c, false))
		}
	}
	side(Point{x0 + r, y0}, Point{x1 - r, y0})
	arc(Point{x1 - r, y0}, Point{x1, y0 + r}, Point{x1 - r, y0 + r})
	side(Point{x1, y0 + r}, Point{x1, y1 - r})
	arc(Point{x1, y1 - r}, Point{x1 - r, y1}, Point{x1 - r, y1 - r})
	side(Point{x1 - r, y1}, Point{x0 + r, y1})
	arc(Point{x0 + r, y1}, Point{x0, y1 - r}, Point{x0 + r, y1 - r})
	side(Point{x0, y1 - r}, Point{x0, y0 + r})
	arc(Point{x0, y0 + r}, Point{x0 + r, y0}, Point{x0 + r, y0 + r})
	return loopOf(segs)
}

// Circle returns the circle about c with the diameter d, one arc
// counterclockwise from its east point. A diameter that is negative or NaN
// counts as 0.
func Circle(c Point, d float64) *Loop {
	east := Point{c.X + size(d)/2, c.Y}
	return loopOf([]Segment{ArcAround(east, east, c, false)})
}

// Slot returns the slot about c with round ends, l long with its ends and w
// wide, its length turned by angle from the x axis: counterclockwise from the
// west end of its south side: side, east end, side, west end. With l equal to
// w it is the circle; with l under w the two change places and the slot stands
// across. Sizes that are negative or NaN count as 0.
func Slot(c Point, l, w, angle float64) *Loop {
	l, w = size(l), size(w)
	if l == w {
		return Circle(c, w)
	}
	if l < w {
		l, w, angle = w, l, angle+math.Pi/2
	}
	if math.IsNaN(angle) || math.IsInf(angle, 0) {
		angle = 0
	}
	east := Point{(l - w) / 2, 0}.Rotate(angle)
	north := Point{0, w / 2}.Rotate(angle)
	ce, cw := c.Add(east), c.Sub(east)
	se, ne := ce.Sub(north), ce.Add(north)
	nw, sw := cw.Add(north), cw.Sub(north)
	return loopOf([]Segment{
		Line(sw, se), ArcAround(se, ne, ce, false),
		Line(ne, nw), ArcAround(nw, sw, cw, false),
	})
}

// Polygon returns the loop of straight lines through the corners, in order.
func Polygon(corners ...Point) *Loop {
	segs := make([]Segment, len(corners))
	for i, p := range corners {
		segs[i] = Line(p, corners[(i+1)%len(corners)])
	}
	return loopOf(segs)
}

// size reads a length that cannot be negative.
func size(v float64) float64 {
	if v > 0 {
		return v
	}
	return 0
}
