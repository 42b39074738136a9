package geom

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"testing"

	simple "github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A polygon library, simplefeatures, is a second outside measure where there
// are no arcs, and so no chord error.

// starPolygon draws a simple polygon with corners on a grid of whole steps; a
// coarse grid brings edges that coincide and corners on edges.
func starPolygon(step float64, steps int) *rapid.Generator[*Loop] {
	corner := rapid.Custom(func(t *rapid.T) Point {
		at := rapid.IntRange(-steps, steps)
		return Point{step * float64(at.Draw(t, "x")), step * float64(at.Draw(t, "y"))}
	})
	byAngle := func(p Point) float64 { return math.Atan2(p.Y, p.X) }
	return rapid.Custom(func(t *rapid.T) *Loop {
		corners := rapid.SliceOfNDistinct(corner, 3, 12, byAngle).Draw(t, "corners")
		slices.SortFunc(corners, func(p, q Point) int { return cmp.Compare(byAngle(p), byAngle(q)) })
		by := Point{step * float64(rapid.IntRange(-steps, steps).Draw(t, "right")), step * float64(rapid.IntRange(-steps, steps).Draw(t, "up"))}
		for i := range corners {
			corners[i] = corners[i].Add(by)
		}
		return Polygon(corners...)
	}).Filter(func(l *Loop) bool { return l.SignedArea() > 0 && len(l.Crossings(tol)) == 0 })
}

func asSimple(t require.TestingT, l *Loop) simple.Geometry {
	var xy []float64
	for _, g := range l.Segments() {
		xy = append(xy, g.A.X, g.A.Y)
	}
	xy = append(xy, xy[0], xy[1])
	ring := simple.NewLineString(simple.NewSequence(xy, simple.DimXY))
	p := simple.NewPolygon([]simple.LineString{ring})
	require.NoError(t, p.Validate(), "a loop without crossings is a valid polygon")
	return p.AsGeometry()
}

func TestAgainstSimpleFeatures(t *testing.T) {
	t.Parallel()
	cases, refused, largest := 0, 0, worst{}
	check := func(step float64, steps int) func(t *rapid.T) {
		return func(t *rapid.T) {
			cases++
			a, b := starPolygon(step, steps).Draw(t, "a"), starPolygon(step, steps).Draw(t, "b")
			sa, sb := asSimple(t, a), asSimple(t, b)
			within := func(what string, want, got, allowed float64) {
				largest[what] = max(largest[what], math.Abs(want-got))
				require.InDelta(t, want, got, allowed, what)
			}
			size := step * float64(steps)
			square := size * size
			within("area (of the size)", sa.Area()/square, a.SignedArea()/square, 1e-13)
			within("length", 1, a.Perimeter()/sa.Boundary().Length(), 1e-13)
			want, ok := simple.Distance(sa, sb)
			require.True(t, ok)
			d, _, _ := ShapeDistance(a, b)
			within("distance (of the size)", want/size, d/size, 1e-14)
			want, _ = simple.Distance(sa.Boundary(), sb.Boundary())
			d, _, _ = LoopDistance(a, b)
			within("boundary distance (of the size)", want/size, d/size, 1e-14)

			union, err1 := simple.Union(sa, sb)
			common, err2 := simple.Intersection(sa, sb)
			rest, err3 := simple.Difference(sa, sb)
			if errors.Join(err1, err2, err3) != nil {
				refused++ // splinters make it give up now and then, and say so
				return
			}
			shapes := []*Loop{a, b}
			within("union (of the size)", union.Area()/square, AreaWhere(shapes, either)/square, 1e-12)
			within("intersection (of the size)", common.Area()/square, AreaWhere(shapes, both)/square, 1e-12)
			within("difference (of the size)", rest.Area()/square,
				AreaWhere(shapes, func(in []bool) bool { return in[0] && !in[1] })/square, 1e-12)
		}
	}
	t.Run("coarse grid", func(t *testing.T) { rapid.Check(t, check(10*mm, 5)) })
	t.Run("fine grid", func(t *testing.T) { rapid.Check(t, check(1, 1e8)) })
	assert.LessOrEqual(t, refused, 1+cases/100)
	t.Logf("%d pairs (%d refused), largest deviations: %v", cases, refused, largest)
}

func TestHullAgainstSimpleFeatures(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		steps := rapid.SampledFrom([]int{4, 1e8}).Draw(t, "steps")
		at := rapid.IntRange(-steps, steps)
		points := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Point {
			return Point{float64(at.Draw(t, "x")), float64(at.Draw(t, "y"))}
		}), 3, 30).Draw(t, "points")
		var all []simple.Point
		for _, p := range points {
			all = append(all, simple.XY{X: p.X, Y: p.Y}.AsPoint())
		}
		want := simple.NewMultiPoint(all).ConvexHull()
		hull := Hull(points)
		if len(hull) < 3 {
			require.False(t, want.IsPolygon())
			return
		}
		require.True(t, want.IsPolygon())
		require.Equal(t, want.MustAsPolygon().ExteriorRing().Coordinates().Length()-1, len(hull))
		size := float64(steps)
		require.InDelta(t, want.Area()/size/size, Polygon(hull...).SignedArea()/size/size, 1e-13)
	})
}
