package layers

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/geom"
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

	m := newMaker(b, usual)
	circle := func(d float64) float64 { return math.Pi * d * d / 4 }
	// The unplated hole's surroundings: 3 mm and the clearance to a bare edge on
	// either side; on the inner layer those of the post, which is of no plane's net.
	for n, want := range []struct{ land, free float64 }{
		{circle(6), circle(3 + 2*0.25)},
		{0, circle(3+2*0.4) + circle(1+2*0.5)},
		{circle(6), circle(3 + 2*0.25)},
	} {
		l := m.levels[n]
		add, err := m.add(l)
		require.NoError(t, err)
		assert.InDelta(t, want.land, extent(add.shapes(false)), 1e-3, "land on %s", l.name)
		assert.InDelta(t, want.free, extent(m.drilled(l, map[bool]float64{true: usual.EdgeOuter, false: usual.EdgeInner}[l.outer()])), 1e-3, "kept free on %s", l.name)
		free := m.free(l, add)
		assert.Subset(t, boxes(free.shapes(false)), boxes(m.drilled(l, map[bool]float64{true: usual.EdgeOuter, false: usual.EdgeInner}[l.outer()])))
	}
	assert.Contains(t, file(t, files, ReadmeName), "holes")
}

func extent(list []*geom.Loop) (mm2 float64) {
	for _, l := range list {
		mm2 += math.Abs(l.SignedArea()) / (mm * mm)
	}
	return mm2
}

func boxes(list []*geom.Loop) (out []geom.Box) {
	for _, l := range list {
		out = append(out, l.Box())
	}
	return out
}
