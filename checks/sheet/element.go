package sheet

import (
	"gonum.org/v1/gonum/mat"

	"hemline/lang/geom"
)

// moments are ∫ x^a·y^b over a part, a and b from 0 to 2, at 3·a+b; its cell is
// the unit square.
type moments [9]float64

// full are those of a whole cell.
var full = moments{1, 1. / 2, 1. / 3, 1. / 2, 1. / 4, 1. / 6, 1. / 3, 1. / 6, 1. / 9}

// A rule for triangles that is exact to the fourth degree: six places by their
// three areas, and their weights (Dunavant, High degree efficient symmetrical
// Gaussian quadrature rules for the triangle, 1985).
var rule = [2]struct{ near, weight float64 }{
	{0.445948490915965, 0.223381589678011},
	{0.091576213509771, 0.109951743655322},
}

func (s chip) moments() moments {
	var m moments
	s.sum(1, func(p geom.Point, w float64) {
		for k := range 3 {
			m[3*k] += w
			m[3*k+1] += w * p.Y
			m[3*k+2] += w * p.Y * p.Y
			w *= p.X
		}
	})
	return m
}

// sum goes over places in a chip and the areas that they stand for, each of its
// triangles in so many by so many.
func (s chip) sum(split int, each func(p geom.Point, area float64)) {
	for i := 1; i+1 < len(s); i++ {
		u, v := s[i].Sub(s[0]).Scale(1/float64(split)), s[i+1].Sub(s[0]).Scale(1/float64(split))
		area := u.Cross(v) / 2
		if area == 0 {
			continue
		}
		for a := range split {
			for b := range split - a {
				at := s[0].Add(u.Scale(float64(a))).Add(v.Scale(float64(b)))
				triangle(at, u, v, area, each)
				if a+b+1 < split {
					triangle(at.Add(u).Add(v), u.Scale(-1), v.Scale(-1), area, each)
				}
			}
		}
	}
}

// triangle is one of the corners at, at + u, at + v.
func triangle(at, u, v geom.Point, area float64, each func(p geom.Point, area float64)) {
	for _, r := range rule {
		near, far, w := r.near, 1-2*r.near, area*r.weight
		each(at.Add(u.Scale(near)).Add(v.Scale(near)), w)
		each(at.Add(u.Scale(far)).Add(v.Scale(near)), w)
		each(at.Add(u.Scale(near)).Add(v.Scale(far)), w)
	}
}

// linear is c[0] + c[1]·x, of one axis.
type linear [2]float64

// shapes are the two functions of an axis, one at its start, one at its end.
var shapes = [2]linear{{1, -1}, {0, 1}}

// times is the product, by powers.
func (l linear) times(m linear) [3]float64 {
	return [3]float64{l[0] * m[0], l[0]*m[1] + l[1]*m[0], l[1] * m[1]}
}

// slope is the derivative.
func (l linear) slope() linear { return linear{l[1], 0} }

// over is ∫ f(x)·g(y) over a part.
func (m *moments) over(f, g [3]float64) float64 {
	sum := 0.0
	for a := range 3 {
		for b := range 3 {
			sum += f[a] * g[b] * m[3*a+b]
		}
	}
	return sum
}

// stiffness is ∫ ∇u·∇v of a part's corners i and j.
func (m *moments) stiffness(i, j int) float64 {
	x, y, u, v := shapes[i%2], shapes[i/2], shapes[j%2], shapes[j/2]
	return m.over(x.slope().times(u.slope()), y.times(v)) + m.over(x.times(u), y.slope().times(v.slope()))
}

// mass is ∫ u·v of a part's corners i and j, in cells.
func (m *moments) mass(i, j int) float64 {
	return m.over(shapes[i%2].times(shapes[j%2]), shapes[i/2].times(shapes[j/2]))
}

// Element is a part's share of the matrices: of its four nodes, some of which may
// lie off the region.
type Element struct {
	Nodes           [4]int32
	Stiffness, Mass *[4][4]float64 // not to be written to: whole cells have theirs in common
}

// Elements are the shares that make up the sheet's matrices.
func (s *Sheet) Elements() []Element {
	of := func(m *moments) (k, b *[4][4]float64) {
		k, b = new([4][4]float64), new([4][4]float64)
		for i := range 4 {
			for j := range 4 {
				k[i][j], b[i][j] = m.stiffness(i, j), m.mass(i, j)*s.Step*s.Step
			}
		}
		return k, b
	}
	k, b := of(&full)
	elements := make([]Element, len(s.parts))
	for i := range s.parts {
		p := &s.parts[i]
		elements[i] = Element{p.nodes, k, b}
		if p.chips != nil {
			elements[i].Stiffness, elements[i].Mass = of(&p.moments)
		}
	}
	return elements
}

// Stiffness is ∫ ∇u·∇v, without unit: of a plane of so many ohms per square,
// what flows out of each node is this times the voltages, by those ohms.
func (s *Sheet) Stiffness() *mat.SymBandDense {
	return s.assemble(func(e Element) *[4][4]float64 { return e.Stiffness })
}

// Mass is ∫ u·v, an area.
func (s *Sheet) Mass() *mat.SymBandDense {
	return s.assemble(func(e Element) *[4][4]float64 { return e.Mass })
}

func (s *Sheet) assemble(of func(Element) *[4][4]float64) *mat.SymBandDense {
	band := mat.NewSymBandDense(s.Nodes, s.Band, nil)
	raw := band.RawSymBand()
	for _, e := range s.Elements() {
		m := of(e)
		for i, a := range e.Nodes {
			for j, b := range e.Nodes {
				if a <= b {
					raw.Data[int(a)*raw.Stride+int(b-a)] += m[i][j]
				}
			}
		}
	}
	return band
}
