package checks_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/source"
)

// What a board measures is the strictest limit that it still meets, on either
// side; where its class asks for more than it has, it meets none.
func TestMeasures(t *testing.T) {
	a := lang.Analyze(source.New("a.hem", `board b { class 3 }
outline rectangle 60 mm by 40 mm
plating wall { along west; net GND; wrap top 0.6 mm; wrap bottom 0.7 mm; copper 20 um }
tab t on south at 20 mm width 2.5 mm solid
tab u on north at 20 mm width 2 mm solid
`), nil, nil)
	minimum, maximum := map[string]checks.Measure{}, map[string]checks.Measure{}
	for _, m := range rules.All().Measures(a) {
		side := maximum
		if m.IsMinimum {
			side = minimum
		}
		side[m.Parameter.Name] = m
	}
	assert.EqualValues(t, 600_000, minimum["wrap_land"].Value.Value, "the lesser of two wraps, to a nanometre")
	assert.EqualValues(t, 2_000_000, minimum["tab_width_solid"].Value.Value, "the narrower tab")
	assert.EqualValues(t, 1_200_000, minimum["router_bit"].Value.Value, "the bit that leaves two fifths of it")
	assert.EqualValues(t, 2_500_000, maximum["tab_width_solid"].Value.Value, "the wider one")
	assert.Equal(t, "20 %", maximum["plated_share"].Value.String(), "40 mm of 200 mm")
	assert.True(t, minimum["wall_copper"].Never, "class 3 asks for 25 um (IPC-6012, from memory)")
	assert.False(t, minimum["wrap_land"].Never)
	for _, none := range []string{"castellation_hole", "slot_width", "perforation_hole"} {
		assert.NotContains(t, minimum, none, "nothing of the kind on the board")
	}
	for _, p := range checks.Parameters() {
		assert.True(t, p.Minimum != "" || minimum[p.Name].Parameter == nil, "%s has no minimum", p.Name)
		assert.True(t, p.Maximum != "" || maximum[p.Name].Parameter == nil, "%s has no maximum", p.Name)
	}
}

// How far a board goes towards a limit on two things is how near they come: the
// nearest of all pairs that the limit holds, as far as 5 mm; a limit that rules
// of both sorts read is met by the lesser.
func TestMeasuresOfPairs(t *testing.T) {
	a := lang.Analyze(source.New("a.hem", `board b { thickness 1.6 mm }
outline rectangle 80 mm by 60 mm corner 1 mm
plating wall { along west; net GND; wrap top 0.8 mm; wrap bottom 0.8 mm; copper 25 um }
feature near on top rectangle 1 mm by 1 mm at (1.9 mm, 20 mm) net V5
feature far on top rectangle 1 mm by 1 mm at (5 mm, 20 mm) net V5
plane on bottom net V5 pullback 1.5 mm
hole one diameter 1 mm at (40 mm, 30 mm) unplated
hole two diameter 1 mm at (45 mm, 30 mm) unplated
connector jack on east at middle { body 6 mm; clearance 3 mm; net RF; pin top width 1 mm length 2 mm }
plating lid { along east from 2 mm to 25 mm; net GND; wrap top 0.8 mm; wrap bottom 0.8 mm; copper 25 um }
tab t on south at 20 mm width 2 mm solid
tab u on south at 50 mm width 2 mm solid
`), nil, nil)
	require.Empty(t, a.Findings())
	least := map[string]checks.Measure{}
	for _, m := range rules.All().Measures(a) {
		if m.IsMinimum {
			least[m.Parameter.Name] = m
		}
	}
	assert.EqualValues(t, 600_000, least["wrap_clearance"].Value.Value, "1.9 mm less half a millimetre less the wrap; the plane is 0.7 mm off")
	assert.EqualValues(t, 4_000_000, least["hole_web"].Value.Value, "5 mm between middles")
	assert.NotContains(t, least, "copper_clearance", "the features are of one net")
	assert.False(t, least["launch_clearance"].Never, "lid is 4.5 mm from the pin, and the connector asks for 3 mm")
	assert.EqualValues(t, 4_500_000, least["launch_clearance"].Value.Value)
	assert.EqualValues(t, 1_200_000, least["router_bit"].Value.Value, "what leaves a tab its waist; 28 mm between the tabs are no measure")
	assert.NotContains(t, least, "body_clearance", "one connector")

	a = lang.Analyze(source.New("a.hem", "outline rectangle 80 mm by 60 mm\nplating lid { along east from 2 mm to 28 mm; net GND }\nconnector jack on east at middle { body 6 mm; clearance 3 mm; net RF; pin top width 1 mm length 2 mm }\n"), nil, nil)
	for _, m := range rules.All().Measures(a) {
		assert.Equal(t, m.Parameter.Name == "launch_clearance", m.Never, "%s: 1.5 mm where the connector asks for 3 mm", m.Parameter.Name)
	}
}
