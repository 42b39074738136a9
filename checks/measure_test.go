package checks_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

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
	assert.EqualValues(t, 2_500_000, maximum["tab_width_solid"].Value.Value, "the wider one")
	assert.Equal(t, "20 %", maximum["plated_share"].Value.String(), "40 mm of 200 mm")
	assert.True(t, minimum["wall_copper"].Never, "class 3 asks for 25 um (IPC-6012, from memory)")
	assert.False(t, minimum["wrap_land"].Never)
	for _, none := range []string{"castellation_hole", "router_bit", "perforation_hole"} {
		assert.NotContains(t, minimum, none, "nothing of the kind on the board")
	}
	for _, p := range checks.Parameters() {
		assert.True(t, p.Minimum != "" || minimum[p.Name].Parameter == nil, "%s has no minimum", p.Name)
		assert.True(t, p.Maximum != "" || maximum[p.Name].Parameter == nil, "%s has no maximum", p.Name)
	}
}
