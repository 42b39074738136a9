package geom

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func unionArea(shapes []*Loop) float64 {
	return AreaCovered([][]*Loop{shapes}, func(cover []int) bool { return cover[0] > 0 })
}

// The strips here are rectangles, sectors (r²θ/2) and rings (π(R²-r²)).
func TestBand(t *testing.T) {
	square := RectangleAt(Point{0, 0}, 100, 100, 0)
	corner := []Segment{Line(Point{0, 0}, Point{100, 0}), Line(Point{100, 0}, Point{100, 50})}
	tests := map[string]struct {
		chain  []Segment
		width  float64
		left   bool
		pieces int
		area   float64
	}{
		"line":                    {corner[:1], 5, true, 1, 500},
		"line, right":             {corner[:1], 5, false, 1, 500},
		"corner, inside":          {corner, 5, true, 2, 500 + 250 - 25},
		"corner, outside":         {corner, 5, false, 3, 500 + 250 + 25*math.Pi/4},
		"square, inside":          {square.Segments(), 5, true, 4, 1e4 - 90*90},
		"square, outside":         {square.Segments(), 5, false, 8, 4*500 + 25*math.Pi},
		"square, reversed":        {square.Reverse().Segments(), 5, false, 4, 1e4 - 90*90},
		"arc, inward":             {[]Segment{quarter}, 4, true, 1, (100 - 36) * math.Pi / 4},
		"arc, outward":            {[]Segment{quarter}, 4, false, 1, (196 - 100) * math.Pi / 4},
		"arc back, inward":        {[]Segment{quarter.Reverse()}, 4, false, 1, (100 - 36) * math.Pi / 4},
		"arc, to the centre":      {[]Segment{quarter}, 10, true, 1, 25 * math.Pi},
		"arc, past the centre":    {[]Segment{quarter}, 14, true, 1, 25 * math.Pi},
		"circle, inward":          {[]Segment{whole}, 4, true, 2, (100 - 36) * math.Pi},
		"circle, outward":         {[]Segment{whole}, 4, false, 2, (196 - 100) * math.Pi},
		"circle, all of it":       {[]Segment{whole}, 14, true, 2, 100 * math.Pi},
		"rounded, smooth joints":  {RectangleAt(Point{}, 100, 60, 10).Segments(), 4, false, 8, 4*(2*80+2*40) + (196-100)*math.Pi},
		"straight back":           {[]Segment{Line(Point{0, 0}, Point{10, 0}), Line(Point{10, 0}, Point{0, 0})}, 2, true, 4, 40 + 4*math.Pi},
		"without length":          {[]Segment{Line(Point{1, 1}, Point{1, 1})}, 2, true, 0, 0},
		"a point within a corner": {[]Segment{corner[0], Line(Point{100, 0}, Point{100, 0}), corner[1]}, 5, false, 3, 750 + 25*math.Pi/4},
		"no width":                {corner, 0, true, 0, 0},
		"width is not a number":   {corner, math.NaN(), true, 0, 0},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			pieces := Band(tt.chain, tt.width, tt.left)
			assert.Len(t, pieces, tt.pieces)
			assert.InDelta(t, tt.area, unionArea(pieces), 1e-10)
		})
	}
}

// Every point of the strip is a piece's, and every piece's is in reach of the
// chain: checked point by point against Nearest, which knows no strips.
func TestBandPointByPoint(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := shape(10*mm).Draw(t, "loop")
		width := mm * rapid.Float64Range(0.1, 5).Draw(t, "width")
		pieces := Band(l.Segments(), width, true)
		for _, piece := range pieces {
			require.False(t, piece.Clockwise())
			require.Empty(t, piece.Crossings(tol), "simple")
		}
		for range 20 {
			p := Point{rapid.Float64Range(-10*mm, 10*mm).Draw(t, "x"), rapid.Float64Range(-10*mm, 10*mm).Draw(t, "y")}
			_, _, d := l.Nearest(p)
			if math.Abs(d-width) < 1 || !l.Contains(p) {
				continue
			}
			in := false
			for _, piece := range pieces {
				in = in || piece.Contains(p)
			}
			if _, _, gap := nearestOf(pieces, p); gap < 1 {
				continue
			}
			require.Equal(t, d < width, in, "%v is %v from the edge", p, d)
		}
	})
}

func nearestOf(loops []*Loop, p Point) (q Point, s, d float64) {
	d = math.Inf(1)
	for _, l := range loops {
		if at, along, far := l.Nearest(p); far < d {
			q, s, d = at, along, far
		}
	}
	return q, s, d
}
