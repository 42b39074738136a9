package geom

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Cases worked by hand; each says how.
func TestFillet(t *testing.T) {
	for _, x := range []struct {
		name      string
		a, b      Segment
		r         float64
		centre    Point
		off, upto float64 // what the round takes of a, and of b
	}{
		{"square: the radius along each side", Line(Point{0, 0}, Point{20e6, 0}), Line(Point{20e6, 0}, Point{20e6, 10e6}), 2e6, Point{18e6, 2e6}, 2e6, 2e6},
		{"square, turning right", Line(Point{0, 0}, Point{20e6, 0}), Line(Point{20e6, 0}, Point{20e6, -10e6}), 2e6, Point{18e6, -2e6}, 2e6, 2e6},
		{"inside angle of 60°: r / tan 30°", Line(Point{0, 0}, Point{20e6, 0}), Line(Point{20e6, 0}, Point{10e6, 10e6 * math.Sqrt(3)}), 2e6,
			Point{20e6 - 2e6*math.Sqrt(3), 2e6}, 2e6 * math.Sqrt(3), 2e6 * math.Sqrt(3)},
		// A quarter disc of radius 10: the centre is 2 above the line and 10 - 2 from
		// the disc's, at x = √(64 - 4); the foot on the arc lies asin(2/8) round.
		{"line and arc", Line(Point{0, 0}, Point{10e6, 0}), ArcAround(Point{10e6, 0}, Point{0, 10e6}, Point{0, 0}, false), 2e6,
			Point{math.Sqrt(60) * 1e6, 2e6}, (10 - math.Sqrt(60)) * 1e6, 10e6 * math.Asin(0.25)},
		// The same corner of half a disc, where a second such arc lies at the far end.
		{"half a disc", Line(Point{-10e6, 0}, Point{10e6, 0}), ArcAround(Point{10e6, 0}, Point{-10e6, 0}, Point{0, 0}, false), 2e6,
			Point{math.Sqrt(60) * 1e6, 2e6}, (10 - math.Sqrt(60)) * 1e6, 10e6 * math.Asin(0.25)},
		{"half a disc, the other way round", ArcAround(Point{-10e6, 0}, Point{10e6, 0}, Point{0, 0}, true), Line(Point{10e6, 0}, Point{-10e6, 0}), 2e6,
			Point{math.Sqrt(60) * 1e6, 2e6}, 10e6 * math.Asin(0.25), (10 - math.Sqrt(60)) * 1e6},
		// A lens of two circles of radius 10 about (±6, 0), which meet at (0, ±8): the
		// centre is 8 from both, at y = √(64 - 36); the feet lie atan(y/6) round, the
		// point itself atan(8/6).
		{"two arcs", ArcAround(Point{4e6, 0}, Point{0, 8e6}, Point{-6e6, 0}, false), ArcAround(Point{0, 8e6}, Point{-4e6, 0}, Point{6e6, 0}, false), 2e6,
			Point{0, math.Sqrt(28) * 1e6}, 10e6 * (math.Atan(8.0/6) - math.Atan(math.Sqrt(28)/6)), 10e6 * (math.Atan(8.0/6) - math.Atan(math.Sqrt(28)/6))},
	} {
		arc, s, until, ok := Fillet(x.a, x.b, x.r)
		require.True(t, ok, x.name)
		assert.InDelta(t, 0, arc.C.Dist(x.centre), 0.01, x.name)
		assert.InDelta(t, x.off, x.a.Length()-s, 0.01, x.name)
		assert.InDelta(t, x.upto, until, 0.01, x.name)
		assert.InDelta(t, x.r, arc.Radius(), 0.01, x.name)
		assert.Less(t, math.Abs(arc.Sweep()), math.Pi, x.name)
		assert.True(t, x.a.Sub(0, s).Smooth(arc, 1e-6), x.name)
		assert.True(t, arc.Smooth(x.b.Sub(until, x.b.Length()), 1e-6), x.name)
	}
}

func TestFilletThatLeavesAPiece(t *testing.T) {
	a, b := Line(Point{0, 0}, Point{20e6, 0}), Line(Point{20e6, 0}, Point{20e6, 10e6})
	_, _, _, ok := Fillet(a, b, 10e6)
	assert.True(t, ok, "as long as the shorter piece")
	_, _, _, ok = Fillet(a, b, 10e6+1)
	assert.False(t, ok)
	_, _, _, ok = Fillet(b.Reverse(), a.Reverse(), 10e6+1)
	assert.False(t, ok, "the shorter piece first")
	_, _, _, ok = Fillet(Line(Point{0, 0}, Point{10e6, 0}), ArcAround(Point{10e6, 0}, Point{0, 10e6}, Point{0, 0}, false), 10e6)
	assert.False(t, ok, "as round as the arc itself")
}
