package geom

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func either(in []bool) bool { return in[0] || in[1] }
func both(in []bool) bool   { return in[0] && in[1] }

// The lens of two circles, 2r² acos(d/2r) - d/2 √(4r²-d²), and squares that
// share edges, corners or nothing.
func TestAreaWhere(t *testing.T) {
	lens := func(r, d float64) float64 {
		return 2*r*r*math.Acos(d/2/r) - d/2*math.Sqrt(4*r*r-d*d)
	}
	square := func(x, y, w float64) *Loop { return RectangleAt(Point{x, y}, w, w, 0) }
	tests := map[string]struct {
		a, b         *Loop
		either, both float64
	}{
		"circles":            {Circle(Point{}, 20), Circle(Point{12, 0}, 20), 200*math.Pi - lens(10, 12), lens(10, 12)},
		"circles, one above": {Circle(Point{}, 20), Circle(Point{0, 12}, 20), 200*math.Pi - lens(10, 12), lens(10, 12)},
		"circles, aslant":    {Circle(Point{}, 20), Circle(Point{-6, 7}, 20), 200*math.Pi - lens(10, math.Sqrt(85)), lens(10, math.Sqrt(85))},
		"circles tangent":    {Circle(Point{}, 20), Circle(Point{20, 0}, 20), 200 * math.Pi, 0},
		"same circle":        {Circle(Point{}, 20), Circle(Point{}, 20), 100 * math.Pi, 100 * math.Pi},
		"same, other way":    {Circle(Point{}, 20), Circle(Point{}, 20).Reverse(), 100 * math.Pi, 100 * math.Pi},
		"tangent inside":     {Circle(Point{}, 20), Circle(Point{5, 0}, 10), 100 * math.Pi, 25 * math.Pi},
		"concentric":         {Circle(Point{}, 20), Circle(Point{}, 10), 100 * math.Pi, 25 * math.Pi},
		"squares overlap":    {square(0, 0, 10), square(5, 5, 10), 175, 25},
		"squares share edge": {square(0, 0, 10), square(10, 0, 10), 200, 0},
		"half an edge":       {square(0, 0, 10), square(10, 5, 10), 200, 0},
		"edges coincide":     {square(0, 0, 10), square(0, 0, 5), 100, 25},
		"share a corner":     {square(0, 0, 10), square(10, 10, 10), 200, 0},
		"apart":              {square(0, 0, 10), square(30, 40, 10), 200, 0},
		"circle in square":   {square(-10, -10, 20), Circle(Point{}, 20), 400, 100 * math.Pi},
		"circle at corner":   {square(0, 0, 20), Circle(Point{}, 20), 400 + 75*math.Pi, 25 * math.Pi},
		"turned squares": {square(-1, -1, 2), Polygon(Point{math.Sqrt2, 0}, Point{0, math.Sqrt2}, Point{-math.Sqrt2, 0}, Point{0, -math.Sqrt2}),
			8 - 8*(math.Sqrt2-1), 8 * (math.Sqrt2 - 1)}, // a regular octagon: 8(√2-1)r² with inner radius 1
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			// At the sizes of boards; areas relative to the whole.
			for _, scale := range []float64{1, 1e6, 1e9} {
				a, b := scaled(tt.a, scale), scaled(tt.b, scale)
				whole := tt.either * scale * scale
				assert.InDelta(t, whole, AreaWhere([]*Loop{a, b}, either), 1e-13*whole)
				assert.InDelta(t, tt.both*scale*scale, AreaWhere([]*Loop{b, a}, both), 1e-13*whole)
				only := AreaWhere([]*Loop{a, b}, func(in []bool) bool { return in[0] && !in[1] })
				assert.InDelta(t, a.SignedArea()-tt.both*scale*scale, only, 1e-13*whole)
			}
		})
	}
}

func scaled(l *Loop, k float64) *Loop {
	var segs []Segment
	for _, g := range l.Segments() {
		segs = append(segs, Segment{g.A.Scale(k), g.B.Scale(k), g.C.Scale(k), g.Arc, g.Clockwise})
	}
	return NewLoop(segs)
}

func TestAreaCoveredCounts(t *testing.T) {
	square := func(x float64) *Loop { return RectangleAt(Point{x, 0}, 10, 10, 0) }
	groups := [][]*Loop{{square(0), square(4), square(8)}, {square(0)}, nil}
	at := func(n int) float64 {
		return AreaCovered(groups, func(cover []int) bool { return cover[0] == n })
	}
	assert.Equal(t, []float64{0, 80, 80, 20}, []float64{at(0), at(1), at(2), at(3)})
	assert.Equal(t, 80.0, AreaCovered(groups, func(cover []int) bool { return cover[0] > 0 && cover[1] == 0 }))
	assert.Zero(t, AreaCovered(nil, func([]int) bool { return true }))
	everywhere := AreaCovered(groups, func([]int) bool { return true })
	assert.Equal(t, 180.0, everywhere, "outside every shape nothing counts")
}

// A hair off level an arc ends within rounding of its top, where its abscissa
// is known to some 1e-8 of the radius only; the area must not feel it.
func TestAreaOfNearlyLevelSlots(t *testing.T) {
	for _, angle := range []float64{1e-15, 3e-15, 1e-14, 1e-12, 1e-9, 1e-6} {
		for _, quarter := range []float64{0, math.Pi / 2, math.Pi} {
			slot := Slot(Point{11, -160}, 8.6*mm, 5.027204*mm, angle+quarter)
			want := slot.SignedArea()
			assert.InEpsilon(t, (8.6-5.027204)*5.027204*mm*mm+math.Pi*5.027204*5.027204/4*mm*mm, want, 1e-14)
			assert.InEpsilon(t, want, unionArea([]*Loop{slot}), 1e-14, "turned by %v", angle+quarter)
		}
	}
}

// A loop that runs round twice has the winding number 2 and is inside once.
func TestAreaOfWinding(t *testing.T) {
	twice := NewLoop(append(RectangleAt(Point{}, 10, 10, 0).Segments(), RectangleAt(Point{}, 10, 10, 0).Segments()...))
	assert.Equal(t, 200.0, twice.SignedArea())
	assert.Equal(t, 100.0, AreaWhere([]*Loop{twice}, func(in []bool) bool { return in[0] }))
}

// A path that does not close encloses nothing one could name, but it must not
// be felt at other heights than its own.
func TestAreaBesideAnOpenPath(t *testing.T) {
	open := NewLoop([]Segment{Line(Point{0, 0}, Point{0, 1})})
	square := RectangleAt(Point{0, 0}, 10, 10, 0)
	assert.Equal(t, 10.0, AreaWhere([]*Loop{open, square}, both))
	assert.Equal(t, 100.0, AreaWhere([]*Loop{open, square}, func(in []bool) bool { return in[1] }))
}

func TestAreaProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		g := placed(10*mm, 8*mm)
		a, b, c := g.Draw(t, "a"), g.Draw(t, "b"), g.Draw(t, "c")
		shapes := []*Loop{a, b, c}
		where := func(keep func(in []bool) bool) float64 { return AreaWhere(shapes, keep) }
		pair := func(i, j int) float64 { return where(func(in []bool) bool { return in[i] && in[j] }) }
		all := where(func(in []bool) bool { return in[0] && in[1] && in[2] })
		union := where(func(in []bool) bool { return in[0] || in[1] || in[2] })
		singles := a.SignedArea() + b.SignedArea() + c.SignedArea()
		require.InEpsilon(t, singles-pair(0, 1)-pair(0, 2)-pair(1, 2)+all, union, 1e-13, "inclusion and exclusion")
		require.InEpsilon(t, union, unionArea(shapes), 1e-13)
		require.InEpsilon(t, union, unionArea([]*Loop{a, b, c, a, c.Reverse()}), 1e-13, "coinciding edges change nothing")

		// The same on its side: other slabs, the same area.
		var turned []*Loop
		for _, l := range shapes {
			var segs []Segment
			for _, g := range l.Segments() {
				segs = append(segs, Segment{g.A.Left(), g.B.Left(), g.C.Left(), g.Arc, g.Clockwise})
			}
			turned = append(turned, NewLoop(segs))
		}
		require.InEpsilon(t, union, unionArea(turned), 1e-13)
	})
}
