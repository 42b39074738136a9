package geom

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var odd = []float64{0, 1, -1, 2, 3, 1e10, -1e10, 1e-300, 1e154, 1e300, -math.MaxFloat64, math.NaN(), math.Inf(1), math.Inf(-1)}

func oddPoint(t *rapid.T) Point {
	n := rapid.SampledFrom([]int{5, 7, 11, len(odd)}).Draw(t, "how odd")
	v := rapid.SampledFrom(odd[:n])
	return Point{v.Draw(t, "x"), v.Draw(t, "y")}
}

func oddSegment(t *rapid.T) Segment {
	a, b, c := oddPoint(t), oddPoint(t), oddPoint(t)
	if rapid.Bool().Draw(t, "equal ends") {
		b = a
	}
	return Segment{a, b, c, rapid.Bool().Draw(t, "arc"), rapid.Bool().Draw(t, "clockwise")}
}

// Whatever the numbers, everything returns, and what is finite stays sane.
func TestOddInputReturns(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s, p := rapid.SampledFrom(odd).Draw(t, "s"), oddPoint(t)
		s1, w := rapid.SampledFrom(odd).Draw(t, "s1"), rapid.SampledFrom(odd).Draw(t, "w")
		g, h := oddSegment(t), oddSegment(t)
		for _, k := range []Segment{g, h, g.Reverse(), g.Sub(s, s1)} {
			require.GreaterOrEqual(t, k.Length(), 0.0)
			k.At(s)
			k.Tangent(s)
			k.Box()
			k.Nearest(p)
		}
		Distance(g, h)
		Intersections(g, h, w)

		segs := []Segment{g, h}
		for range rapid.IntRange(0, 4).Draw(t, "more") {
			segs = append(segs, oddSegment(t))
		}
		l, m := NewLoop(segs), NewLoop(segs[1:])
		for _, k := range []*Loop{l, m, l.Reverse(), NewLoop(nil), Circle(p, w), RectangleAt(p, s, s1, w), Slot(p, s, s1, w), Polygon(p)} {
			k.At(s)
			k.Tangent(s)
			k.Stretch(s, s1)
			k.Nearest(p)
			k.Contains(p)
			k.Crossings(w)
			k.Clockwise()
			Cross(k, l, w)
			LoopDistance(k, l)
			ShapeDistance(k, l)
			AreaWhere([]*Loop{k, l}, either)
			Band(k.Segments(), w, true)
			if w > 1e-3 {
				require.LessOrEqual(t, len(NewLoop(segs[:1]).Flatten(w)), 1<<16)
			}
		}
		r := Region{l, []*Loop{m}}
		r.Centroid()
		r.DistanceTo(Region{Outer: m})
		StrictlyInside(Hull([]Point{p, g.A, g.B, h.A, h.B}), p, w)
		a := Intervals{{s, s1}, {w, s}}
		Union(a, w)
		Subtract(a, Intervals{{s1, w}}, s)
		Complement(a, w)
		a.Runs(w, s)
		OnRing(s, s1, w)
	})
}

func TestWithoutExtent(t *testing.T) {
	spot := Line(Point{3, 4}, Point{3, 4})
	dot := ArcAround(Point{3, 4}, Point{3, 4}, Point{3, 4}, false)
	for _, g := range []Segment{spot, dot} {
		assert.Zero(t, g.Length())
		assert.Zero(t, g.Sweep())
		assert.Equal(t, Point{}, g.Tangent(0))
		assert.Equal(t, Point{3, 4}, g.At(1))
		assert.Equal(t, Box{Point{3, 4}, Point{3, 4}}, g.Box())
		q, s, d := g.Nearest(Point{})
		assert.Equal(t, Point{3, 4}, q)
		assert.Zero(t, s)
		assert.Equal(t, 5.0, d)
		d, _, _ = Distance(g, Line(Point{-9, 0}, Point{9, 0}))
		assert.Equal(t, 4.0, d)
		assert.Equal(t, []Point{{3, 4}}, Intersections(g, Line(Point{3, 0}, Point{3, 9}), tol))
		assert.Empty(t, Intersections(g, Line(Point{4, 0}, Point{4, 9}), tol))

		l := NewLoop([]Segment{g})
		assert.Zero(t, l.Perimeter())
		assert.Zero(t, l.SignedArea())
		assert.Equal(t, Point{3, 4}, l.Centroid())
		assert.Equal(t, Point{3, 4}, l.At(7))
		assert.Empty(t, l.Stretch(0, 0))
		assert.False(t, l.Contains(Point{3, 4}))
		assert.Empty(t, l.Crossings(tol))
	}
	flat := RectangleAt(Point{}, 10, -5, 3)
	assert.Zero(t, flat.SignedArea())
	assert.Equal(t, 20.0, flat.Perimeter())
	assert.Zero(t, Circle(Point{}, -1).Perimeter())
}

func TestWithoutSegments(t *testing.T) {
	none := NewLoop(nil)
	assert.True(t, none.Box().Empty())
	assert.Equal(t, Point{}, none.At(3))
	i, _ := none.SegmentAt(3)
	assert.Equal(t, -1, i)
	_, _, d := none.Nearest(Point{})
	assert.True(t, math.IsInf(d, 1))
	d, _, _ = ShapeDistance(none, Circle(Point{}, 2))
	assert.True(t, math.IsInf(d, 1))
	d, _, _ = Region{}.DistanceTo(Region{Outer: none})
	assert.True(t, math.IsInf(d, 1))
	assert.Zero(t, AreaWhere([]*Loop{none}, func(in []bool) bool { return true }))
	assert.Empty(t, none.Flatten(1))
}

func TestNotFinite(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for _, g := range []Segment{Line(Point{0, 0}, Point{v, 0}), ArcAround(Point{1, 0}, Point{0, 1}, Point{0, v}, false)} {
			assert.Zero(t, g.Length())
			assert.True(t, g.Box().Empty())
			_, _, d := g.Nearest(Point{})
			assert.True(t, math.IsInf(d, 1))
			d, _, _ = Distance(g, slant)
			assert.True(t, math.IsInf(d, 1))
			d, _, _ = Distance(slant, g)
			assert.True(t, math.IsInf(d, 1))
			assert.Empty(t, Intersections(slant, g, tol))

			broken := NewLoop(append(RectangleAt(Point{}, 10, 10, 0).Segments()[:3:3], g))
			assert.Zero(t, broken.SignedArea())
			square := RectangleAt(Point{5, 5}, 10, 10, 0)
			assert.Equal(t, 100.0, AreaWhere([]*Loop{broken, square}, either))
			assert.Zero(t, AreaWhere([]*Loop{broken, square}, both))
		}
		_, _, d := slant.Nearest(Point{v, 0})
		assert.True(t, math.IsInf(d, 1))
		assert.False(t, RectangleAt(Point{}, 10, 10, 0).Contains(Point{v, 5}))
		assert.Equal(t, Slot(Point{}, 30, 10, 0).Segments(), Slot(Point{}, 30, 10, v).Segments())
	}
}
