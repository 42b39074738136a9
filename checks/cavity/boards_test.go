package cavity

import (
	"context"
	"math"
	"math/rand"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/geom"
)

// anyBoard is a rectangle with notches, holes and pieces of wall, all at whole
// millimetres; a wall there is for certain.
func anyBoard(r *rand.Rand) Shape {
	w, h := float64(40+r.Intn(30)), float64(24+r.Intn(24))
	outline := rectangle(0, 0, w, h)
	a, b, c := math.Round(w*0.3), math.Round(w*0.6), math.Round(h*(0.4+0.3*r.Float64()))
	switch r.Intn(4) {
	case 0:
		outline = ring(0, 0, w, 0, w, c, b, c, b, h, 0, h)
	case 1:
		outline = ring(0, 0, w, 0, w, h, b, h, b, c, a, c, a, h, 0, h)
	}
	var sides Ring
	for i, side := range outline {
		next := outline[(i+1)%len(outline)]
		along := next.At.Sub(side.At)
		switch r.Intn(4) {
		case 0:
			side.Electric = true
			sides = append(sides, side)
		case 1:
			part := math.Round(along.Norm()/mm*(0.2+0.6*r.Float64())) * mm
			side.Electric = r.Intn(2) == 0
			sides = append(sides, side, Side{side.At.Add(along.Unit().Scale(part)), !side.Electric})
		default:
			sides = append(sides, side)
		}
	}
	sides[0].Electric = true
	s := Shape{Rings: []Ring{sides}, Permittivity: 1}
	for k := range r.Intn(4) {
		x, y := float64(4+9*k+r.Intn(3)), float64(3+r.Intn(3))
		cutout := hole(rectangle(x, y, x+float64(1+r.Intn(5)), y+float64(1+r.Intn(5))))
		if r.Intn(2) == 0 {
			cutout = plated(cutout)
		}
		s.Rings = append(s.Rings, cutout)
	}
	return s
}

// moved is a shape each place of which has been moved.
func (s Shape) moved(to func(geom.Point) geom.Point) Shape {
	out := Shape{Permittivity: s.Permittivity}
	for _, r := range s.Rings {
		r = slices.Clone(r)
		for i := range r {
			r[i].At = to(r[i].At)
		}
		out.Rings = append(out.Rings, r)
	}
	for _, f := range s.Fences {
		f.Path = slices.Clone(f.Path)
		for i := range f.Path {
			f.Path[i] = to(f.Path[i])
		}
		out.Fences = append(out.Fences, f)
	}
	return out
}

// first is the first mode's frequency.
func first(t *testing.T, s Shape) float64 {
	t.Helper()
	return solve(t, s, Want{Modes: 1, Accuracy: 0.005})[0].F
}

// The method's error on boards with many corners.
const onBoards = 0.01

// Turned, mirrored, begun elsewhere, a side in two: the same figures. Turned by an odd
// angle the grid cuts all sides, and both figures have their error.
func TestTheSameShapeOtherwise(t *testing.T) {
	for seed := range int64(8) {
		s := anyBoard(rand.New(rand.NewSource(seed)))
		s.Fences = []Fence{{Path: points(3, 16, 14, 20), Pitch: 2 * mm, Hole: 0.3 * mm}}
		was := first(t, s)
		assert.InEpsilon(t, was, first(t, s.moved(func(p geom.Point) geom.Point { return p.Rotate(0.6) })), 1.5*onBoards, "turned, %d", seed)
		assert.InEpsilon(t, was, first(t, s.moved(func(p geom.Point) geom.Point { return p.Rotate(math.Pi / 2) })), onBoards, "a quarter, %d", seed)
		mirrored := s.moved(func(p geom.Point) geom.Point { return geom.Point{X: -p.X, Y: p.Y} })
		for i := range mirrored.Rings {
			mirrored.Rings[i] = hole(mirrored.Rings[i])
		}
		assert.InEpsilon(t, was, first(t, mirrored), onBoards, "mirrored, %d", seed)
		other := s.moved(func(p geom.Point) geom.Point { return p })
		o := other.Rings[0]
		other.Rings[0] = slices.Concat(o[2:], o[:2])
		assert.InEpsilon(t, was, first(t, other), 1e-4, "begun elsewhere, %d", seed)
		middle := o[0].At.Add(o[1].At).Scale(0.5)
		other.Rings[0] = slices.Concat(Ring{o[0], {middle, o[0].Electric}}, o[1:])
		assert.InEpsilon(t, was, first(t, other), 1e-4, "a side in two, %d", seed)
	}
}

// More wall never lowers a mode (the variational principle; Courant and Hilbert,
// from memory), where some wall there is.
func TestMoreWallRaises(t *testing.T) {
	for seed := range int64(20) {
		r := rand.New(rand.NewSource(seed))
		s := anyBoard(r)
		was := first(t, s)
		for range 3 {
			of := s.Rings[r.Intn(len(s.Rings))]
			of[r.Intn(len(of))].Electric = true
			now := first(t, s)
			assert.Greater(t, now, was*(1-onBoards), seed)
			was = now
		}
		s.Fences = []Fence{{Path: points(6, 17, 18, 17), Pitch: 2 * mm, Hole: 0.3 * mm}}
		assert.Greater(t, first(t, s), was*(1-onBoards), seed)
	}
}

// A second method of the test's own: finite volumes of a whole fraction of a
// millimetre, whose lowest eigenvalue comes by inverse iteration with conjugate
// gradients. Beside a wall's end it goes like the step, so two steps are extrapolated.
func TestAgainstFiniteVolumes(t *testing.T) {
	for seed := range int64(12) {
		s := anyBoard(rand.New(rand.NewSource(seed + 50)))
		coarse, fine := volumes(s, 1), volumes(s, 2)
		want := lightSpeed / (2 * math.Pi) * (2*math.Sqrt(fine) - math.Sqrt(coarse))
		assert.InEpsilon(t, want, first(t, s), 0.015, seed)
	}
}

// volumes is the lowest k² of a shape at whole millimetres, by cells of a fraction of one.
func volumes(s Shape, fraction int) float64 {
	h := mm / float64(fraction)
	inside := func(p geom.Point) bool {
		n := 0
		for _, r := range s.Rings {
			for i := range r {
				a, b := r[i].At, r[(i+1)%len(r)].At
				if (a.Y > p.Y) != (b.Y > p.Y) && a.X > p.X { // upright sides alone cross a level line
					n++
				}
			}
		}
		return n%2 == 1
	}
	electric := func(p geom.Point) bool {
		for _, r := range s.Rings {
			for i := range r {
				if a, b := r[i].At, r[(i+1)%len(r)].At; r[i].Electric && math.Abs(a.Dist(p)+p.Dist(b)-a.Dist(b)) < 1e-9 {
					return true
				}
			}
		}
		return false
	}
	const wide = 80
	n := wide * fraction
	number := map[int]int{}
	var at []geom.Point
	for k := range n * n {
		p := geom.Point{X: (float64(k%n) + 0.5) * h, Y: (float64(k/n) + 0.5) * h}
		if inside(p) {
			number[k] = len(at)
			at = append(at, p)
		}
	}
	next := make([][]int, len(at))
	own := make([]float64, len(at))
	for k, i := range number {
		for _, d := range [4]struct {
			step int
			way  geom.Point
		}{{1, geom.Point{X: 1}}, {-1, geom.Point{X: -1}}, {n, geom.Point{Y: 1}}, {-n, geom.Point{Y: -1}}} {
			if j, ok := number[k+d.step]; ok {
				next[i] = append(next[i], j)
				own[i]++
			} else if electric(at[i].Add(d.way.Scale(h / 2))) {
				own[i] += 2
			}
		}
	}
	times := func(x []float64) []float64 {
		y := make([]float64, len(x))
		for i := range x {
			y[i] = own[i] * x[i]
			for _, j := range next[i] {
				y[i] -= x[j]
			}
		}
		return y
	}
	return lowest(times, len(at)) / (h * h)
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// lowest is the lowest eigenvalue of a matrix, by inverse iteration.
func lowest(times func([]float64) []float64, n int) float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = 1
	}
	value := 0.0
	for range 40 {
		// x becomes the solution of the matrix times it = x, by conjugate gradients.
		y, r := make([]float64, n), slices.Clone(x)
		p, rr := slices.Clone(r), dot(r, r)
		for start := rr; rr > 1e-14*start; {
			q := times(p)
			a := rr / dot(p, q)
			for i := range y {
				y[i] += a * p[i]
				r[i] -= a * q[i]
			}
			now := dot(r, r)
			for i := range p {
				p[i] = r[i] + now/rr*p[i]
			}
			rr = now
		}
		was := value
		value = dot(x, y) / dot(y, y)
		size := math.Sqrt(dot(y, y))
		for i := range x {
			x[i] = y[i] / size
		}
		if math.Abs(value-was) < 1e-6*value {
			break
		}
	}
	return value
}

// Drawn boards against grids twice as fine; the range holds 19 of 20 of them.
func TestTheRangeHolds(t *testing.T) {
	held, boards := 0, 24
	for seed := range int64(24) {
		s := anyBoard(rand.New(rand.NewSource(seed + 100)))
		m := solve(t, s, Want{Modes: 6, Accuracy: 0.005})[0]
		l := &level{}
		var err error
		l.system, err = newSystem(context.Background(), s, m.Field.Step/2)
		require.NoError(t, err)
		l.modes, err = l.iterate(context.Background(), l.from(nil, 2), 1, 1e-5)
		require.NoError(t, err)
		fine := lightSpeed / (2 * math.Pi) * math.Sqrt(l.values[0])
		assert.InEpsilon(t, fine, m.F, onBoards, seed)
		if m.Least <= fine && fine <= m.Most {
			held++
		}
	}
	assert.GreaterOrEqual(t, held, boards*9/10)
}

// A row of vias against the same vias as electric holes, on a grid that resolves them.
func TestFencesAgainstHoles(t *testing.T) {
	for _, c := range []struct{ pitch, diameter float64 }{{2, 0.3}, {1, 0.3}, {3, 0.4}} {
		s := Shape{Rings: []Ring{rectangle(0, 0, 16, 12)}, Permittivity: 1}
		holes := s
		for y := c.pitch / 2; y < 12; y += c.pitch {
			holes.Rings = append(slices.Clone(holes.Rings), plated(hole(circle(6, y, c.diameter/2, 16))))
		}
		l := &level{}
		var err error
		l.system, err = newSystem(context.Background(), holes, 0.08*mm)
		require.NoError(t, err)
		l.modes, err = l.iterate(context.Background(), l.from(nil, 1), 1, 1e-5)
		require.NoError(t, err)
		s.Fences = []Fence{{Path: points(6, c.pitch/2, 6, 12-c.pitch/2), Pitch: c.pitch * mm, Hole: c.diameter * mm}}
		assert.InEpsilon(t, lightSpeed/(2*math.Pi)*math.Sqrt(l.values[0]), first(t, s), 0.004, "%v", c)
	}
}
