package geom

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// AreaCovered, which looks at everything at once, is what AreaOf is held to,
// whether it looks shape by shape or not.
func TestAreaOfIsAreaCovered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		loops := func(what string, most int) (list []*Loop) {
			for range rapid.IntRange(0, most).Draw(t, what) {
				at := Point{math.Round(rapid.Float64Range(-3, 3).Draw(t, "x") * mm), math.Round(rapid.Float64Range(-3, 3).Draw(t, "y") * mm)}
				radius := rapid.SampledFrom([]float64{0.5 * mm, mm, 3 * mm}).Draw(t, "radius")
				list = append(list, moved(star(radius).Draw(t, "loop"), at))
			}
			return list
		}
		shapes, one, two := loops("shapes", 6), loops("one", 3), loops("two", 60)
		keep := func(c []int) bool { return c[0] > 0 && c[1] == 0 || c[1] == 2 }
		want := AreaCovered([][]*Loop{one, two, shapes}, func(c []int) bool { return c[2] > 0 && keep(c[:2]) })
		groups := []*Shapes{NewShapes(one...), NewShapes(two...)}
		assert.InDelta(t, want, areaNear(shapes, groups, keep), 1e-9*mm*mm)
		assert.InDelta(t, want, AreaOf(shapes, groups, keep), 1e-9*mm*mm)
		if len(shapes)+len(one)+len(two) <= 60 {
			assert.Equal(t, want, AreaOf(shapes, groups, keep), "to the last digit of few")
		}
	})
}

func TestAreaOfSmallShapesByTheSidesOfALargeOne(t *testing.T) {
	board, hole := NewShapes(RectangleAt(Point{}, 100*mm, 50*mm, 5*mm)), NewShapes(Circle(Point{50 * mm, 25 * mm}, 10*mm))
	inside := func(c []int) bool { return c[0] > 0 && c[1] == 0 }
	for _, tt := range []struct {
		at   Point
		want float64
	}{
		{Point{20 * mm, 20 * mm}, 1},       // all of the outline's sides lie beyond its box
		{Point{-0.25 * mm, 20 * mm}, 0.75}, // over the left one
		{Point{99.25 * mm, 20 * mm}, 0.75}, // over the right one
		{Point{-20 * mm, 20 * mm}, 0},      // beside it
		{Point{120 * mm, 20 * mm}, 0},      // with all of it to the left
		{Point{50 * mm, 25 * mm}, 0},       // in the hole
		{Point{70 * mm, 25 * mm}, 1},       // with the hole to the left
		{Point{20 * mm, 49.5 * mm}, 0.5},   // over the upper one
		{Point{0, 0}, 0},                   // at the round corner
		{Point{50 * mm, 55 * mm}, 0},       // above
	} {
		square := RectangleAt(tt.at, mm, mm, 0)
		for _, area := range []func([]*Loop, []*Shapes, func([]int) bool) float64{AreaOf, areaNear} {
			assert.InDelta(t, tt.want*mm*mm, area([]*Loop{square}, []*Shapes{board, hole}, inside), 1, "at %v", tt.at)
			assert.InDelta(t, tt.want*mm*mm, area([]*Loop{square, square}, []*Shapes{board, hole}, inside), 1, "what two cover counts once")
		}
	}
}

func TestShapesThatAreNotFiniteAreLeftOut(t *testing.T) {
	square := RectangleAt(Point{}, mm, mm, 0)
	broken := NewLoop([]Segment{Line(Point{}, Point{X: mm}), Line(Point{X: mm}, Point{math.NaN(), mm}), Line(Point{math.NaN(), mm}, Point{Y: mm}), Line(Point{Y: mm}, Point{})})
	tall := NewLoop([]Segment{Line(Point{}, Point{X: mm}), Line(Point{X: mm}, Point{mm, math.Inf(1)}), Line(Point{mm, math.Inf(1)}, Point{})})
	all := func([]int) bool { return true }
	for _, area := range []func([]*Loop, []*Shapes, func([]int) bool) float64{AreaOf, areaNear} {
		assert.Zero(t, area([]*Loop{broken, tall}, nil, all))
		assert.Equal(t, mm*mm, area([]*Loop{square, broken, tall}, []*Shapes{NewShapes(broken, tall)}, func(c []int) bool { return c[0] == 0 }))
		with := NewShapes(broken, moved(square, Point{Y: 2 * mm}), square)
		assert.Equal(t, mm*mm, area([]*Loop{square}, []*Shapes{with}, func(c []int) bool { return c[0] == 1 }), "those beside them are found")
		assert.Zero(t, area(nil, []*Shapes{NewShapes(square)}, all))
	}
}

// The area of many small shapes, each near few of many others.
func BenchmarkAreaOf(b *testing.B) {
	for _, n := range []int{100, 1000, 10_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var shapes []*Loop
			var others []*Loop
			for i := range n {
				at := Point{float64(i%100) * 2 * mm, float64(i/100) * 2 * mm}
				shapes = append(shapes, RectangleAt(at, mm, mm, 0))
				others = append(others, Circle(at, mm))
			}
			near := NewShapes(others...)
			b.ReportAllocs()
			for b.Loop() {
				AreaOf(shapes, []*Shapes{near}, func(c []int) bool { return c[0] == 0 })
			}
		})
	}
}
