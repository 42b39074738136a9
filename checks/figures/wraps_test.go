package figures

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A wrap over a plane of its net on an outer layer is the plane's copper and the plating
// on it: the plating alone comes beside the plane, as along the grid's side. With finished
// copper on the layer, as a stack states it, that is the plane's already, and the wrap
// changes nothing.
func TestWrapsOverPlanes(t *testing.T) {
	unraced(t)
	board := func(stack, wrap string) string {
		return stack + strip + "plating wall { along south; net GND; copper 25 um; wrap top " + wrap + " }\nplane on top net GND pullback 0 mm\n"
	}
	const bare, finished = "board b { thickness 1.6 mm }\n", "stack { copper top 60 um base 35 um; dielectric d 1.48 mm; copper bottom 60 um base 35 um }\n"
	for wrap, mm := range map[string]float64{"3 mm": 3, "6 mm": 6} {
		_, v := of(t, board(bare, wrap))
		assert.InEpsilon(t, gridded(3, 1, all, mm*1e-3*25e-6), v.With, 0.07, wrap)
		assert.InEpsilon(t, gridded(3, 1, stubs, mm*1e-3*25e-6), v.Without, 0.07, wrap)
		_, v = of(t, board(finished, wrap))
		_, none := of(t, board(finished, "0 mm"))
		assert.InEpsilon(t, none.With, v.With, 1e-9, wrap)
		assert.InEpsilon(t, none.Without, v.Without, 1e-9, wrap)
	}
	// Where the plane does not lie the wrap counts whole, as where there is none.
	apart := "board b { thickness 1.6 mm }\n" + strip + "plating wall { along south from 60 mm to 100 mm; net GND; copper 25 um; wrap top 2 mm }\n"
	_, v := of(t, apart+"plane on top net GND pullback 0 mm within (0 mm, 0 mm) to (61 mm, 80 mm)\n")
	_, alone := of(t, apart)
	assert.InEpsilon(t, 1.7241e-8*40e-3/(1.6e-3*25e-6+2e-3*60e-6), alone.With, 1e-6, "by hand")
	assert.InEpsilon(t, alone.With, v.With, 0.03, "a plane beside 1 of 40 mm")
}

// What is not known is not told: a wrap too wide for the way, planes under a wrap that do
// not come to the profile. A rectangle that holds all of a circle's board changes nothing;
// one that ends beside a probe leaves the wrap beyond it, so that without the wall no more
// comes of it than without planes.
func TestWhatIsNotKnown(t *testing.T) {
	const board, two = "board b { thickness 1.6 mm }\n" + strip, "plane on top bottom net GND pullback 0.5 mm "
	wall := func(wrap string) string {
		return "plating wall { along south from 8 mm to 28 mm; net GND; copper 25 um; wrap top bottom " + wrap + " }\n"
	}
	for wrap, wide := range map[string]bool{"1.4 mm": false, "1.41 mm": true} {
		c := conduct(t, board+wall(wrap))
		m, ok := c.Continuity(c.b.Platings()[0])
		require.True(t, ok)
		assert.Equal(t, wide, m.Wide, wrap)
		_, ok = c.Measured(c.b.Platings()[0])
		assert.Equal(t, !wide, ok, wrap)
		assert.False(t, wide && m.Tells())
	}
	c := conduct(t, board+wall("0.6 mm")+two+"within (0 mm, 0.3 mm) to (100 mm, 80 mm)\n")
	m, _ := c.Continuity(c.b.Platings()[0])
	assert.Equal(t, []string{"the plane on top", "the plane on bottom"}, m.Beside)
	assert.False(t, m.Tells())
	c = conduct(t, board+wall("0.2 mm")+two+"within (0 mm, 0.3 mm) to (100 mm, 80 mm)\n")
	m, _ = c.Continuity(c.b.Platings()[0])
	assert.Empty(t, m.Beside)

	const round = "board b { thickness 1.6 mm }\noutline circle 30 mm\nplating wall { along rim; net GND; copper 25 um; wrap top bottom 0.4 mm }\nplane on top net GND pullback 0.3 mm"
	_, v := of(t, round+"\n")
	_, boxed := of(t, round+" within (-20 mm, -20 mm) to (20 mm, 20 mm)\n")
	assert.InEpsilon(t, v.With, boxed.With, 0.001)
	assert.InEpsilon(t, v.Without, boxed.Without, 0.02)

	_, none := of(t, board+wall("0.8 mm"))
	for _, to := range []string{"25 mm", "26.5 mm", "27.4 mm", "29 mm"} {
		_, part := of(t, board+wall("0.8 mm")+two+"within (6 mm, 0 mm) to ("+to+", 60 mm)\n")
		assert.Less(t, part.With, none.With, to)
		assert.Less(t, part.Without, none.Without, to)
	}
}
