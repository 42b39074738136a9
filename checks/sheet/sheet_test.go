package sheet

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"hemline/lang/geom"
)

func rectangle(x0, y0, x1, y1 float64) []geom.Point {
	return []geom.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// hole turns a ring the other way round.
func hole(ring []geom.Point) []geom.Point {
	turned := slices.Clone(ring)
	slices.Reverse(turned)
	return turned
}

// star is a ring about a place, its corners between two distances.
func star(r *rand.Rand, at geom.Point, near, far float64) []geom.Point {
	n := 9 + r.Intn(20)
	ring := make([]geom.Point, n)
	for i := range ring {
		angle := 2 * math.Pi * (float64(i) + 0.8*r.Float64()) / float64(n)
		ring[i] = at.Add(geom.Point{X: near + (far-near)*r.Float64()}.Rotate(angle))
	}
	return ring
}

// odd is a region with holes, none touching. Some of its corners lie on whole
// coordinates, so on lines of the grid.
func odd(r *rand.Rand) Region {
	region := Region{star(r, geom.Point{}, 30, 50)}
	for k := range r.Intn(4) {
		region = append(region, hole(star(r, geom.Point{X: 9}.Rotate(float64(k)*math.Pi/2+0.3), 0.3, 5)))
	}
	for i, p := range region[0] {
		if r.Intn(3) == 0 {
			region[0][i] = geom.Point{X: math.Round(p.X), Y: math.Round(p.Y)}
		}
	}
	if r.Intn(2) == 0 {
		region = append(region, hole(rectangle(-2, -1, 2, 2)))
	}
	return region
}

// integral is ∫ x^a·y^b over a region, a + b up to 2, by its boundary: the
// textbook sums over the sides (Green's theorem), independent of any cells.
func integral(region Region, a, b int) float64 {
	sum := 0.0
	for _, ring := range region {
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			c := p.Cross(q)
			switch [2]int{a, b} {
			case [2]int{0, 0}:
				sum += c / 2
			case [2]int{1, 0}:
				sum += c * (p.X + q.X) / 6
			case [2]int{0, 1}:
				sum += c * (p.Y + q.Y) / 6
			case [2]int{2, 0}:
				sum += c * (p.X*p.X + p.X*q.X + q.X*q.X) / 12
			case [2]int{0, 2}:
				sum += c * (p.Y*p.Y + p.Y*q.Y + q.Y*q.Y) / 12
			case [2]int{1, 1}:
				sum += c * (2*p.X*p.Y + p.X*q.Y + q.X*p.Y + 2*q.X*q.Y) / 24
			}
		}
	}
	return sum
}

func mesh(t *testing.T, r Region, step float64) *Sheet {
	t.Helper()
	s, err := Mesh(r, step)
	require.NoError(t, err)
	return s
}

// field is a function at the nodes.
func field(s *Sheet, of func(p geom.Point) float64) *mat.VecDense {
	v := mat.NewVecDense(s.Nodes, nil)
	for i := range s.Nodes {
		v.SetVec(i, of(s.Place(i)))
	}
	return v
}

func energy(m *mat.SymBandDense, u, v *mat.VecDense) float64 { return mat.Dot(u, times(m, v)) }

func times(m *mat.SymBandDense, v *mat.VecDense) *mat.VecDense {
	product := mat.NewVecDense(v.Len(), nil)
	m.MulVecTo(product, false, v)
	return product
}

var (
	one = func(geom.Point) float64 { return 1 }
	ofX = func(p geom.Point) float64 { return p.X }
	ofY = func(p geom.Point) float64 { return p.Y }
	xy  = func(p geom.Point) float64 { return p.X * p.Y }
)

// What the cells hold of a region is what its sides bound: area, moments, and
// the energies of fields that are bilinear, to which cells are exact.
func TestCellsHoldTheRegion(t *testing.T) {
	for seed := range int64(300) {
		r := rand.New(rand.NewSource(seed))
		region := odd(r)
		s := mesh(t, region, []float64{1, 2, 3.7, 11, 200}[r.Intn(5)])
		m, k := s.Mass(), s.Stiffness()
		x, y, x1, both := field(s, ofX), field(s, ofY), field(s, one), field(s, xy)
		area, off := integral(region, 0, 0), 1e-6*max(s.Step, 3) // of the rounding of places
		assert.InEpsilon(t, area, s.Area(), off, seed)
		assert.InEpsilon(t, area, energy(m, x1, x1), off, seed)
		assert.InDelta(t, integral(region, 1, 0), energy(m, x1, x), off*area*50, seed)
		assert.InDelta(t, integral(region, 0, 1), energy(m, x1, y), off*area*50, seed)
		assert.InEpsilon(t, integral(region, 2, 0), energy(m, x, x), off, seed)
		assert.InEpsilon(t, integral(region, 0, 2), energy(m, y, y), off, seed)
		assert.InDelta(t, integral(region, 1, 1), energy(m, x, y), off*area*2500, seed)
		// The patch test: a uniform field's energy is its square times the area.
		assert.InEpsilon(t, area, energy(k, x, x), off, seed)
		assert.InEpsilon(t, area, energy(k, y, y), off, seed)
		assert.InDelta(t, 0, energy(k, x, y), off*area, seed)
		assert.InEpsilon(t, integral(region, 2, 0)+integral(region, 0, 2), energy(k, both, both), off, seed)
		assert.InDelta(t, 0, mat.Norm(times(k, x1), math.Inf(1)), 1e-9, "a constant field drives nothing")
	}
}

// A uniform field's flow out of each node is what crosses the boundary there
// (Gauss's theorem): sides, weights, slopes and nodes agree.
func TestWhatFlowsCrossesTheSides(t *testing.T) {
	for seed := range int64(200) {
		r := rand.New(rand.NewSource(seed))
		region := odd(r)
		s := mesh(t, region, []float64{1, 2, 3.7, 11}[r.Intn(4)])
		g := geom.Point{X: r.NormFloat64(), Y: r.NormFloat64()}
		u := field(s, g.Dot)
		flow := times(s.Stiffness(), u)
		for i, ring := range region {
			for j, p := range ring {
				q := ring[(j+1)%len(ring)]
				out := q.Sub(p).Unit().Left().Scale(-1)
				long, last := 0.0, p
				for _, piece := range s.Side(i, j) {
					long += piece.Length()
					assert.InDelta(t, 0, last.Dist(piece.From), 2e-5, "in order, from the start")
					last = piece.To
					for _, at := range []float64{0.5 - math.Sqrt(3)/6, 0.5 + math.Sqrt(3)/6} { // Gauss, exact to the third degree
						w := piece.At(at)
						place := piece.From.Add(piece.To.Sub(piece.From).Scale(at))
						assert.InDelta(t, g.Dot(place), w.Of(u.RawVector().Data), 1e-8*s.Step*50)
						slope := piece.Slope(at).Of(u.RawVector().Data)
						if p.Dist(q) > 0.1 {
							assert.InDelta(t, g.Dot(out), slope, 1e-3, seed)
						}
						for k, n := range w.Nodes {
							flow.SetVec(n, flow.AtVec(n)-w.By[k]*slope*piece.Length()/2)
						}
					}
				}
				assert.InDelta(t, p.Dist(q), long, 1e-4, "seed %d, side %d of ring %d", seed, j, i)
			}
		}
		assert.InDelta(t, 0, mat.Norm(flow, math.Inf(1)), 1e-4, seed)
	}
}

// A slit parts what it cuts, however thin, and joins nothing that it does not reach.
func TestASlitParts(t *testing.T) {
	for _, slit := range []float64{2, 0.3, 0.001} {
		board := Region{rectangle(0, 0, 40, 20), hole(rectangle(-1, 9.4, 41, 9.4+slit))}
		s := mesh(t, board, 1)
		_, count := s.Pieces()
		assert.Equal(t, 2, count, slit)
		board[1] = hole(rectangle(5, 9.4, 41, 9.4+slit))
		s = mesh(t, board, 1)
		_, count = s.Pieces()
		assert.Equal(t, 1, count, slit)
		// Above and below are values of their own.
		above, ok := s.At(geom.Point{X: 30.5, Y: 9.41 + slit})
		assert.True(t, ok)
		below, ok := s.At(geom.Point{X: 30.5, Y: 9.39})
		assert.True(t, ok)
		assert.NotEqual(t, above.Nodes, below.Nodes, slit)
	}
}

// Rings that share a side, or touch, are one region where they meet along a length.
func TestRingsThatTouch(t *testing.T) {
	s := mesh(t, Region{rectangle(0, 0, 10, 10), rectangle(10, 0, 25, 10)}, 1.3)
	_, count := s.Pieces()
	assert.Equal(t, 1, count, "side by side")
	assert.InDelta(t, 250, s.Area(), 1e-4)
	assert.Empty(t, s.Side(0, 1), "what lies on both sides of it is no boundary")
	assert.Empty(t, s.Side(1, 3))
	s = mesh(t, Region{rectangle(0, 0, 10, 10), rectangle(0, 10, 10, 15)}, 1.3)
	_, count = s.Pieces()
	assert.Equal(t, 1, count, "one above the other")
	assert.Empty(t, s.Side(0, 2))
	s = mesh(t, Region{rectangle(0, 0, 10, 10), rectangle(10, 10, 20, 20)}, 1.3)
	_, count = s.Pieces()
	assert.Equal(t, 2, count, "at a corner alone")
	s = mesh(t, Region{rectangle(0, 0, 10, 10), hole(rectangle(0, 4, 6, 6))}, 0.7)
	assert.InDelta(t, 88, s.Area(), 1e-4, "a hole that touches the outline along a side")
	long := 0.0
	for _, p := range s.Side(0, 3) {
		long += p.Length()
	}
	assert.InDelta(t, 8, long, 1e-4, "of which 2 are no more")
}

// A line's pieces run within the sheet and together are as long as what it has there.
func TestAlong(t *testing.T) {
	board := Region{rectangle(0, 0, 40, 20), hole(rectangle(10, 5, 20, 15))}
	for _, step := range []float64{1, 1.7, 9} {
		s := mesh(t, board, step)
		for _, c := range []struct {
			from, to geom.Point
			long     float64
		}{
			{geom.Point{X: 2, Y: 10}, geom.Point{X: 38, Y: 10}, 26},
			{geom.Point{X: 2, Y: 2}, geom.Point{X: 38, Y: 2}, 36},
			{geom.Point{X: -5, Y: 3}, geom.Point{X: 45, Y: 3}, 40},
			{geom.Point{X: 15, Y: -3}, geom.Point{X: 15, Y: 30}, 10},
			{geom.Point{X: 25, Y: 3}, geom.Point{X: 28, Y: 7}, 5},
			{geom.Point{X: 0, Y: 0}, geom.Point{X: 40, Y: 20}, math.Hypot(40, 20) * 0.75},
			{geom.Point{X: 12, Y: 7}, geom.Point{X: 18, Y: 9}, 0},
		} {
			long, last := 0.0, c.from
			for _, p := range s.Along(c.from, c.to) {
				long += p.Length()
				assert.GreaterOrEqual(t, p.From.Dist(c.from), last.Dist(c.from)-1e-6)
				last = p.To
			}
			assert.InDelta(t, c.long, long, 1e-4, "%v to %v", c.from, c.to)
		}
	}
}

func TestAt(t *testing.T) {
	s := mesh(t, Region{rectangle(0, 0, 40, 20), hole(rectangle(10, 5, 20, 15))}, 1.7)
	u := field(s, xy).RawVector().Data
	for _, p := range []geom.Point{{X: 0, Y: 0}, {X: 40, Y: 20}, {X: 10, Y: 5}, {X: 33.3, Y: 11.1}, {X: 40, Y: 3}, {X: 40.0001, Y: 3}, {X: 9.99, Y: 10}} {
		w, ok := s.At(p)
		require.True(t, ok, p)
		assert.InDelta(t, p.X*p.Y, w.Of(u), 1e-6, p)
	}
	for _, p := range []geom.Point{{X: 12, Y: 10}, {X: 41, Y: 3}, {X: -1, Y: -1}, {X: math.NaN(), Y: 3}} {
		_, ok := s.At(p)
		assert.False(t, ok, p)
	}
}

// Nodes are numbered along the short side, so their numbers lie near each other.
func TestTheBandIsTheShortSides(t *testing.T) {
	wide := mesh(t, Region{rectangle(0, 0, 40, 10)}, 1)
	tall := mesh(t, Region{rectangle(0, 0, 10, 40)}, 1)
	assert.Equal(t, 41*11, wide.Nodes)
	assert.Equal(t, 12, wide.Band)
	assert.Equal(t, wide.Nodes, tall.Nodes)
	assert.Equal(t, wide.Band, tall.Band)
}

func TestWhatCannotBeCut(t *testing.T) {
	for name, c := range map[string]struct {
		region Region
		step   float64
	}{
		"nothing":             {nil, 1},
		"a ring of nothing":   {Region{{}}, 1},
		"a point":             {Region{{{X: 1, Y: 1}}}, 1},
		"a line":              {Region{{{}, {X: 9}}}, 1},
		"there and back":      {Region{{{}, {X: 9, Y: 3}}}, 1},
		"a hole alone":        {Region{hole(rectangle(0, 0, 9, 9))}, 1},
		"all cut out":         {Region{rectangle(0, 0, 9, 9), hole(rectangle(0, 0, 9, 9))}, 1},
		"not a number":        {Region{{{}, {X: 9}, {X: math.NaN(), Y: 4}}}, 1},
		"endless":             {Region{{{}, {X: 9}, {X: 4, Y: math.Inf(1)}}}, 1},
		"a step of nothing":   {Region{rectangle(0, 0, 9, 9)}, 0},
		"a step of NaN":       {Region{rectangle(0, 0, 9, 9)}, math.NaN()},
		"a step below zero":   {Region{rectangle(0, 0, 9, 9)}, -1},
		"a step far too fine": {Region{rectangle(0, 0, 9, 9)}, 1e-9},
	} {
		_, err := Mesh(c.region, c.step)
		assert.Error(t, err, name)
	}
}

// Rings that cross bound what lies within an outer one more often than within holes.
func TestRingsThatCross(t *testing.T) {
	diamond := []geom.Point{{X: 10, Y: 2}, {X: 13, Y: 5}, {X: 10, Y: 8}, {X: 7, Y: 5}}
	for _, step := range []float64{0.7, 1, 3, 30} {
		square := rectangle(0, 0, 10, 10)
		assert.InDelta(t, 100-9, mesh(t, Region{square, hole(diamond)}, step).Area(), 1e-3, "a hole that half lies off")
		assert.InDelta(t, 100+9, mesh(t, Region{square, diamond}, step).Area(), 1e-3, "an outer ring that half lies on another")
		turned := []geom.Point{{X: 5, Y: -1}, {X: 11, Y: 5}, {X: 5, Y: 11}, {X: -1, Y: 5}}
		assert.InDelta(t, 4*8.0, mesh(t, Region{square, hole(turned)}, step).Area(), 1e-3, "four corners are left, 4 by 4 each")
		_, count := mesh(t, Region{square, hole(turned)}, step).Pieces()
		assert.Equal(t, 4, count)
		twice := hole(rectangle(2, 2, 6, 6))
		assert.InDelta(t, 100-28, mesh(t, Region{square, twice, hole(rectangle(4, 4, 8, 8))}, step).Area(), 1e-3, "holes that overlap")
		eight := []geom.Point{{}, {X: 9, Y: 9}, {X: 9}, {Y: 9}} // one half runs clockwise
		assert.InDelta(t, 20.25, mesh(t, Region{eight}, step).Area(), 1e-3)
	}
	scribble := make([]geom.Point, 2000)
	r := rand.New(rand.NewSource(1))
	for i := range scribble {
		scribble[i] = geom.Point{X: r.Float64(), Y: r.Float64()}
	}
	_, err := Mesh(Region{scribble}, 0.1)
	assert.ErrorIs(t, err, ErrCrossing)
}

// Whatever rings are handed in, there is an error or a sheet, and no panic; a
// sheet's matrices hold numbers.
func TestAnyRings(t *testing.T) {
	for seed := range int64(3000) {
		r := rand.New(rand.NewSource(seed))
		var region Region
		for range 1 + r.Intn(3) {
			ring := make([]geom.Point, r.Intn(7))
			for i := range ring {
				ring[i] = geom.Point{X: float64(r.Intn(8)), Y: float64(r.Intn(8)) + 1e-7*float64(r.Intn(3))}
			}
			region = append(region, ring)
		}
		s, err := Mesh(region, []float64{0.5, 1, 1.5, 40}[r.Intn(4)])
		if err != nil {
			continue
		}
		for _, m := range []*mat.SymBandDense{s.Stiffness(), s.Mass()} {
			for i := range s.Nodes {
				require.Positive(t, m.At(i, i), seed)
			}
		}
	}
}

func BenchmarkMesh(b *testing.B) {
	ring := make([]geom.Point, 2000)
	for i := range ring {
		ring[i] = geom.Point{X: 40}.Rotate(2 * math.Pi * float64(i) / 2000)
	}
	for name, region := range map[string]Region{"rectangle": {rectangle(0, 0, 64, 42)}, "2000 sides": {ring}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				s, err := Mesh(region, 0.64)
				if err != nil {
					b.Fatal(err)
				}
				s.Stiffness()
				s.Mass()
			}
		})
	}
}

// A slit takes nothing away, and parts what it crosses: a field that is uniform on
// each side of it has no energy but its own, and its seams are as long as it is.
func TestSlits(t *testing.T) {
	board := Region{rectangle(0, 0, 40, 20), hole(rectangle(10, 5, 20, 15))}
	for _, step := range []float64{1, 1.7, 9} {
		for _, c := range []struct {
			slits []Slit
			long  float64
			count int
		}{
			{[]Slit{{{X: -2, Y: 3}, {X: 50, Y: 3}}}, 40, 2},
			{[]Slit{{{X: 50, Y: 3}, {X: 0, Y: 3}}}, 40, 2},
			{[]Slit{{{X: 5, Y: 3}, {X: 50, Y: 3}}}, 35, 1},
			{[]Slit{{{X: 30, Y: -1}, {X: 30, Y: 30}}}, 20, 2},
			{[]Slit{{{X: 30, Y: 30}, {X: 30, Y: -1}}}, 20, 2},
			{[]Slit{{{X: 30, Y: 12}, {X: 30, Y: 30}}}, 8, 1},
			{[]Slit{{{X: 15, Y: 0}, {X: 15, Y: 20}}}, 10, 2},
			{[]Slit{{{X: 15, Y: 0}, {X: 15, Y: 5}}, {{X: 15, Y: 15}, {X: 15, Y: 30}}}, 10, 2},
			{[]Slit{{{X: 22, Y: -4}, {X: 31, Y: 32}}}, math.Hypot(20, 5), 2},
			{[]Slit{{{X: 22}, {X: 22, Y: 7}}, {{X: 22, Y: 7}, {X: 40, Y: 7}}}, 25, 2},
			{[]Slit{{{X: 3}, {X: 3, Y: 20}}, {{X: 3, Y: 0}, {X: 3, Y: 20}}}, 40, 2}, // twice the same
			{[]Slit{{{X: 0, Y: 0}, {X: 40, Y: 0}}, {{X: 10, Y: 5}, {X: 10, Y: 15}}, {{X: 12, Y: 6}, {X: 18, Y: 9}}}, 0, 1},
		} {
			s, err := Mesh(board, step, c.slits...)
			require.NoError(t, err)
			assert.InDelta(t, 700, s.Area(), 1e-3)
			_, count := s.Pieces()
			assert.Equal(t, c.count, count, "%g, %v", step, c.slits)
			long := 0.0
			for i := range c.slits {
				for _, m := range s.Seams(i) {
					long += m.Left.Length()
					assert.Equal(t, m.Left.From, m.Right.To)
					assert.Equal(t, m.Left.To, m.Right.From)
					// Each side's part lies on the left of its own way.
					for _, p := range []Piece{m.Left, m.Right} {
						inward := p.To.Sub(p.From).Unit().Left().Scale(1e-4)
						w, ok := s.At(p.From.Add(p.To).Scale(0.5).Add(inward))
						require.True(t, ok)
						assert.Equal(t, p.At(0.5).Nodes, w.Nodes, "%g, %v", step, c.slits)
					}
				}
			}
			assert.InDelta(t, c.long, long, 1e-3, "%g, %v", step, c.slits)
		}
	}
}
