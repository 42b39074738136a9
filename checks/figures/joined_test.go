package figures

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Planes of one net that meet on a layer are copper in one piece, and no sheets that
// nothing joins: no limit comes of them.
func TestPlanesThatMeetAreNotCutApart(t *testing.T) {
	const wall = foiled + "plating wall { along south; net GND; copper 100 um; wrap top 0.4 mm }\n"
	halves := func(left, right string) string {
		return wall + "plane on top net GND pullback 0.2 mm within (0 mm, 0 mm) to (" + left + ", 80 mm)\nplane on top " + right + " mm, 0 mm) to (100 mm, 80 mm)\n"
	}
	for text, meet := range map[string]bool{
		halves("50 mm", "net GND pullback 0.2 mm within (50"): true,
		halves("50 mm", "net GND pullback 2 mm within (50"):   true, // not tied itself
		halves("49 mm", "net GND pullback 0.2 mm within (50"): false,
		halves("50 mm", "net V3 pullback 0.6 mm within (50"):  false,
	} {
		c := conduct(t, text)
		m, ok := c.Continuity(c.b.Platings()[0])
		require.True(t, ok, text)
		assert.Equal(t, meet, m.Bounds, text)
		if meet {
			assert.False(t, m.Tells(), text)
		}
	}
}

// What ends where a wall ends carries nothing past it: a plane that touches only what
// follows changes neither figure. By hand: 10 mm of wraps alone, 60 µm by 0.5 mm twice,
// and with the wall.
func TestAPlaneBehindAWallChangesNothing(t *testing.T) {
	const walls = wrapped + "plating a { along south from 5 mm to 15 mm; net GND; copper 25 um; wrap top bottom 0.5 mm }\n" +
		"plating b { along south from 15 mm to 30 mm; net GND; copper 25 um; wrap top bottom 0.5 mm }\n"
	const rho = 1.7241e-8 // IEC 60028
	for _, plane := range []string{"", "plane on top net GND pullback 0.4 mm within (20 mm, 0 mm) to (60 mm, 40 mm)\n"} {
		m, _ := of(t, walls+plane)
		assert.InEpsilon(t, rho*10e-3/(2*60e-6*0.5e-3), m.Without, 1e-6, plane)
		assert.InEpsilon(t, rho*10e-3/(2*60e-6*0.5e-3+1.6e-3*25e-6), m.With, 1e-6, plane)
	}
}

// Beside cells of 0.25 mm, from where on what is measured hardly changes, cells as coarse as
// are taken give at most a tenth more or less (an eighth less where a plane ends beside a probe), wherever a wall ends beside them; where a
// stretch has fewer than four, or a quarter of a ring has, or they are wider than 2 mm,
// nothing is given.
func TestFineness(t *testing.T) {
	unraced(t)
	const board = "board b { }\nstack { copper top 35 um; dielectric core 1.53 mm; copper bottom 35 um }\noutline rectangle 60 mm by 40 mm\nplane on top bottom net GND pullback 0.5 mm\nplating w { net GND; copper 25 um; wrap top bottom 0.25 mm; %s }\n"
	for _, c := range []struct {
		more string
		most float64 // mm, that cells may have
	}{
		{"along south from 10 mm to 14 mm", 1},
		{"along south from 10 mm to 22 mm", 2},
		{"along south from 10.9 mm to 22.5 mm", 2},
		{"along south from 37.509 mm to 45.668 mm", 2},
		{"along south from 0 mm to 12 mm", 2},
		{"along west from 0 mm to 4.84 mm", 1.21}, // the plane keeps from the corner by all of what is left of the wall there
		{"along c.rim }\ncutout c { circle 7.639437 mm; at (21 mm, 19 mm)", 1.49},
		{"along c.rim }\ncutout c { circle 15.278875 mm; at (21 mm, 19 mm)", 2},
	} {
		text := fmt.Sprintf(board, c.more)
		measured := func(step float64) (Measured, bool) {
			x := conduct(t, text)
			x.platesTo([]int{0})
			require.NoError(t, x.plates[0].mesh(x.b, step*1e6))
			return x.Measured(x.b.Platings()[0])
		}
		fine, ok := measured(0.25)
		require.True(t, ok, c.more)
		coarse, ok := measured(c.most)
		require.True(t, ok, c.more)
		for what, share := range map[string]float64{"with": coarse.With / fine.With, "without": coarse.Without / fine.Without} {
			assert.Greater(t, share, 0.88, "%s %s", c.more, what)
			assert.Less(t, share, 1.1, "%s %s", c.more, what)
		}
		_, ok = measured(c.most + 0.01)
		assert.False(t, ok, c.more)
	}
}
