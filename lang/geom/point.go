package geom

import "math"

// Point is a place, or a displacement, in nanometres.
type Point struct{ X, Y float64 }

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns p - q, the displacement from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Scale returns p stretched by the factor k.
func (p Point) Scale(k float64) Point { return Point{p.X * k, p.Y * k} }

// Dot returns the scalar product.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Cross returns the z component of the vector product, positive when q lies
// counterclockwise of p.
func (p Point) Cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }

// Norm returns the distance from the origin. It is correctly rounded wherever
// the squares are exact, so 3 and 4 give 5.
func (p Point) Norm() float64 {
	if s := p.X*p.X + p.Y*p.Y; s > 1e-200 && s < 1e300 {
		return math.Sqrt(s)
	}
	return math.Hypot(p.X, p.Y)
}

// Dist returns the distance between p and q.
func (p Point) Dist(q Point) float64 { return p.Sub(q).Norm() }

// Unit returns the direction of p with length 1; the zero vector, and one that
// is not finite, give the zero vector.
func (p Point) Unit() Point {
	n := p.Norm()
	if !(n > 0) || math.IsInf(n, 0) {
		return Point{}
	}
	return Point{p.X / n, p.Y / n}
}

// Left returns p turned a quarter counterclockwise.
func (p Point) Left() Point { return Point{-p.Y, p.X} }

// Rotate returns p turned counterclockwise about the origin. Whole quarter
// turns are exact.
func (p Point) Rotate(angle float64) Point {
	d := direction(angle)
	return Point{p.X*d.X - p.Y*d.Y, p.X*d.Y + p.Y*d.X}
}

// largest is the largest coordinate that counts as finite: its cube, of which
// first moments of areas are made, is still a float64.
const largest = 1e100

// finite says whether both coordinates are numbers to calculate with.
func (p Point) finite() bool { return math.Abs(p.X) <= largest && math.Abs(p.Y) <= largest }

// direction is the unit vector at an angle. The sine of float64 pi is 1.2e-16
// and not 0; such a remainder is taken off so that a quarter turn keeps a line
// parallel to its axis.
func direction(angle float64) Point {
	sin, cos := math.Sincos(angle)
	const remainder = 1e-15
	switch {
	case math.Abs(sin) < remainder:
		return Point{math.Copysign(1, cos), 0}
	case math.Abs(cos) < remainder:
		return Point{0, math.Copysign(1, sin)}
	}
	return Point{cos, sin}
}
