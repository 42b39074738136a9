package report

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/copper"
	"hemline/lang/source"
)

func limits(t *testing.T, text string) []figures.Continuity {
	t.Helper()
	return NoteFigures(lang.Analyze(source.New("a.hem", text), nil, nil), nil).Continuity
}

// Worked out from ρ = 1.7241e-8 Ω·m at 20 °C (IACS, IEC 1913): ρ/25 µm is
// 0.690 mΩ a square; 100 mm of a wall 1.6 mm high are 62.5 squares, 43.10 mΩ.
// 260 mm of one 0.8 mm high with 20 µm: 325 squares of 0.862 mΩ, 280.2 mΩ.
// The limit is √2 above.
func TestContinuityLimit(t *testing.T) {
	for _, c := range []struct {
		text string
		mohm float64
	}{
		{"board b { thickness 1.6 mm }\noutline rectangle 100 mm by 80 mm\nplating wall { along south; net GND; copper 25 um }", 43.10},
		{"board b { thickness 0.8 mm }\noutline rectangle 300 mm by 80 mm\nplating wall { along south from 20 mm to 280 mm; net GND; copper 20 um }", 280.2},
		// the longest stretch alone counts
		{"board b { thickness 1.6 mm }\noutline rectangle 100 mm by 80 mm\nplating wall { along south; along west from 10 mm to 20 mm; net GND; copper 25 um }", 43.10},
		// all round: two halves of the rim side by side, π·50/2 mm each
		{"board b { thickness 1.6 mm }\noutline circle 50 mm\nplating wall { along rim; net GND; copper 25 um }", 43.10 * (math.Pi * 25 / 100) / 2},
	} {
		list := limits(t, c.text)
		require.Len(t, list, 1, c.text)
		assert.InEpsilon(t, c.mohm/1000, list[0].With, 0.001, c.text)
		assert.InEpsilon(t, math.Sqrt2*c.mohm/1000, list[0].Maximum(), 0.001, c.text)
	}
	ring := limits(t, "board b { thickness 1 mm }\noutline circle 50 mm\nplating wall { along rim; net GND; copper 25 um }")[0]
	assert.InDelta(t, 50e6, ring.From.Dist(ring.To), 1, "points opposite each other")
}

func TestNoContinuityLimitWithoutItsFigures(t *testing.T) {
	assert.Empty(t, limits(t, "outline rectangle 60 mm by 40 mm\nplating wall { along south; net GND; copper 25 um }"), "no thickness")
	assert.Empty(t, limits(t, "board b { thickness 1 mm }\noutline rectangle 60 mm by 40 mm\nplating wall { along south; net GND }"), "no copper")
	assert.Empty(t, limits(t, "board b { thickness 1 mm }\nplating wall { along south; net GND; copper 25 um }"), "nothing is plated")
}

// The report and the notes state one limit.
func TestReportStatesTheNotesLimit(t *testing.T) {
	const text = "board b { thickness 1.6 mm }\noutline rectangle 100 mm by 80 mm\nplating wall { along south; net GND; copper 25 um }"
	f := figure(t, analyze(text).Items[0].Figures, "continuity limit to ask for there")
	assert.InDelta(t, limits(t, text)[0].Maximum()*1000, *f.Value, 1e-9)
}

const foiled = "board b { thickness 1.6 mm }\nstack { copper top 35 um; dielectric d 1.535 mm; copper bottom 35 um }\noutline rectangle 100 mm by 80 mm\n"

// What decides is what is printed: a limit at twice as much and more, none below, for
// the reason that stands beside it.
func TestTheReportDecidesByWhatItPrints(t *testing.T) {
	all := func(text string) []Figure {
		return analyze(strings.Replace(text, " { thickness 1.6 mm }", "", 1)).Items[0].Figures
	}
	f := all(foiled + "plating wall { along south; net GND; copper 25 um; wrap top bottom 0.5 mm }")
	assert.InDelta(t, 32.45, *figure(t, f, "continuity limit to ask for there").Value, 0.01)
	assert.Contains(t, figure(t, f, "resistance without this wall").Line(), "2.15 times as much")
	tied := figure(t, f, "resistance with all that is tied")
	assert.InDelta(t, 22.94, *tied.Value, 0.01)
	assert.InDelta(t, 19.12, *tied.Least, 0.01)
	assert.InDelta(t, 28.68, *tied.Most, 0.01)
	assert.NotContains(t, names([]Item{{Figures: f}}), "test of the wall")
	f = all(foiled + "plating wall { along south; net GND; copper 25 um; wrap top bottom 0.6 mm }")
	assert.Nil(t, figure(t, f, "continuity limit to ask for there").Value)
	assert.Contains(t, figure(t, f, "continuity limit to ask for there").Line(), "less than a factor of two")
	assert.Contains(t, figure(t, f, "resistance without this wall").Line(), "1.96 times as much")
	assert.Contains(t, names([]Item{{Figures: f}}), "test of the wall")
}

// Planes that nothing joins but the wall: the limit is given, and what it hangs on.
func TestPlanesThatNothingJoinsHaveALimit(t *testing.T) {
	f := analyze(strings.Replace(foiled, " { thickness 1.6 mm }", "", 1) + "plating wall { along south; net GND; copper 25 um }\n" +
		"plane on top net GND pullback 0 mm within (0 mm, 0 mm) to (45 mm, 80 mm)\nplane on bottom net GND pullback 0 mm within (55 mm, 0 mm) to (100 mm, 80 mm)").Items[0].Figures
	limit := figure(t, f, "continuity limit to ask for there")
	assert.InEpsilon(t, math.Sqrt2**figure(t, f, "resistance with all that is tied").Value, *limit.Value, 1e-9)
	assert.Contains(t, limit.Line(), "as long as no vias join the planes")
	for _, x := range f {
		assert.NotRegexp(t, "Inf|NaN", x.Line())
	}
}

// The thickness has three digits wherever it stands on the page.
func TestOneThickness(t *testing.T) {
	r := analyze(strings.Replace(foiled, " { thickness 1.6 mm }", "", 1) + "plating wall { along south; net GND; copper 25 um; wrap top 0.5 mm }")
	assert.Contains(t, figure(t, r.Board.Figures, "thickness").Show(), "1.6 mm")
	assert.Contains(t, figure(t, r.Items[0].Figures, "current along the wall for 10 K").Line(), "the wall, 1.6 mm by 25 µm, and its wraps, top 0.5 mm by 35 µm")
}

// Notes say the limits in force, and who asks for them.
func TestNotesSayTheLimitsInForce(t *testing.T) {
	figures := NoteFigures(lang.Analyze(source.New("a.hem", "fabricator near { limit wrap_clearance minimum 0.3 mm; limit inner_clearance minimum 0.6 mm; limit tab_gap minimum 0.7 mm }"), nil, nil), nil)
	assert.Equal(t, copper.Room{
		Copper: copper.Distance{By: 0.15e6, Who: "common practice"}, EdgeOuter: copper.Distance{By: 0.25e6, Who: "common practice"}, EdgeInner: copper.Distance{By: 0.4e6, Who: "common practice"},
		Wrap: copper.Distance{By: 0.3e6, Who: "fabricator near"}, WallInner: copper.Distance{By: 0.6e6, Who: "fabricator near"},
	}, figures.Room)
	assert.Equal(t, copper.Distance{By: 0.7e6, Who: "fabricator near"}, figures.TabGap)
}
