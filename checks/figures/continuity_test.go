package figures

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/source"
)

func conduct(t *testing.T, text string) *Conductors {
	t.Helper()
	return Conduct(lang.Analyze(source.New("a.hem", text), nil, nil).Board())
}

func of(t *testing.T, text string) (Continuity, Measured) {
	t.Helper()
	c := conduct(t, text)
	require.NotNil(t, c, text)
	p := c.b.Platings()[0]
	m, ok := c.Continuity(p)
	require.True(t, ok, text)
	v, ok := c.Measured(p)
	require.True(t, ok, text)
	return m, v
}

const strip = "outline rectangle 100 mm by 80 mm\n"

// wrapped has 60 µm of copper on both faces: 35 µm of foil and 25 of plating.
const wrapped = "stack { copper top 60 um base 35 um; dielectric d 1.48 mm; copper bottom 60 um base 35 um }\n" + strip

// Worked out by hand from ρ = 1.7241e-8 Ω·m (IEC 60028): along R = ρ·l/(h·t), wraps
// and wall side by side. Domain figures: 43.10; wraps of 0.5 mm: 28.7 alone, 17.24
// with the wall; of 0.8 mm: 17.96 and 12.68.
func TestWallAndWraps(t *testing.T) {
	alone, figures := of(t, "board b { thickness 1.6 mm }\n"+strip+"plating wall { along south; net GND; copper 25 um }")
	assert.InDelta(t, 43.10, alone.Wall*1e3, 0.005)
	assert.InDelta(t, 43.10, alone.With*1e3, 0.005)
	assert.True(t, math.IsInf(alone.Without, 1))
	assert.True(t, alone.Tells())
	assert.InDelta(t, 43.10*math.Sqrt2, alone.Maximum()*1e3, 0.01)
	assert.InDelta(t, 2*43.10, figures.Half*1e3, 0.01)
	assert.True(t, math.IsInf(figures.Holed, 1))
	for _, c := range []struct{ wrap, with, without float64 }{{0.5, 17.24, 28.73}, {0.8, 12.68, 17.96}} {
		m, figures := of(t, wrapped+fmt.Sprintf("plating wall { along south; net GND; copper 25 um; wrap top bottom %g mm }", c.wrap))
		assert.InDelta(t, c.with, m.With*1e3, 0.01)
		assert.InDelta(t, c.without, m.Without*1e3, 0.01)
		assert.InDelta(t, c.with, figures.With*1e3, 0.01)
		assert.InDelta(t, c.without, figures.Without*1e3, 0.01)
		assert.False(t, m.Tells())
		// A fifth of the way on the wraps alone.
		assert.InDelta(t, 0.8*c.with+0.2*c.without, figures.Holed*1e3, 0.01)
	}
	// A narrow wrap leaves the wall most of it: Rw/Rp = 0.2·60/(1.6·25) for both faces together.
	m, _ := of(t, wrapped+"plating wall { along south; net GND; copper 25 um; wrap top bottom 0.1 mm }")
	assert.InEpsilon(t, 1+1.6*25/(2*0.1*60), m.Without/m.With, 1e-6)
	assert.True(t, m.Tells())
}

// One plane, 100 by 80 mm of 35 µm, tied along its side; and two.
const tied = "stack { copper top 35 um; dielectric d 0.4 mm; copper one 35 um; dielectric e 0.695 mm; copper two 35 um; dielectric f 0.4 mm; copper bottom 35 um }\n" + strip +
	"plating wall { along south; net GND; copper 25 um }\n"
const planeOne, planeTwo = "plane on one net GND pullback 0 mm\n", "plane on two net GND pullback 0 mm\n"

func TestPlanes(t *testing.T) {
	for _, text := range []string{tied + planeOne, tied + planeOne + planeTwo} {
		start := time.Now()
		c := conduct(t, text)
		for _, contact := range []float64{0, 0.5e6, 1e6, 2e6} {
			v, ok := c.measured(c.b.Platings()[0], contact)
			m, _ := c.Continuity(c.b.Platings()[0])
			t.Log(contact, v, ok, m.With, m.Without, time.Since(start))
		}
	}
}

var _ = rand.New
var _ = strings.Join
