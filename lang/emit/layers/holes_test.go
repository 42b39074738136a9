package layers

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/source"
)

// drilledBoard has a plated hole with a land, one without, and an unplated one,
// on a board whose inner layer has a plane of the first one's net.
const drilledBoard = `stack { copper top 35 um; dielectric d 0.7 mm; copper gnd 35 um; dielectric e 0.7 mm; copper bottom 35 um }
outline rectangle 40 mm by 20 mm
plane on gnd net GND pullback 0.5 mm
hole mount diameter 3.2 mm at (4 mm, 4 mm) plated net GND land 6 mm
hole post diameter 1 mm at (20 mm, 10 mm) plated net V5
hole peg diameter 3 mm at (36 mm, 4 mm) unplated
`

func TestHoles(t *testing.T) {
	b := lang.Analyze(source.New("b.hem", drilledBoard), nil, nil).Board()
	files, err := Build(b, usual)
	require.NoError(t, err)
	plated, unplated := file(t, files, "drill_plated.xnc"), file(t, files, "drill_unplated.xnc")
	assert.Contains(t, plated, "T01C3.2\n")
	assert.Contains(t, plated, "T02C1.0\n")
	assert.Contains(t, plated, "T01\n; #@! TO.N,GND\nX4.0Y4.0\n")
	assert.Contains(t, plated, "T02\n; #@! TO.N,V5\nX20.0Y10.0\n")
	assert.NotContains(t, plated, "X36.0")
	assert.Contains(t, unplated, "T01C3.0\n")
	assert.Contains(t, unplated, "X36.0Y4.0\n")
	assert.Equal(t, 1, strings.Count(unplated, "\nX"), "no plated hole among them")

	all := readPlainly(t, files)
	circle := func(d float64) float64 { return math.Pi * d * d / 4 }
	// Free are a frame along the edge; round the unplated hole as far as from an edge;
	// and on the inner layer round the post, which is not of the plane's net.
	frame := func(w float64) float64 { return (2*(40+20) - 4*w) * w }
	assert.InDelta(t, circle(6), all["copper_L1_top_add.gbr"].Area, exact)
	assert.NotContains(t, all, "copper_L2_gnd_add.gbr")
	assert.InDelta(t, frame(0.25)+circle(3+2*0.25), all["copper_L1_top_free.gbr"].Area, exact)
	assert.InDelta(t, frame(0.4)+circle(3+2*0.4)+circle(1+2*0.2), all["copper_L2_gnd_free.gbr"].Area, exact)
	assert.InDelta(t, frame(0.25)+circle(3+2*0.25), all["copper_L3_bottom_free.gbr"].Area, exact)
	assert.Contains(t, file(t, files, ReadmeName), "holes")
}
