package geom

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// gear is a board outline of n segments, teeth with arcs between them.
func gear(n int) *Loop {
	teeth := n / 4
	at := func(k float64, r float64) Point {
		a := k / float64(teeth) * 2 * math.Pi
		return Point{r * math.Cos(a), r * math.Sin(a)}
	}
	var segs []Segment
	for i := range teeth {
		k := float64(i)
		a, b, c, d, e := at(k, 100*mm), at(k+0.25, 100*mm), at(k+0.25, 103*mm), at(k+0.75, 103*mm), at(k+0.75, 100*mm)
		next := at(float64((i+1)%teeth), 100*mm)
		segs = append(segs, Line(a, b), Line(b, c), ArcAround(c, d, Point{}, false), Line(d, e))
		if i == teeth-1 || e != next {
			segs = append(segs, Line(e, next))
		}
	}
	return NewLoop(segs)
}

func TestCrossingsKeepPace(t *testing.T) {
	l := gear(8000)
	assert.GreaterOrEqual(t, len(l.Segments()), 10_000)
	best := time.Hour
	for range 3 {
		start := time.Now()
		assert.Empty(t, NewLoop(l.Segments()).Crossings(tol))
		best = min(best, time.Since(start))
	}
	// 100 ms is what a check may take; the race detector makes it several times
	// slower, and comparing all pairs would take some 5 s without it.
	assert.Less(t, best, time.Second)
	t.Logf("%d segments in %v", len(l.Segments()), best)
}

func BenchmarkCrossings(b *testing.B) {
	l := gear(8000)
	b.Logf("%d segments", len(l.Segments()))
	for b.Loop() {
		NewLoop(l.Segments()).Crossings(tol)
	}
}

func BenchmarkNearest(b *testing.B) {
	l := gear(8000)
	for b.Loop() {
		l.Nearest(Point{60 * mm, 40 * mm})
	}
}

func BenchmarkContains(b *testing.B) {
	l := gear(8000)
	for b.Loop() {
		l.Contains(Point{60 * mm, 40 * mm})
	}
}

func BenchmarkShapeDistance(b *testing.B) {
	b.Run("slots", func(b *testing.B) {
		p, q := Slot(Point{}, 30*mm, 10*mm, 1), Slot(Point{40 * mm, 3 * mm}, 20*mm, 5*mm, 2)
		for b.Loop() {
			ShapeDistance(p, q)
		}
	})
	b.Run("slot to 10000 segments", func(b *testing.B) {
		p, q := Slot(Point{140 * mm, 0}, 30*mm, 10*mm, 1), gear(8000)
		for b.Loop() {
			ShapeDistance(p, q)
		}
	})
	b.Run("10000 to 10000 segments", func(b *testing.B) {
		p, q := gear(8000), moved(gear(8000), Point{250 * mm, 0})
		for b.Loop() {
			ShapeDistance(p, q)
		}
	})
}

func BenchmarkBandArea(b *testing.B) {
	l := gear(8000)
	pieces := Band(l.Segments(), mm, true)
	for b.Loop() {
		AreaCovered([][]*Loop{pieces, {l}}, func(c []int) bool { return c[0] > 0 && c[1] > 0 })
	}
}
