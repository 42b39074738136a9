package geom

import "math"

// footSlip is how far past a segment's end, in nm, a fillet's foot may lie from rounding.
const footSlip = 0.01

// Fillet is the arc of radius r that rounds the point where two segments meet:
// tangent to both, inside their angle, nearest the point. It takes the end of a
// off from the distance s along it, and the start of b up to the distance t. ok
// is false where no such arc touches both.
func Fillet(a, b Segment, r float64) (arc Segment, s, t float64, ok bool) {
	left := a.Tangent(a.Length()).Cross(b.Tangent(0)) > 0
	// Its centre lies as far from the one segment as from the other, on the
	// side to which the path turns.
	besideA, whole := Parallel(a, r, left)
	besideB, also := Parallel(b, r, left)
	if !whole || !also {
		return arc, 0, 0, false // curved more than the round itself
	}
	slack := roundoff(a, b)
	centres := meet(besideA.carrier(), besideB.carrier(), slack)
	for _, c := range centres.points() {
		p, along, _ := a.Nearest(c)
		q, until, _ := b.Nearest(c)
		// Where the foot lies past an end, the radius to that end is not square to the segment.
		if math.Abs(a.Tangent(along).Dot(c.Sub(p))) > footSlip+slack || math.Abs(b.Tangent(until).Dot(c.Sub(q))) > footSlip+slack {
			continue
		}
		if !ok || a.Length()-along+until < a.Length()-s+t {
			arc, s, t, ok = ArcAround(p, q, c, !left), along, until, true
		}
	}
	return arc, s, t, ok
}

// Turn is by how many radians the way turns from a segment's end into the next,
// -π to π, over 0 to the left.
func (g Segment) Turn(next Segment) float64 {
	in, out := g.Tangent(g.Length()), next.Tangent(0)
	return math.Atan2(in.Cross(out), in.Dot(out))
}

// Smooth tells whether a segment goes on into the next with a turn of at most
// so many radians.
func (g Segment) Smooth(next Segment, turn float64) bool {
	return math.Abs(g.Turn(next)) <= turn
}
