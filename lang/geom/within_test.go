package geom_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/geom"
)

// What of a shape is in a box, and what is not, is as large as a sweep over both
// says, and each lies where it should.
func TestWithin(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	between := func(lo, hi float64) float64 { return math.Round((lo + (hi-lo)*rnd.Float64()) * 1e6) }
	cut := 0
	for range 3000 {
		at := geom.Point{X: between(-5, 5), Y: between(-5, 5)}
		var l *geom.Loop
		switch rnd.IntN(5) {
		case 0:
			l = geom.Circle(at, between(1, 8))
		case 1:
			w, h := between(2, 8), between(2, 8)
			l = geom.RectangleAt(at, w, h, float64(rnd.IntN(2))*min(w, h)/4)
		case 2:
			l = geom.Slot(at, between(5, 9), between(1, 4), rnd.Float64()*6)
		case 3: // a sector of a ring, which is not convex
			r, w := between(3, 6), between(0.5, 2)
			a, b := geom.Point{X: r}.Rotate(rnd.Float64()*6), geom.Point{X: r}.Rotate(rnd.Float64()*6)
			l = geom.Band([]geom.Segment{geom.ArcAround(at.Add(a), at.Add(b), at, rnd.IntN(2) == 0)}, w, rnd.IntN(2) == 0)[0]
		default: // a comb, which a line cuts several times
			l = geom.Polygon(at, at.Add(geom.Point{X: 6e6}), at.Add(geom.Point{X: 6e6, Y: 3e6}), at.Add(geom.Point{X: 4e6, Y: 3e6}), at.Add(geom.Point{X: 4e6, Y: 1e6}),
				at.Add(geom.Point{X: 2e6, Y: 1e6}), at.Add(geom.Point{X: 2e6, Y: 3e6}), at.Add(geom.Point{Y: 3e6}))
		}
		if rnd.IntN(2) == 0 {
			l = l.Reverse()
		}
		corner := geom.Point{X: between(-6, 4), Y: between(-6, 4)}
		if rnd.IntN(4) == 0 { // a side along a side
			corner = whole(l.Box().Min)
		}
		box := geom.Box{Min: corner, Max: corner.Add(geom.Point{X: between(1, 6), Y: between(1, 6)})}
		if rnd.IntN(8) == 0 {
			box.Max = whole(l.Box().Max)
		}
		if box.Min.X >= box.Max.X || box.Min.Y >= box.Max.Y {
			continue
		}
		rect := []*geom.Loop{geom.RectangleAt(box.Min, box.Max.X-box.Min.X, box.Max.Y-box.Min.Y, 0)}
		shape := []*geom.Loop{l}
		in := geom.AreaCovered([][]*geom.Loop{shape, rect}, func(c []int) bool { return c[0] != 0 && c[1] != 0 })
		out := geom.AreaCovered([][]*geom.Loop{shape, rect}, func(c []int) bool { return c[0] != 0 && c[1] == 0 })
		if in > 0 && out > 0 {
			cut++
		}
		within, without := geom.Within(l, box), geom.Without(l, box)
		least := l.Perimeter() // a nanometre all along
		assert.InDelta(t, in, area(within), least)
		assert.InDelta(t, out, area(without), least)
		assert.InDelta(t, in, geom.AreaCovered([][]*geom.Loop{within, shape, rect}, func(c []int) bool { return c[0] == 1 && c[1] != 0 && c[2] != 0 }), least)
		assert.InDelta(t, out, geom.AreaCovered([][]*geom.Loop{without, shape, rect}, func(c []int) bool { return c[0] == 1 && c[1] != 0 && c[2] == 0 }), least)
		long := 0.0
		for _, g := range l.Segments() {
			for _, x := range g.ClipIn(box, 1) {
				long += x.Length()
				assert.True(t, box.Grow(1).Contains(x.At(0)) && box.Grow(1).Contains(x.At(x.Length())))
			}
		}
		walked := 0.0
		const steps = 4000
		for i := range steps {
			if p := l.At(l.Perimeter() * (float64(i) + 0.5) / steps); box.Grow(-2).Contains(p) {
				walked += l.Perimeter() / steps
			}
		}
		assert.InDelta(t, walked, long, 20*l.Perimeter()/steps)
	}
	assert.Greater(t, cut, 1000)
}

func area(list []*geom.Loop) (sum float64) {
	for _, l := range list {
		sum += math.Abs(l.SignedArea())
	}
	return sum
}

// whole is a point of whole nanometres.
func whole(p geom.Point) geom.Point { return geom.Point{X: math.Round(p.X), Y: math.Round(p.Y)} }
