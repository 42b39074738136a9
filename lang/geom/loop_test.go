package geom

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Area, perimeter and centroid of plane figures by the usual handbook formulas
// (circle πr², stadium 2rl + πr², circular segment r²(θ-sin θ)/2 with its
// centroid 4r sin³(θ/2)/(3(θ-sin θ)) from the centre, Reuleaux triangle
// (π-√3)s²/2), written out here from memory.
func TestLoopMeasures(t *testing.T) {
	third := 2 * math.Pi / 3
	reuleaux := func(s float64) *Loop {
		a, b, c := Point{0, 0}, Point{s, 0}, Point{s / 2, s * math.Sqrt(3) / 2}
		return NewLoop([]Segment{ArcAround(a, b, c, false), ArcAround(b, c, a, false), ArcAround(c, a, b, false)})
	}
	// The part of a circle of radius 10 beyond a chord, seen over 120°.
	cap := NewLoop([]Segment{
		ArcAround(Point{5, -5 * math.Sqrt(3)}, Point{5, 5 * math.Sqrt(3)}, Point{}, false),
		Line(Point{5, 5 * math.Sqrt(3)}, Point{5, -5 * math.Sqrt(3)}),
	})
	notched := NewLoop([]Segment{ // a 20 by 10 rectangle with a half disc of radius 3 taken out
		Line(Point{0, 0}, Point{20, 0}), Line(Point{20, 0}, Point{20, 10}),
		Line(Point{20, 10}, Point{13, 10}), ArcAround(Point{13, 10}, Point{7, 10}, Point{10, 10}, true),
		Line(Point{7, 10}, Point{0, 10}), Line(Point{0, 10}, Point{0, 0}),
	})
	tests := map[string]struct {
		loop            *Loop
		area, perimeter float64
		centroid        Point
	}{
		"rectangle":        {RectangleAt(Point{1, 2}, 30, 20, 0), 600, 100, Point{16, 12}},
		"rounded":          {RectangleAt(Point{1, 2}, 30, 20, 4), 600 - 16*(4-math.Pi), 100 - 8*4 + 8*math.Pi, Point{16, 12}},
		"circle":           {Circle(Point{3, -4}, 10), 25 * math.Pi, 10 * math.Pi, Point{3, -4}},
		"stadium":          {Slot(Point{3, -4}, 30, 10, 1.1), 200 + 25*math.Pi, 40 + 10*math.Pi, Point{3, -4}},
		"3-4-5 triangle":   {Polygon(Point{0, 0}, Point{4, 0}, Point{0, 3}), 6, 12, Point{4.0 / 3, 1}},
		"circular segment": {cap, 50 * (third - math.Sin(third)), 10*third + 10*math.Sqrt(3), Point{40 * math.Pow(math.Sqrt(3)/2, 3) / (3 * (third - math.Sin(third))), 0}},
		"Reuleaux":         {reuleaux(6), 18 * (math.Pi - math.Sqrt(3)), 6 * math.Pi, Point{3, math.Sqrt(3)}},
		"notched": {notched, 200 - 4.5*math.Pi, 54 + 3*math.Pi,
			Point{10, (200*5 - 4.5*math.Pi*(10-4/math.Pi)) / (200 - 4.5*math.Pi)}},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			assert.InEpsilon(t, tt.area, tt.loop.SignedArea(), 1e-14)
			assert.InEpsilon(t, tt.perimeter, tt.loop.Perimeter(), 1e-14)
			samePoint(t, tt.centroid, tt.loop.Centroid(), 1e-13)
			assert.False(t, tt.loop.Clockwise())

			back := tt.loop.Reverse()
			assert.InEpsilon(t, -tt.area, back.SignedArea(), 1e-14)
			assert.InEpsilon(t, tt.perimeter, back.Perimeter(), 1e-14)
			samePoint(t, tt.centroid, back.Centroid(), 1e-13)
			assert.True(t, back.Clockwise())
			assert.Equal(t, tt.loop.At(0), back.At(0), "from the same point")
			assert.Equal(t, tt.loop.Box(), back.Box())

			// Far off the numbers hold to rounding of the coordinates.
			far := moved(tt.loop, Point{1 << 33, -(1 << 32)})
			assert.InEpsilon(t, tt.area, far.SignedArea(), 1e-5)

			// The sweep gets the same area another way.
			swept := AreaWhere([]*Loop{tt.loop}, func(in []bool) bool { return in[0] })
			assert.InEpsilon(t, tt.area, swept, 1e-14)
		})
	}
}

// x - sin x = x³/6 - x⁵/120 + x⁷/5040 - …
func TestSinDefect(t *testing.T) {
	for _, x := range []float64{1e-9, 1e-3, 0.01, 0.0999, 0.1001, -0.05} {
		want := x * x * x * (1.0/6 - x*x*(1.0/120-x*x*(1.0/5040-x*x/362880)))
		assert.InEpsilon(t, want, sinDefect(x), 2e-13, "x = %v", x)
	}
	assert.Equal(t, 2*math.Pi, sinDefect(2*math.Pi)+math.Sin(2*math.Pi))
}

func TestRegion(t *testing.T) {
	// A disc of radius 10 with a disc of radius 3 out of it, 5 off the centre.
	r := Region{Circle(Point{}, 20), []*Loop{Circle(Point{5, 0}, 6).Reverse()}}
	assert.InDelta(t, 91*math.Pi, r.Area(), 1e-12)
	samePoint(t, Point{-45.0 / 91, 0}, r.Centroid(), 1e-14)
	assert.True(t, r.Contains(Point{-5, 0}))
	assert.True(t, r.Contains(Point{9, 0}))
	assert.False(t, r.Contains(Point{5, 1}))
	assert.False(t, r.Contains(Point{11, 0}))
	assert.Zero(t, Region{}.Area())
	assert.False(t, Region{}.Contains(Point{}))
}

func TestConstructorsRunAsDocumented(t *testing.T) {
	rounded := RectangleAt(Point{0, 0}, 100, 60, 10).Segments()
	require.Len(t, rounded, 8)
	assert.Equal(t, Line(Point{10, 0}, Point{90, 0}), rounded[0])
	assert.Equal(t, ArcAround(Point{90, 0}, Point{100, 10}, Point{90, 10}, false), rounded[1])
	assert.Equal(t, Line(Point{100, 10}, Point{100, 50}), rounded[2])
	assert.Equal(t, ArcAround(Point{100, 50}, Point{90, 60}, Point{90, 50}, false), rounded[3])
	assert.Equal(t, Line(Point{90, 60}, Point{10, 60}), rounded[4])
	assert.Equal(t, ArcAround(Point{10, 60}, Point{0, 50}, Point{10, 50}, false), rounded[5])
	assert.Equal(t, Line(Point{0, 50}, Point{0, 10}), rounded[6])
	assert.Equal(t, ArcAround(Point{0, 10}, Point{10, 0}, Point{10, 10}, false), rounded[7])

	assert.Len(t, RectangleAt(Point{}, 100, 60, 0).Segments(), 4)
	assert.Len(t, RectangleAt(Point{}, 100, 60, 30).Segments(), 6, "the upright sides are used up")
	assert.Len(t, RectangleAt(Point{}, 60, 60, 30).Segments(), 4, "all sides are used up")
	assert.Equal(t, RectangleAt(Point{}, 100, 60, 30).Segments(), RectangleAt(Point{}, 100, 60, 99).Segments())

	assert.Equal(t, []Segment{ArcAround(Point{8, 2}, Point{8, 2}, Point{3, 2}, false)}, Circle(Point{3, 2}, 10).Segments())
	assert.Equal(t, Circle(Point{3, 2}, 10).Segments(), Slot(Point{3, 2}, 10, 10, 1).Segments())
	slot := Slot(Point{0, 0}, 30, 10, 0).Segments()
	assert.Equal(t, Line(Point{-10, -5}, Point{10, -5}), slot[0])
	assert.Equal(t, ArcAround(Point{10, -5}, Point{10, 5}, Point{10, 0}, false), slot[1])
	assert.Equal(t, Box{Point{-5, -15}, Point{5, 15}}, Slot(Point{}, 30, 10, math.Pi/2).Box(), "a quarter turn is exact")
	assert.Equal(t, Box{Point{-5, -15}, Point{5, 15}}, Slot(Point{}, 10, 30, 0).Box(), "wider than long")
}

func TestLoopPlaces(t *testing.T) {
	l := RectangleAt(Point{0, 0}, 100, 60, 0)
	tests := []struct {
		s      float64
		index  int
		local  float64
		at, to Point
	}{
		{0, 0, 0, Point{0, 0}, Point{1, 0}},
		{100, 1, 0, Point{100, 0}, Point{0, 1}},
		{130, 1, 30, Point{100, 30}, Point{0, 1}},
		{320, 0, 0, Point{0, 0}, Point{1, 0}},
		{330, 0, 10, Point{10, 0}, Point{1, 0}},
		{-10, 3, 50, Point{0, 10}, Point{0, -1}},
		{math.NaN(), 0, 0, Point{0, 0}, Point{1, 0}},
	}
	for _, tt := range tests {
		index, local := l.SegmentAt(tt.s)
		assert.Equal(t, tt.index, index, "at %v", tt.s)
		assert.Equal(t, tt.local, local, "at %v", tt.s)
		assert.Equal(t, tt.at, l.At(tt.s), "at %v", tt.s)
		assert.Equal(t, tt.to, l.Tangent(tt.s), "at %v", tt.s)
	}
	assert.Equal(t, 160.0, l.Start(2))
	assert.Equal(t, 320.0, l.Start(4))
	q, s, d := l.Nearest(Point{103, 30})
	assert.Equal(t, Point{100, 30}, q)
	assert.Equal(t, 130.0, s)
	assert.Equal(t, 3.0, d)
}

func TestStretch(t *testing.T) {
	l := RectangleAt(Point{0, 0}, 100, 60, 0)
	south := Line(Point{0, 0}, Point{100, 0})
	assert.Equal(t, []Segment{Line(Point{10, 0}, Point{30, 0})}, l.Stretch(10, 30))
	assert.Equal(t, []Segment{Line(Point{90, 0}, Point{100, 0}), Line(Point{100, 0}, Point{100, 20})}, l.Stretch(90, 120))
	assert.Equal(t, []Segment{Line(Point{0, 20}, Point{0, 0}), Line(Point{0, 0}, Point{30, 0})}, l.Stretch(300, 30), "over the seam")
	assert.Equal(t, []Segment{Line(Point{0, 20}, Point{0, 0}), Line(Point{0, 0}, Point{30, 0})}, l.Stretch(300, 350), "beyond the seam")
	assert.Equal(t, l.Segments(), l.Stretch(0, 320), "all round")
	assert.Equal(t, []Segment{south}, l.Stretch(0, 100), "a whole side")
	assert.Equal(t, []Segment{south}, l.Stretch(320-1e-12, 100+1e-12), "rounding leaves no splinters")
	assert.Equal(t, []Segment{south}, l.Stretch(1e-12, 100-1e-12), "nor loses a corner")
	round := l.Stretch(50, 50)
	require.Len(t, round, 5)
	assert.Equal(t, round[0].A, round[4].B)
	circle := Circle(Point{}, 20)
	assert.Equal(t, circle.Segments(), circle.Stretch(0, 0))
	require.Len(t, circle.Stretch(5, 5), 2)
}

func TestLoopProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := placed(10*mm, 30*mm).Draw(t, "loop")
		p := l.Perimeter()
		s0 := rapid.Float64Range(0, p).Draw(t, "s0")
		s1 := rapid.Float64Range(0, p).Draw(t, "s1")
		at := l.At(s0)
		_, back, d := l.Nearest(at)
		require.InDelta(t, 0, d, 1e-6)
		samePoint(t, at, l.At(back), 1e-5)

		var length float64
		path := l.Stretch(s0, s1)
		for i, g := range path {
			length += g.Length()
			if i > 0 {
				require.Equal(t, path[i-1].B, g.A, "the path holds together")
			}
		}
		want := math.Mod(s1, p) - math.Mod(s0, p)
		if want <= 0 {
			want += p
		}
		require.InDelta(t, want, length, 1e-4)

		i, local := l.SegmentAt(s0)
		if local < 100 || local > l.Segments()[i].Length()-100 {
			return // beside a joint there may be another segment
		}
		out := l.Tangent(s0).Left()
		for _, hop := range []float64{1, -1} {
			beside := at.Add(out.Scale(hop))
			if _, _, d := l.Nearest(beside); math.Abs(d-1) < 1e-6 { // not across a sharp corner
				require.Equal(t, hop > 0, l.Contains(beside), "inside is left of a counterclockwise loop")
			}
		}
	})
}

func TestContainsByFlattening(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := placed(10*mm, mm).Draw(t, "loop")
		const deviation = 100
		corners := l.Flatten(deviation)
		p := Point{rapid.Float64Range(-12*mm, 12*mm).Draw(t, "x"), rapid.Float64Range(-12*mm, 12*mm).Draw(t, "y")}
		if rapid.Bool().Draw(t, "level with a corner") {
			p.Y = rapid.SampledFrom(corners).Draw(t, "corner").Y
		}
		if _, _, d := l.Nearest(p); d <= deviation {
			return
		}
		inside := false // even-odd rule over the corners
		for i, a := range corners {
			b := corners[(i+1)%len(corners)]
			if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
				inside = !inside
			}
		}
		require.Equal(t, inside, l.Contains(p))
		require.Equal(t, inside, l.Reverse().Contains(p))
	})
}

func TestFlatten(t *testing.T) {
	t.Parallel()
	assert.Len(t, RectangleAt(Point{}, 10, 10, 0).Flatten(1), 4)
	assert.Len(t, Circle(Point{}, 10).Flatten(100), 4, "never fewer than four to a circle")
	// Eight chords of a circle lie r(1-cos 22.5°) off it.
	eight := 5 * (1 - math.Cos(math.Pi/8))
	assert.Len(t, Circle(Point{}, 10).Flatten(eight*1.0001), 8)
	assert.Len(t, Circle(Point{}, 10).Flatten(eight*0.9999), 9)
	rapid.Check(t, func(t *rapid.T) {
		l := shape(10*mm).Draw(t, "loop")
		deviation := math.Pow(10, rapid.Float64Range(1, 6).Draw(t, "deviation"))
		points := l.Flatten(deviation)
		for i, p := range points {
			q := points[(i+1)%len(points)]
			_, _, d := l.Nearest(p)
			require.InDelta(t, 0, d, 1e-6)
			_, _, d = l.Nearest(p.Add(q).Scale(0.5))
			require.LessOrEqual(t, d, deviation*(1+1e-9)+1e-6)
		}
		require.InDelta(t, l.SignedArea(), Polygon(points...).SignedArea(), deviation*l.Perimeter())
	})
}
