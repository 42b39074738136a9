package geom

import "math"

// Band returns loops whose union is the strip of width w along one side of a
// chain of segments, each starting where the one before ends: the left side of
// travel, or the right. A line gives a rectangle and an arc a sector of a ring,
// down to the centre when w reaches it; a joint at which the two strips would
// gape gives the sector of radius w between them. The ends of the chain are
// square to it; a chain that ends where it starts has a joint there too. Every
// loop is simple and runs counterclockwise. Segments without length are passed
// over, and without a positive finite w the result is nil.
func Band(chain []Segment, w float64, left bool) []*Loop {
	if !(w > 0) || math.IsInf(w, 1) {
		return nil
	}
	var used []Segment
	for _, g := range chain {
		if g.Length() > 0 {
			used = append(used, g)
		}
	}
	var pieces []*Loop
	for i, g := range used {
		if g.Arc {
			pieces = append(pieces, bandOfArc(g, w, left)...)
		} else {
			pieces = append(pieces, bandOfLine(g, w, left))
		}
		next := used[(i+1)%len(used)]
		if i+1 == len(used) && (next.A != g.B || len(used) == 1) {
			break
		}
		if joint := bandAtJoint(g, next, w, left); joint != nil {
			pieces = append(pieces, joint)
		}
	}
	return pieces
}

// BandGapes tells whether the strips along one side of two segments, the second
// starting where the first ends, gape at their joint.
func BandGapes(g, next Segment, left bool) bool { return bandAtJoint(g, next, 1, left) != nil }

// BandJoint is what closes that gape in strips of width w; nil where there is none.
func BandJoint(g, next Segment, w float64, left bool) []*Loop {
	if l := bandAtJoint(g, next, w, left); l != nil {
		return []*Loop{l}
	}
	return nil
}

func bandOfLine(g Segment, w float64, left bool) *Loop {
	if !left {
		g = g.Reverse()
	}
	out := g.Tangent(0).Left().Scale(w)
	return Polygon(g.A, g.B, g.B.Add(out), g.A.Add(out))
}

func bandOfArc(g Segment, w float64, left bool) []*Loop {
	inward := left != g.Clockwise
	if g.Clockwise {
		g = g.Reverse()
	}
	if g.A == g.B { // a ring is no simple loop, so it comes in two halves
		half := g.Length() / 2
		return []*Loop{
			bandOfSweep(g.Sub(0, half), w, inward),
			bandOfSweep(g.Sub(half, 2*half), w, inward),
		}
	}
	return []*Loop{bandOfSweep(g, w, inward)}
}

// bandOfSweep is the band of a counterclockwise arc that is no full circle.
func bandOfSweep(g Segment, w float64, inward bool) *Loop {
	outer, inner := g, g
	if inward {
		inner = offset(g, -w)
	} else {
		outer = offset(g, w)
	}
	if inner.A == g.C || inner.B == g.C {
		return loopOf([]Segment{outer, Line(outer.B, g.C), Line(g.C, outer.A)})
	}
	return loopOf([]Segment{outer, Line(outer.B, inner.B), inner.Reverse(), Line(inner.A, outer.A)})
}

// Parallel is the line or arc at a distance d from a segment, on the left side of
// travel or the right; ok is false for an arc of which nothing is left there.
func Parallel(g Segment, d float64, left bool) (p Segment, ok bool) {
	if !left {
		d = -d
	}
	if !g.Arc {
		out := g.Tangent(0).Left().Scale(d)
		return Line(g.A.Add(out), g.B.Add(out)), true
	}
	if g.Clockwise {
		d = -d
	}
	if g.Radius()-d <= 0 {
		return Segment{}, false
	}
	return offset(g, -d), true
}

// offset is the arc about the same centre with the radius changed by d, or all
// at the centre when nothing of the radius is left.
func offset(g Segment, d float64) Segment {
	r := g.Radius()
	if r+d <= 0 {
		return Line(g.C, g.C)
	}
	g.A = g.C.Add(g.A.Sub(g.C).Scale((r + d) / r))
	g.B = g.C.Add(g.B.Sub(g.C).Scale((r + d) / r))
	return g
}

// bandAtJoint is the sector that closes the gap between the bands of two
// segments, nil where the path goes straight on or the bands overlap. Where it
// turns straight back the half disc beyond its end belongs to the strip.
func bandAtJoint(g, next Segment, w float64, left bool) *Loop {
	t0, t1 := g.Tangent(g.Length()), next.Tangent(0)
	turned := math.Atan2(t0.Cross(t1), t0.Dot(t1))
	if !left {
		turned = -turned
	}
	// Directions are known to about 1e-15, and at 1e-12 a sector as wide as
	// the largest board is 0.01 nm across.
	const straight = 1e-12
	if math.Abs(turned) >= math.Pi-straight {
		turned = -math.Pi
	}
	if turned >= -straight {
		return nil
	}
	n0, n1 := t0.Left(), t1.Left()
	if !left {
		n0, n1 = n1.Scale(-1), n0.Scale(-1)
	}
	at := g.B
	from, to := at.Add(n1.Scale(w)), at.Add(n0.Scale(w))
	return loopOf([]Segment{Line(at, from), ArcAround(from, to, at, false), Line(to, at)})
}
