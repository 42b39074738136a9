package geom

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var (
	quarter = ArcAround(Point{10, 0}, Point{0, 10}, Point{}, false)
	whole   = ArcAround(Point{10, 0}, Point{10, 0}, Point{}, false)
	slant   = Line(Point{1, 1}, Point{4, 5})
)

func samePoint(t require.TestingT, want, got Point, within float64, args ...any) {
	if want.Dist(got) > within {
		require.Equal(t, want, got, args...)
	}
}

// Plain trigonometry: lengths r·θ, a 3-4-5 triangle.
func TestSegmentMeasures(t *testing.T) {
	tests := map[string]struct {
		seg            Segment
		radius, sweep  float64
		length         float64
		box            Box
		middle, toward Point
	}{
		"line":               {slant, 0, 0, 5, Box{Point{1, 1}, Point{4, 5}}, Point{2.5, 3}, Point{0.6, 0.8}},
		"quarter arc":        {quarter, 10, math.Pi / 2, 5 * math.Pi, Box{Point{0, 0}, Point{10, 10}}, Point{math.Sqrt(50), math.Sqrt(50)}, Point{-math.Sqrt2 / 2, math.Sqrt2 / 2}},
		"the long way round": {ArcAround(Point{10, 0}, Point{0, 10}, Point{}, true), 10, -3 * math.Pi / 2, 15 * math.Pi, Box{Point{-10, -10}, Point{10, 10}}, Point{-math.Sqrt(50), -math.Sqrt(50)}, Point{-math.Sqrt2 / 2, math.Sqrt2 / 2}},
		"full circle":        {whole, 10, 2 * math.Pi, 20 * math.Pi, Box{Point{-10, -10}, Point{10, 10}}, Point{-10, 0}, Point{0, -1}},
		"clockwise circle":   {whole.Reverse(), 10, -2 * math.Pi, 20 * math.Pi, Box{Point{-10, -10}, Point{10, 10}}, Point{-10, 0}, Point{0, 1}},
		"arc over the top":   {ArcAround(Point{3, 4}, Point{-3, 4}, Point{}, false), 5, math.Pi - 2*math.Atan2(4, 3), 5 * (math.Pi - 2*math.Atan2(4, 3)), Box{Point{-3, 4}, Point{3, 5}}, Point{0, 5}, Point{-1, 0}},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			assert.InDelta(t, tt.radius, tt.seg.Radius(), 1e-13)
			assert.InDelta(t, tt.sweep, tt.seg.Sweep(), 1e-15)
			assert.InDelta(t, tt.length, tt.seg.Length(), 1e-13)
			assert.Equal(t, tt.box, tt.seg.Box())
			samePoint(t, tt.middle, tt.seg.At(tt.length/2), 1e-13)
			samePoint(t, tt.toward, tt.seg.Tangent(tt.length/2), 1e-13)
			samePoint(t, tt.toward.Scale(-1), tt.seg.Reverse().Tangent(tt.length/2), 1e-13)
			assert.Equal(t, tt.seg.A, tt.seg.At(-1), "clamped to the start")
			assert.Equal(t, tt.seg.B, tt.seg.At(tt.length+1), "clamped to the end")
		})
	}
}

func TestLinesAlongAxesAreExact(t *testing.T) {
	l := Line(Point{1, 7}, Point{10_000_000_001, 7})
	assert.Equal(t, 1e10, l.Length())
	assert.Equal(t, Point{3_333_333_334, 7}, l.At(3_333_333_333))
	q, s, d := l.Nearest(Point{3_333_333_334, -2})
	assert.Equal(t, Point{3_333_333_334, 7}, q)
	assert.Equal(t, 3_333_333_333.0, s)
	assert.Equal(t, 9.0, d)
}

func TestNearest(t *testing.T) {
	tests := map[string]struct {
		seg  Segment
		p, q Point
		s, d float64
	}{
		"beside a line":         {slant, Point{2.5 - 4, 3 + 3}, Point{2.5, 3}, 2.5, 5},
		"before a line":         {slant, Point{-2, -3}, Point{1, 1}, 0, 5},
		"beyond a line":         {slant, Point{7, 9}, Point{4, 5}, 5, 5},
		"inside an arc":         {quarter, Point{3, 4}, Point{6, 8}, 10 * math.Atan2(4, 3), 5},
		"outside an arc":        {quarter, Point{12, 16}, Point{6, 8}, 10 * math.Atan2(4, 3), 10},
		"nearer the first end":  {quarter, Point{13, -4}, Point{10, 0}, 0, 5},
		"nearer the second end": {quarter, Point{-4, 13}, Point{0, 10}, 5 * math.Pi, 5},
		"at the centre":         {quarter, Point{}, Point{10, 0}, 0, 10},
		"left of a circle":      {whole, Point{-13, 0}, Point{-10, 0}, 10 * math.Pi, 3},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			q, s, d := tt.seg.Nearest(tt.p)
			samePoint(t, tt.q, q, 1e-14)
			assert.InDelta(t, tt.s, s, 1e-14)
			assert.InDelta(t, tt.d, d, 1e-14)
		})
	}
}

func TestSub(t *testing.T) {
	part := whole.Sub(5*math.Pi, 10*math.Pi)
	samePoint(t, Point{0, 10}, part.A, 1e-14)
	samePoint(t, Point{-10, 0}, part.B, 1e-14)
	assert.InDelta(t, math.Pi/2, part.Sweep(), 1e-14)
	assert.Equal(t, whole, whole.Sub(-1, 1000))
	assert.Zero(t, quarter.Sub(3, 3).Length())
	assert.Zero(t, quarter.Sub(4, 3).Length())

	// A part too short for the ends to be told apart must not become a circle.
	big := ArcAround(Point{1e9, 0}, Point{0, 1e9}, Point{}, false)
	for _, s := range []float64{1, 12345.678, 1e9} {
		for _, d := range []float64{1e-12, 1e-9, 1e-7, 1e-6} {
			assert.Less(t, big.Sub(s, s+d).Length(), 1e-5)
		}
	}
	all := ArcAround(Point{1e9, 0}, Point{1e9, 0}, Point{}, false)
	assert.InDelta(t, 2*math.Pi, all.Sub(0, all.Length()-1e-7).Sweep(), 1e-12)
}

// All of a circle but the last rounding is the whole circle and not nothing.
func TestSubOfNearlyAll(t *testing.T) {
	for k := range 1000 {
		a := Point{1e7, 0}.Rotate(float64(k)).Add(Point{3, 5})
		g := ArcAround(a, a, Point{3, 5}, k%2 == 0)
		for _, less := range []float64{1e-8, 1e-9, 1e-10} {
			part := g.Sub(less, g.Length()-less)
			require.InDelta(t, 2*math.Pi, math.Abs(part.Sweep()), 1e-8, "start at %v", k)
		}
	}
}

func TestSegmentProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		g := segment().Draw(t, "segment")
		length := g.Length()
		s := rapid.Float64Range(0, 1).Draw(t, "at") * length
		p := g.At(s)
		_, back, d := g.Nearest(p)
		require.InDelta(t, 0, d, 1e-6, "a point of the segment lies on it")
		if !(g.A == g.B && (back < 1e-6 || back > length-1e-6)) {
			require.InDelta(t, s, back, 1e-5, "Nearest finds the distance along")
		}
		require.True(t, g.Box().Grow(1e-6).Contains(p))

		s1 := rapid.Float64Range(0, 1).Draw(t, "to") * length
		from, to := min(s, s1), max(s, s1)
		parts := g.Sub(0, from).Length() + g.Sub(from, to).Length() + g.Sub(to, length).Length()
		require.InDelta(t, length, parts, 1e-5, "parts add up")
		samePoint(t, g.At((from+to)/2), g.Sub(from, to).At((to-from)/2), 1e-5, "a part follows the whole")

		r := g.Reverse()
		require.Equal(t, length, r.Length())
		samePoint(t, p, r.At(length-s), 1e-5, "the other way")
		if length > 10 {
			step := min(1, length/1e3)
			ahead := g.At(min(s+step, length)).Sub(g.At(max(s-step, 0))).Unit()
			require.Greater(t, ahead.Dot(g.Tangent(s)), 0.99, "the tangent points ahead")
		}
	})
}
