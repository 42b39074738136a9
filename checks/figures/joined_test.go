package figures

import (
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
