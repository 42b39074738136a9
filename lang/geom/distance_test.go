package geom

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Elementary geometry: every expected number follows from a right triangle or
// from radii and the distance of centres.
func TestDistance(t *testing.T) {
	circle := func(x, y, r float64) Segment {
		return ArcAround(Point{x + r, y}, Point{x + r, y}, Point{x, y}, false)
	}
	half := ArcAround(Point{5, 0}, Point{-5, 0}, Point{}, false) // the upper half
	tests := map[string]struct {
		a, b Segment
		d    float64
	}{
		"parallel lines":            {Line(Point{0, 0}, Point{10, 0}), Line(Point{3, 7}, Point{20, 7}), 7},
		"lines end on":              {Line(Point{0, 0}, Point{10, 0}), Line(Point{13, 4}, Point{20, 4}), 5},
		"lines crossing":            {Line(Point{0, 0}, Point{10, 10}), Line(Point{0, 10}, Point{10, 0}), 0},
		"lines touching":            {Line(Point{0, 0}, Point{10, 0}), Line(Point{5, 0}, Point{5, 9}), 0},
		"line end to slanted line":  {Line(Point{0, 0}, Point{6, 8}), Line(Point{3 + 8, 4 - 6}, Point{30, -20}), 10},
		"line past a circle":        {Line(Point{-10, 8}, Point{10, 8}), circle(0, 0, 5), 3},
		"line through a circle":     {Line(Point{-10, 3}, Point{10, 3}), circle(0, 0, 5), 0},
		"line inside a circle":      {Line(Point{-3, 0}, Point{1, 0}), circle(0, 0, 5), 2},
		"tangent line":              {Line(Point{-10, 5}, Point{10, 5}), circle(0, 0, 5), 0},
		"line ends before a circle": {Line(Point{-20, 0}, Point{-8, 0}), circle(0, 0, 5), 3},
		"line under a half circle":  {Line(Point{-20, -12}, Point{20, -12}), half, 12},
		"line over a half circle":   {Line(Point{-20, 12}, Point{20, 12}), half, 7},
		"circles apart":             {circle(0, 0, 5), circle(30, 40, 15), 30},
		"circle in a circle":        {circle(0, 0, 20), circle(3, 4, 5), 10},
		"concentric circles":        {circle(0, 0, 20), circle(0, 0, 5), 15},
		"circles crossing":          {circle(0, 0, 5), circle(6, 0, 5), 0},
		"circles tangent":           {circle(0, 0, 5), circle(8, 0, 3), 0},
		"circles tangent inside":    {circle(0, 0, 5), circle(2, 0, 3), 0},
		"arcs that face away":       {half, ArcAround(Point{-5, -10}, Point{5, -10}, Point{0, -10}, false), 10},
		"arcs back to back":         {half, ArcAround(Point{-5, 20}, Point{5, 20}, Point{0, 20}, false), 10},
		"arc within an arc":         {half, ArcAround(Point{2, 0}, Point{-2, 0}, Point{}, false), 3},
		"same arc":                  {half, half, 0},
		"a point and a line":        {Line(Point{3, 4}, Point{3, 4}), Line(Point{-9, 0}, Point{9, 0}), 4},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			d, pa, pb := Distance(tt.a, tt.b)
			assert.InDelta(t, tt.d, d, 1e-13)
			assert.InDelta(t, tt.d, pa.Dist(pb), 1e-13, "points %v %v", pa, pb)
			_, _, off := tt.a.Nearest(pa)
			assert.InDelta(t, 0, off, 1e-13)
			_, _, off = tt.b.Nearest(pb)
			assert.InDelta(t, 0, off, 1e-13)
			if tt.d == 0 {
				assert.Zero(t, d)
				assert.Equal(t, pa, pb)
			}
		})
	}
}

func TestDistanceAlongAxesIsExact(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.Map(rapid.Int64Range(-1e10, 1e10), func(n int64) float64 { return float64(n) })
		x0, x1, x2, x3 := whole.Draw(t, "x0"), whole.Draw(t, "x1"), whole.Draw(t, "x2"), whole.Draw(t, "x3")
		y0, y1 := whole.Draw(t, "y0"), whole.Draw(t, "y1")
		if max(x0, x1) < min(x2, x3) || max(x2, x3) < min(x0, x1) {
			return
		}
		a, b := Line(Point{x0, y0}, Point{x1, y0}), Line(Point{x2, y1}, Point{x3, y1})
		d, _, _ := Distance(a, b)
		require.Equal(t, math.Abs(y1-y0), d)
		turned := func(g Segment) Segment { return Line(g.A.Left(), g.B.Left()) }
		d, _, _ = Distance(turned(a), turned(b))
		require.Equal(t, math.Abs(y1-y0), d)
	})
}

// A point worked out to lie on a segment is off it by rounding; that is meeting.
func TestDistanceWithinRounding(t *testing.T) {
	for _, g := range []Segment{Line(Point{1e8 + 1, 7}, Point{3e8, 2e8 + 1}), arcOver(Point{1e8, 7}, Point{3e8, 2e8}, 0.3)} {
		for k := 1.0; k < 100; k++ {
			p := g.At(g.Length() * k / 100)
			from := Line(p, p.Add(g.Tangent(g.Length()*k/100).Left().Scale(1e7)))
			d, pa, pb := Distance(from, g)
			require.Zero(t, d)
			require.Equal(t, pa, pb)
		}
	}
}

func TestDistanceAgainstSampling(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, b := segment().Draw(t, "a"), segment().Draw(t, "b")
		d, pa, pb := Distance(a, b)
		back, _, _ := Distance(b, a)
		require.InDelta(t, d, back, 1e-6, "symmetric")
		require.InDelta(t, d, pa.Dist(pb), 1e-6, "attained")
		_, _, off := a.Nearest(pa)
		require.InDelta(t, 0, off, 1e-6)
		_, _, off = b.Nearest(pb)
		require.InDelta(t, 0, off, 1e-6)

		const n = 200
		sampled := math.Inf(1)
		for k := range n + 1 {
			_, _, far := b.Nearest(a.At(a.Length() * float64(k) / n))
			sampled = min(sampled, far)
		}
		require.LessOrEqual(t, d, sampled+1e-6)
		require.GreaterOrEqual(t, d, sampled-a.Length()/n/2-1e-6, "no farther than half a step off")
	})
}

func TestLoopAndShapeDistance(t *testing.T) {
	board := RectangleAt(Point{0, 0}, 100, 60, 0)
	hole := Circle(Point{30, 30}, 20)
	d, pa, pb := LoopDistance(board, hole)
	assert.Equal(t, 20.0, d)
	assert.Equal(t, 20.0, pa.Dist(pb))
	d, pa, pb = ShapeDistance(board, hole)
	assert.Zero(t, d, "the one lies in the other")
	assert.Equal(t, pa, pb)
	assert.True(t, board.Contains(pa))
	d, _, _ = ShapeDistance(hole, board)
	assert.Zero(t, d)

	solid := Region{board, []*Loop{hole}}
	d, pa, pb = solid.DistanceTo(Region{Outer: Circle(Point{30, 30}, 10)})
	assert.InDelta(t, 5, d, 1e-14, "a thing in a hole is as far as the hole's rim")
	assert.InDelta(t, 10, pa.Dist(Point{30, 30}), 1e-14)
	assert.InDelta(t, 5, pb.Dist(Point{30, 30}), 1e-14)
	d, _, _ = solid.DistanceTo(Region{Outer: Circle(Point{70, 30}, 10)})
	assert.Zero(t, d)
	d, _, _ = solid.DistanceTo(Region{Outer: RectangleAt(Point{-50, -50}, 300, 300, 0)})
	assert.Zero(t, d, "seen from inside the other")
	d, _, _ = solid.DistanceTo(Region{Outer: RectangleAt(Point{103, 64}, 5, 5, 0)})
	assert.Equal(t, 5.0, d)
}
