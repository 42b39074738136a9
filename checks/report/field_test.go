package report

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/source"
)

func resonating(t *testing.T, text string) (*lang.Analysis, []figures.Resonance) {
	t.Helper()
	a := lang.Analyze(source.New("a.hem", text), nil, nil)
	require.Empty(t, a.Findings())
	return a, resonances(a.Board(), figures.NewStore(nil))
}

const cavity100by80 = "stack { copper top 35 um; dielectric core 1.5 mm permittivity 4.3; copper bottom 35 um }\noutline rectangle 100 mm by 80 mm\nplane on top bottom net GND pullback 0 mm\n"

// Plated all round the first mode is sin(πx/a)·sin(πy/b) (separation of variables), so a
// line of equal field goes where that has its share; open, cos(πx/a), straight across.
func TestLinesOfEqualField(t *testing.T) {
	a, list := resonating(t, "board b { frequency 1.2 GHz }\n"+cavity100by80+"plating wall { along all; net GND }\n")
	f := FieldOf(a.Board(), list)
	require.NotNil(t, f)
	assert.Equal(t, "mode 1, top to bottom, 1.16 GHz", f.Title)
	assert.True(t, f.Met)
	assert.InDelta(t, 50, f.Strongest.X, 2.5)
	assert.InDelta(t, 40, f.Strongest.Y, 2.5)
	require.Len(t, f.Lines, 4)
	for _, l := range f.Lines {
		for _, p := range l.Paths {
			for _, s := range p.Steps {
				assert.InDelta(t, l.Share, math.Sin(math.Pi*s.To.X/100)*math.Sin(math.Pi*s.To.Y/80), 0.01)
			}
		}
	}
	a, list = resonating(t, "board b { frequency 0.4 GHz }\n"+cavity100by80)
	f = FieldOf(a.Board(), list)
	assert.Nil(t, f, "none up to 1.5 times the band")
	a, list = resonating(t, "board b { frequency 0.6 GHz }\n"+cavity100by80)
	f = FieldOf(a.Board(), list)
	require.NotNil(t, f)
	assert.False(t, f.Met)
	for _, l := range f.Lines {
		assert.Len(t, l.Paths, 2, "one on either side")
		for _, p := range l.Paths {
			for _, s := range p.Steps {
				assert.InDelta(t, l.Share, math.Abs(math.Cos(math.Pi*s.To.X/100)), 0.01)
				assert.True(t, s.To.Y >= -1e-6 && s.To.Y <= 80+1e-6, "not beyond the planes: %v", s.To)
			}
		}
	}
}

// The lowest mode in the band is shown, of whichever pair: 99 by 39 mm resonate at
// 1.4603 GHz (2, 0), what lies over half of it at 1.59.
func TestTheFieldIsOfTheLowestModeInTheBand(t *testing.T) {
	a, list := resonating(t, `board b { frequency 1.5 GHz to 1.6 GHz }
stack { copper top 35 um; dielectric core 0.5 mm permittivity 4.3; copper mid 35 um; dielectric other 0.5 mm permittivity 4.3; copper bottom 35 um }
outline rectangle 100 mm by 40 mm
plane on top net GND pullback 0.5 mm
plane on mid net V5 pullback 0.5 mm within (0 mm, 0 mm) to (46 mm, 40 mm)
plane on bottom net GND pullback 0.5 mm
`)
	f := FieldOf(a.Board(), list)
	require.NotNil(t, f)
	assert.Equal(t, "mode 2, top to bottom, past mid, 1.46 GHz", f.Title)
	assert.True(t, f.Met)
}

// The report lists each pair with its own modes: the domain table's rectangles.
func TestCavitiesInTheReport(t *testing.T) {
	r := analyze("board b { frequency 1.2 GHz }\n" + cavity100by80 + "plating wall { along all; net GND }\nfence far along south inset 2 mm pitch 20 mm hole 0.5 mm net GND\n")
	require.Len(t, r.Cavities, 1)
	c := r.Cavities[0]
	assert.Equal(t, "top to bottom", c.Pair)
	assert.InDelta(t, 8000, c.Area, 0.1)
	assert.InDelta(t, 100, c.Joined, 1e-6)
	require.Len(t, c.Modes, 2, "1.157 and 1.705 GHz; none above 1.5 times the band")
	assert.InEpsilon(t, 1.1571, *c.Modes[0].Value, 0.002)
	assert.InEpsilon(t, 1.7049, *c.Modes[1].Value, 0.005)
	assert.Equal(t, "fence far does not count, its vias stand more than a twentieth of the wavelength apart", c.Note)
	r = analyze(cavity100by80)
	c = r.Cavities[0]
	require.Len(t, c.Modes, 6)
	for i, want := range []float64{0.7229, 0.9036, 1.1571, 1.4457, 1.7049, 1.8071} { // (1,0) (0,1) (1,1) (2,0) (2,1) (0,2)
		assert.InEpsilon(t, want, *c.Modes[i].Value, 0.01)
	}
	assert.Equal(t, "dense from 1.81 GHz", c.Dense)
	assert.Equal(t, "open edges fringe: up to 1.7 % lower, counted in the ranges", c.Note)
	assert.Less(t, *c.Modes[0].Least, 0.984**c.Modes[0].Value)
}
