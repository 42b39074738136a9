package board_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/source"
)

// A rectangle drawn with its corners rounded is the rectangle with that corner,
// where nothing is left of two sides too.
func TestADrawnRectangle(t *testing.T) {
	for _, r := range []string{"2 mm", "5 mm"} {
		drawn := build(t, strings.ReplaceAll("outline { start (0 mm, 0 mm); line south to (20 mm, 0 mm) corner R; line east to (20 mm, 10 mm) corner R; line north to (0 mm, 10 mm) corner R; close west corner R }\n", "R", r)).Outline()
		said := build(t, "outline rectangle 20 mm by 10 mm corner "+r+"\n").Outline()
		assert.InDelta(t, said.Path.SignedArea(), drawn.Path.SignedArea(), 1e3)
		assert.InDelta(t, said.Path.Perimeter(), drawn.Path.Perimeter(), 0.01)
		require.Len(t, drawn.Corners, 4)
		assert.Len(t, drawn.Path.Segments(), len(said.Path.Segments()), "none without length")
		for i, e := range said.Edges {
			d := drawn.Edges[i]
			assert.InDeltaSlice(t, []float64{e.Length, e.From, e.To, e.Base}, []float64{d.Length, d.From, d.To, d.Base}, 0.01, e.Name)
			assert.InDelta(t, said.Corners[i].To, drawn.Corners[i].To, 0.01)
			assert.Equal(t, said.Corners[i].After.Name, drawn.Corners[i].After.Name)
		}
	}
}

// Drawn either way round, with other radii at the two ends of a piece:
// positions count from the sharp point.
func TestPositionsOnRoundedPieces(t *testing.T) {
	for i, x := range map[int]float64{7: 5e6, 8: 15e6} {
		e := build(t, outlines[i]).Edge("a")
		assert.InDelta(t, 20e6, e.Length, 0.01)
		assert.InDelta(t, 15e6, e.To-e.From, 0.01, "3 mm and 2 mm of 20 mm are round")
		assert.InDelta(t, x, e.Point(5e6).X, 0.01)
	}
	// The lens of lang/geom's test: the arcs' sharp points are 2 atan(8/6) apart.
	lens := build(t, "outline { start (0 mm, -8 mm); arc right to (0 mm, 8 mm) around (-6 mm, 0 mm) corner 2 mm; arc left to (0 mm, -8 mm) around (6 mm, 0 mm) corner 2 mm }\n")
	for _, e := range lens.Edges() {
		assert.InDelta(t, 20e6*math.Atan(8.0/6), e.Length, 0.01)
		assert.InDelta(t, 10e6*(math.Atan(8.0/6)-math.Atan(math.Sqrt(28)/6)), e.Base, 0.01)
	}
	assert.InDelta(t, 4e6, lens.Edge("right").Point(lens.Edge("right").Length/2).X, 0.01)
}

// A round goes with its neighbours: plated where both are.
func TestARoundBelongsToItsNeighbours(t *testing.T) {
	for _, outline := range outlines[7:9] {
		both := build(t, outline+"plating wall { along a d; net GND }\n")
		require.Len(t, both.Wall(both.Outline()).Plated, 1)
		// The straight of a and d, and the quarter of 3 mm between them.
		assert.InDelta(t, 15e6+6e6+1.5e6*math.Pi, both.Wall(both.Outline()).Plated[0].Length(), 0.01)
		one := build(t, outline+"plating wall { along a; net GND }\n")
		assert.InDelta(t, 15e6, one.Wall(one.Outline()).Plated[0].Length(), 0.01)
		short := build(t, outline+"plating wall { along a d; net GND }\ngap g of wall on d from 0 mm to 10 mm\n")
		assert.InDelta(t, 15e6, short.Wall(short.Outline()).Plated[0].Length(), 0.01)
	}
}

// A stretch comes up to a round where the straight piece ends, at each end by
// the round that is there: a ends at 18 mm of 20, drawn the other way at 17 mm.
func TestAStretchComesUpToARound(t *testing.T) {
	for i, stretches := range map[int]int{7: 2, 8: 1} {
		next := map[int]string{7: "b", 8: "d"}[i]
		b := build(t, outlines[i]+"plating wall { along a from 10 mm to 17.5 mm along "+next+"; net GND }\n")
		assert.Len(t, b.Wall(b.Outline()).Plated, stretches)
	}
}

func TestRoundsThatCannotBe(t *testing.T) {
	for text, want := range map[string]string{
		"line a to (20 mm, 0 mm) corner 11 mm; line b to (20 mm, 10 mm); line c to (0 mm, 10 mm); close d":            "no arc with a radius of 11.00 mm touches both a and b inside their angle; state a smaller radius",
		"line a to (10 mm, 0 mm) corner 1 mm; line a2 to (20 mm, 0 mm); line b to (20 mm, 10 mm); close d":            "a and a2 join smoothly at (10.00 mm, 0.00 mm); there is no corner to round",
		"line a to (20 mm, 0 mm) corner 6 mm; line b to (20 mm, 10 mm) corner 5 mm; line c to (0 mm, 10 mm); close d": "the rounds at the ends of b take 6.00 mm and 5.00 mm of it, and it is 10.00 mm long; state a smaller radius here or at the end of a",
		"line a to (20 mm, 0 mm); line b to (20 mm, 10 mm); line c to (0 mm, 10 mm); close d corner 0 um + 11 mm":     "touches both d and a",
		"line a to (20 mm, 0 mm) corner -1 mm; line b to (20 mm, 10 mm); line c to (0 mm, 10 mm); close d":            "corner must not be negative, found -1.00 mm",
	} {
		a := lang.Analyze(source.New("a.hem", "outline { start (0 mm, 0 mm); "+text+" }\n"), nil, nil)
		require.Len(t, a.Findings(), 1, text)
		assert.Contains(t, a.Findings()[0].Message, want)
		assert.Empty(t, a.Board().Profiles())
	}
}
