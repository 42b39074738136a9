package cavity

import (
	"context"
	"math"
	"math/rand"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/geom"
)

const mm = 1e-3

// ring is one of sides, x and y in mm by turns, all open.
func ring(mms ...float64) Ring {
	var r Ring
	for i := 0; i < len(mms); i += 2 {
		r = append(r, Side{At: geom.Point{X: mms[i] * mm, Y: mms[i+1] * mm}})
	}
	return r
}

func rectangle(x0, y0, x1, y1 float64) Ring { return ring(x0, y0, x1, y0, x1, y1, x0, y1) }

// plated is a ring whose sides of these numbers are electric, all of them where none is named.
func plated(r Ring, sides ...int) Ring {
	for i := range r {
		r[i].Electric = len(sides) == 0
	}
	for _, i := range sides {
		r[i].Electric = true
	}
	return r
}

// circle is a ring of chords.
func circle(x, y, radius float64, sides int) Ring {
	var r Ring
	for i := range sides {
		r = append(r, Side{At: geom.Point{X: x * mm, Y: y * mm}.Add(geom.Point{X: radius * mm}.Rotate(2 * math.Pi * float64(i) / float64(sides)))})
	}
	return r
}

// hole is a ring the other way round, each of its sides as it was.
func hole(r Ring) Ring {
	n := len(r)
	out := make(Ring, n)
	for i := range r {
		out[i] = Side{r[(n-i)%n].At, r[n-1-i].Electric}
	}
	return out
}

// points are a path's, x and y in mm by turns.
func points(mms ...float64) (path []geom.Point) {
	for _, side := range ring(mms...) {
		path = append(path, side.At)
	}
	return path
}

func solve(t testing.TB, s Shape, w Want) []Mode {
	t.Helper()
	modes, err := Solve(context.Background(), s, w)
	require.NoError(t, err)
	return modes
}

// The closed forms for rectangles (separation of variables; Pozar, Microwave
// Engineering, from memory), as GHz: sides 0 south, 1 east, 2 north, 3 west.
func TestRectangles(t *testing.T) {
	for i, sides := range [][]int{{0, 1, 2, 3}, {0, 1, 2}, {1, 2, 3}, {0, 2}, {1, 3}, {0, 1}, {0}, {1}, {-1}} {
		for _, c := range []struct {
			a, b, er float64
			ghz      [9]float64
		}{
			{100, 80, 4.3, [9]float64{1.1571, 0.9732, 0.8524, 0.9036, 0.7229, 0.5786, 0.4518, 0.3614, 0.7229}},
			{62, 38, 3.9, [9]float64{2.3428, 2.0891, 1.5799, 1.9974, 1.2242, 1.1714, 0.9987, 0.6121, 1.2242}},
			{30, 20, 3.66, [9]float64{4.7084, 4.1295, 3.2647, 3.9176, 2.6117, 2.3542, 1.9588, 1.3059, 2.6117}},
		} {
			r := rectangle(0, 0, c.a, c.b)
			if sides[0] >= 0 {
				r = plated(r, sides...)
			}
			m := solve(t, Shape{Rings: []Ring{r}, Permittivity: c.er}, Want{Modes: 6, Accuracy: 0.005})
			require.Len(t, m, 6)
			assert.InEpsilon(t, c.ghz[i]*1e9, m[0].F, 0.0002, "%g by %g, %v", c.a, c.b, sides)
			assert.True(t, m[0].Least <= c.ghz[i]*1.0001e9 && c.ghz[i]*0.9999e9 <= m[0].Most, "%g to %g of %g", m[0].Least, m[0].Most, c.ghz[i])
		}
	}
}

// The unit L of three squares, by published eigenvalues: electric, R. S. Jones 2015,
// and the third, 2π², exactly; open, M. Dauge's benchmark. Scaled to squares of 30 mm.
func TestTheL(t *testing.T) {
	l := func() Ring { return ring(0, 0, 60, 0, 60, 30, 30, 30, 30, 60, 0, 60) }
	f := func(lambda float64) float64 {
		return lightSpeed * math.Sqrt(lambda) / (2 * math.Pi * 30 * mm * math.Sqrt(4.3))
	}
	m := solve(t, Shape{Rings: []Ring{plated(l())}, Permittivity: 4.3}, Want{Modes: 3, Accuracy: 0.005})
	assert.InEpsilon(t, f(9.6397238440219), m[0].F, 0.002)
	assert.InEpsilon(t, 2.3813e9, m[0].F, 0.002, "the table's")
	assert.InEpsilon(t, f(2*math.Pi*math.Pi), m[2].F, 0.003)
	m = solve(t, Shape{Rings: []Ring{l()}, Permittivity: 4.3}, Want{Modes: 1, Accuracy: 0.005})
	assert.InEpsilon(t, f(1.4756218240), m[0].F, 0.002)
	assert.InEpsilon(t, 0.9317e9, m[0].F, 0.002, "the table's")
}

// The corner's own function: without it this grid, which has the corner in the middle
// of a cell, is 0.105 % high.
func TestACornerThatJutsIn(t *testing.T) {
	s := Shape{Rings: []Ring{ring(0, 0, 60, 0, 60, 30, 30, 30, 30, 60, 0, 60)}, Permittivity: 1}
	l := &level{}
	var err error
	l.system, err = newSystem(context.Background(), s, 60*mm/81)
	require.NoError(t, err)
	l.modes, err = l.iterate(context.Background(), l.from(nil, 1), 1, 1e-6)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Sqrt(1.4756218240)/(30*mm), math.Sqrt(l.values[0]), 0.0007)
}

// Circles by zeros of Bessel's functions and of their derivatives (tables; Abramowitz and
// Stegun, 9.5): the second mode of each too, which comes twice.
func TestCircles(t *testing.T) {
	f := func(zero, radius, er float64) float64 {
		return lightSpeed * zero / (2 * math.Pi * radius * mm * math.Sqrt(er))
	}
	for _, c := range []struct{ diameter, er float64 }{{50, 4.3}, {30, 3.66}} {
		wall := solve(t, Shape{Rings: []Ring{plated(circle(0, 0, c.diameter/2, 360))}, Permittivity: c.er}, Want{Modes: 3, Accuracy: 0.005})
		open := solve(t, Shape{Rings: []Ring{circle(0, 0, c.diameter/2, 360)}, Permittivity: c.er}, Want{Modes: 4, Accuracy: 0.005})
		assert.InEpsilon(t, f(2.404826, c.diameter/2, c.er), wall[0].F, 0.001)
		assert.InEpsilon(t, f(3.831706, c.diameter/2, c.er), wall[1].F, 0.003)
		assert.InEpsilon(t, f(3.831706, c.diameter/2, c.er), wall[2].F, 0.003)
		assert.InEpsilon(t, f(1.841184, c.diameter/2, c.er), open[0].F, 0.001)
		assert.InEpsilon(t, f(1.841184, c.diameter/2, c.er), open[1].F, 0.001)
		assert.InEpsilon(t, f(3.054237, c.diameter/2, c.er), open[2].F, 0.003)
	}
}

// Walls that begin along a side, 100 by 80 mm, er 4.3, against the table's finite
// differences of 0.5 or 1 mm, which are within 1 %.
func TestPartsOfWalls(t *testing.T) {
	east := func(gap float64) Ring {
		return plated(ring(0, 0, 100, 0, 100, 40-gap/2, 100, 40+gap/2, 100, 80, 0, 80), 0, 1, 3, 4, 5)
	}
	south := func(long float64) Ring {
		return plated(ring(0, 0, 50-long/2, 0, 50+long/2, 0, 100, 0, 100, 80, 0, 80), 1)
	}
	for _, c := range []struct {
		ring Ring
		ghz  float64
	}{{east(5), 1.156}, {east(20), 1.138}, {east(40), 1.077}, {south(50), 0.397}, {south(10), 0.276}} {
		m := solve(t, Shape{Rings: []Ring{c.ring}, Permittivity: 4.3}, Want{Modes: 1, Accuracy: 0.005})
		assert.InEpsilon(t, c.ghz*1e9, m[0].F, 0.012, "%g", c.ghz)
	}
}

// Modes that come twice, or nearly, lie the lowest first, also where what is taken off for
// the grid puts them the other way round: on a plated disc 4.7270 before 4.7269 GHz.
func TestTheLowestIsFirst(t *testing.T) {
	for name, rings := range map[string][]Ring{
		"a plated disc":   {plated(circle(0, 0, 25, 240))},
		"two boards":      {rectangle(0, 0, 100, 80), rectangle(120, 0, 220, 80)},
		"one of them up":  {rectangle(0, 0, 100, 80), rectangle(120, 3, 200, 103)},
		"an even square":  {rectangle(0, 0, 40, 40)},
		"a disc all open": {circle(0, 0, 25, 240)},
	} {
		m := solve(t, Shape{Rings: rings, Permittivity: 4.3}, Want{Modes: 6, Accuracy: 0.005})
		require.Len(t, m, 6, name)
		for i := 1; i < len(m); i++ {
			assert.LessOrEqual(t, m[i-1].F, m[i].F, name)
		}
	}
}

func TestWhatIsWanted(t *testing.T) {
	s := Shape{Rings: []Ring{rectangle(0, 0, 100, 80)}, Permittivity: 4.3}
	m := solve(t, s, Want{Modes: 6, Below: 1e9, Accuracy: 0.01})
	assert.Len(t, m, 2, "0.7229 and 0.9036 GHz, no constant before them")
	assert.Empty(t, solve(t, s, Want{Accuracy: 0.01}))
	two := Shape{Rings: []Ring{rectangle(0, 0, 100, 80), rectangle(120, 0, 170, 50)}, Permittivity: 4.3}
	m = solve(t, two, Want{Modes: 3, Accuracy: 0.005})
	assert.InEpsilon(t, 0.7229e9, m[0].F, 0.002, "of two pieces neither has a constant")
	assert.InEpsilon(t, 0.9036e9, m[1].F, 0.002)
	again := solve(t, two, Want{Modes: 3, Accuracy: 0.005})
	assert.Equal(t, m[0].F, again[0].F, "the same each time")
}

// What bounds nothing, and what is no number, is an error; nothing panics or hangs.
func TestDegenerateShapes(t *testing.T) {
	board := []Ring{rectangle(0, 0, 40, 30)}
	fence := func(pitch, diameter float64) []Fence {
		return []Fence{{Path: points(1, 1, 9, 9), Pitch: pitch, Hole: diameter}}
	}
	for name, s := range map[string]Shape{
		"nothing":               {Permittivity: 1},
		"a line":                {Rings: []Ring{ring(0, 0, 9, 0)}, Permittivity: 1},
		"a hole alone":          {Rings: []Ring{hole(rectangle(0, 0, 9, 9))}, Permittivity: 1},
		"a corner of NaN":       {Rings: []Ring{ring(0, 0, 9, 0, math.NaN(), 9)}, Permittivity: 1},
		"no permittivity":       {Rings: board},
		"a permittivity of NaN": {Rings: board, Permittivity: math.NaN()},
		"an endless one":        {Rings: board, Permittivity: math.Inf(1)},
		"a fence without pitch": {Rings: board, Permittivity: 1, Fences: fence(0, mm)},
		"a fence without holes": {Rings: board, Permittivity: 1, Fences: fence(mm, 0)},
		"a fence of NaN":        {Rings: board, Permittivity: 1, Fences: fence(math.NaN(), mm)},
		"a fence to no place":   {Rings: board, Permittivity: 1, Fences: []Fence{{Path: points(1, 1, math.Inf(1), 3), Pitch: mm, Hole: mm}}},
	} {
		_, err := Solve(context.Background(), s, Want{Modes: 6, Accuracy: 0.005})
		assert.Error(t, err, name)
	}
	for name, s := range map[string]Shape{
		"a sliver":            {Rings: []Ring{plated(rectangle(0, 0, 100, 0.01))}, Permittivity: 1},
		"a needle":            {Rings: []Ring{plated(ring(0, 0, 100, 0, 100, 0.1), 0)}, Permittivity: 1},
		"a hole on a side":    {Rings: []Ring{plated(rectangle(0, 0, 40, 30)), hole(rectangle(0, 10, 9, 20))}, Permittivity: 1},
		"a hole over a side":  {Rings: []Ring{plated(rectangle(0, 0, 40, 30)), plated(hole(circle(40, 15, 5, 40)))}, Permittivity: 1},
		"2000 sides":          {Rings: []Ring{plated(circle(0, 0, 20, 2000))}, Permittivity: 1},
		"vias that touch":     {Rings: board, Permittivity: 1, Fences: fence(mm, mm)},
		"a fence off it":      {Rings: board, Permittivity: 1, Fences: []Fence{{Path: points(50, 50, 60, 60), Pitch: mm, Hole: mm / 2}}},
		"a fence of no way":   {Rings: board, Permittivity: 1, Fences: []Fence{{Path: points(5, 5), Pitch: mm, Hole: mm / 2}, {Pitch: mm, Hole: mm}}},
		"a fence on the edge": {Rings: board, Permittivity: 1, Fences: []Fence{{Path: points(0, 0, 40, 0), Pitch: mm, Hole: mm / 3}}},
	} {
		m, err := Solve(context.Background(), s, Want{Modes: 6, Accuracy: 0.02})
		if assert.NoError(t, err, name) {
			assert.NotEmpty(t, m, name)
			for _, m := range m {
				assert.True(t, m.F > 0 && m.Least <= m.F && m.F <= m.Most, name)
			}
		}
	}
	for seed := range int64(60) {
		r := rand.New(rand.NewSource(seed))
		s := Shape{Permittivity: 1}
		for range 1 + r.Intn(3) {
			var any Ring
			for range r.Intn(7) {
				any = append(any, Side{geom.Point{X: float64(r.Intn(8)) * mm, Y: float64(r.Intn(8)) * mm}, r.Intn(2) == 0})
			}
			s.Rings = append(s.Rings, any)
		}
		m, err := Solve(context.Background(), s, Want{Modes: 2, Accuracy: 0.1})
		for _, m := range m {
			assert.True(t, err == nil && m.F > 0 && m.Least <= m.F && m.F <= m.Most, seed)
		}
	}
}

// A run that is no longer wanted ends soon, with its context's error.
func TestItEndsWhenItIsNotWanted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	time.AfterFunc(30*time.Millisecond, cancel)
	start := time.Now()
	_, err := Solve(ctx, large(), Want{Modes: 6, Accuracy: 1e-9})
	assert.ErrorIs(t, err, context.Canceled)
	t.Logf("%v after it was cancelled", time.Since(start)-30*time.Millisecond)
	_, err = Solve(ctx, large(), Want{Modes: 6, Accuracy: 0.01})
	assert.ErrorIs(t, err, context.Canceled)
}

func TestTheField(t *testing.T) {
	m := solve(t, Shape{Rings: []Ring{plated(rectangle(10, 5, 70, 45), 3)}, Permittivity: 1}, Want{Modes: 1, Accuracy: 0.005})
	f := m[0].Field // a quarter wave along x, from a wall in the west
	assert.Equal(t, len(f.At), f.Columns*f.Rows)
	for i, v := range f.At {
		if p := f.node(i); p.Y <= 45*mm {
			assert.InDelta(t, math.Sin(math.Pi/2*(p.X-10*mm)/(60*mm)), v, 0.01)
		}
	}
	assert.InDelta(t, 70*mm, f.Strongest().X, 1e-6)
	lines := f.Contours(0.5)
	require.Len(t, lines, 1)
	for _, p := range lines[0] {
		assert.InDelta(t, 30*mm, p.X, 0.3*mm, "sin 30°")
	}
	// Off the cavity there is none, not even by a part of a cell.
	for i, v := range f.At {
		if f.node(i).Y > 45.1*mm {
			assert.True(t, math.IsNaN(v))
		}
	}
	l := solve(t, Shape{Rings: []Ring{ring(0, 0, 60, 0, 60, 30, 30, 30, 30, 60, 0, 60)}, Permittivity: 1}, Want{Modes: 1, Accuracy: 0.005})[0].Field
	assert.True(t, math.IsNaN(l.At[len(l.At)-1]))
	assert.False(t, math.IsNaN(l.At[0]))
}

func TestContours(t *testing.T) {
	f := Field{Min: geom.Point{X: -1, Y: -1}, Step: 0.1, Columns: 21, Rows: 21}
	for i := range 441 {
		p := f.node(i)
		f.At = append(f.At, p.X*p.X+p.Y*p.Y)
	}
	lines := f.Contours(0.5)
	require.Len(t, lines, 1, "a circle is one line")
	assert.Equal(t, lines[0][0], lines[0][len(lines[0])-1], "closed")
	for _, p := range lines[0] {
		assert.InDelta(t, math.Sqrt(0.5), p.Norm(), 0.01)
	}
	assert.Len(t, f.Contours(1.5), 4, "an arc in each corner")
	assert.Empty(t, f.Contours(3))
	assert.Empty(t, f.Contours(math.NaN()))
	f.At[10*21+17] = math.NaN()
	lines = f.Contours(0.5)
	require.Len(t, lines, 1, "open where a node has no value")
	assert.NotEqual(t, lines[0][0], lines[0][len(lines[0])-1])
	assert.Empty(t, Field{}.Contours(0))
	for i := range f.At {
		p := f.node(i)
		f.At[i] = (p.X - 0.05) * (p.Y - 0.05) // a saddle in the middle of a cell
	}
	n := 0
	for _, l := range f.Contours(0) {
		n += len(l) - 1
	}
	assert.Equal(t, 40, n, "two lines cross; no piece twice")
	// Where all four sides are crossed the mean of the corners tells what belongs together.
	four := Field{Step: 1, Columns: 2, Rows: 2, At: []float64{1, 0, 0, 1}}
	for value, corner := range map[float64]geom.Point{0.4: {X: 1}, 0.6: {}} {
		lines := four.Contours(value)
		require.Len(t, lines, 2)
		near := min(lines[0][0].Dist(corner)+lines[0][1].Dist(corner), lines[1][0].Dist(corner)+lines[1][1].Dist(corner))
		assert.InDelta(t, 0.8, near, 1e-9, "%g", value)
	}
	assert.Equal(t, geom.Point{X: -1, Y: -1}, Field{Min: geom.Point{X: -1, Y: -1}}.Strongest())
}
