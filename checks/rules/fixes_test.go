package rules

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/checks"
	"hemline/lang/finding"
)

// A fix is offered where one edit is surely right, and held back where it
// would bring another finding or cost a let its only reader.
func TestFixesThatWouldHarmAreHeldBack(t *testing.T) {
	narrowGap := `gap g of wall on west at 10 mm width `
	tabbed := "fabricator shop { limit tab_spacing maximum 200 mm }\noutline rectangle 60 mm by 40 mm\nplating wall { along west; net GND }\ntab t on west at 12 mm width 2 mm solid\ntab u on east at 31 mm width 2 mm solid\ntab s on south at 30 mm width 2 mm solid\n"
	beside := "stack { copper top 35 um; dielectric a 0.7 mm; copper inner 17 um; dielectric b 0.7 mm; copper bottom 35 um }\noutline rectangle 60 mm by 40 mm\n" +
		"plating x { along south from 1.2 mm to 60 mm; net X; wrap top bottom 0.8 mm }\nplating wall { along west from 0.2 mm to 40 mm; net GND; layers inner; wrap top bottom 0.8 mm }\n"
	cases := []struct {
		name, rule, text, mended string // mended is what the fix writes; "" for none
	}{
		{"a wrap with nothing beside it", "wrap_land", plated("wrap top 0.3 mm", "wrap bottom 0.8 mm"), "wrap top 0.381 mm"},
		{"a wrap whose relief would be too short", "wrap_land", plated("wrap top 0.3 mm", "wrap bottom 0.3 mm") + "relief r over wall on top bottom reach 0.4 mm\n", ""},
		{"a wrap beside a plane of another net", "wrap_land", plated("wrap top 0.3 mm", "wrap bottom 0.8 mm") + "plane on top net V5 pullback 0.6 mm\n", ""},
		{"a wrap beside a plane of its own net", "wrap_land", plated("wrap top 0.3 mm", "wrap bottom 0.8 mm") + "plane on top net GND pullback 0.6 mm\n", "wrap top 0.381 mm"},
		{"a wrap beside a part", "wrap_land", plated("wrap top 0.3 mm", "wrap bottom 0.8 mm") + "feature f on top circle 1 mm at (1.1 mm, 15 mm) net V5\n", ""},
		{"a wrap beside a part on the other face", "wrap_land", plated("wrap top 0.3 mm", "wrap bottom 0.8 mm") + "feature f on bottom circle 1 mm at (2 mm, 15 mm) net V5\n", "wrap top 0.381 mm"},
		{"a wrap beside the pads of a fence", "wrap_land", plated("wrap top 0.3 mm", "wrap bottom 0.8 mm") + "fence f along west inset 1 mm pitch 5 mm hole 0.3 mm land 0.8 mm net V5\n", ""},
		{"a wrap beside the pads of a fence of its net", "wrap_land", plated("wrap top 0.3 mm", "wrap bottom 0.8 mm") + "fence f along west inset 1 mm pitch 5 mm hole 0.3 mm land 0.8 mm net GND\n", "wrap top 0.381 mm"},
		{"a wrap given by a let", "wrap_land", "let turn = 0.3 mm\n" + plated("wrap top turn", "wrap bottom 0.8 mm"), ""},
		{"an opening with nothing beside it", "relief_short", platedWith("relief r over wall on top bottom reach 0.8 mm"), "0.875 mm"},
		{"an opening beside a part of the same net", "relief_short", platedWith("relief r over wall on top bottom reach 0.8 mm", "feature f on top circle 1 mm at (1.475 mm, 15 mm) net GND"), ""},
		{"a plane beside a wrap", "wrap_clearance", beside + "plane on top net GND pullback 0.9 mm\n", "1.054 mm"},
		{"a plane whose twin on another layer runs to a wall", "wrap_clearance", beside + "plane on top inner net GND pullback 0.9 mm\n", ""},
		{"a gap in the middle of a wall", "gap_narrow", platedWith(narrowGap + "1.5 mm"), "2 mm"},
		{"a gap whose tab needs more", "gap_narrow", platedWith(narrowGap+"1.5 mm", "tab t on west at 10 mm width 2 mm solid"), "3 mm"},
		{"a tab beside the gap that is for it", "tab_on_plating", tabbed + "gap g of wall on west at 10 mm width 5 mm for t\n", "at 10 mm"},
		{"a tab beside a gap that is for another", "tab_on_plating", tabbed + "gap g of wall on west at 10 mm width 5 mm for u\n", ""},
		{"a gap whose pin needs more", "gap_narrow", platedWith(narrowGap+"1.5 mm for c", "connector c on west at 10 mm { body 8 mm; pin top width 2 mm length 3 mm }"), "2.508 mm"},
		{"a gap whose pin needs mask beside it", "gap_narrow", "fabricator shop { limit mask_web minimum 0.2 mm }\n" + platedWith(narrowGap+"1.5 mm for c", "connector c on west at 10 mm { body 8 mm; pin top width 2 mm length 3 mm }", "relief r over wall on top reach 1 mm"), "2.7 mm"},
		{"a gap beside a short span", "gap_narrow", platedWith(narrowGap+"1.5 mm", "gap h of wall on west from 12.75 mm to 20 mm"), ""},
		{"a gap that may not be longer", "gap_narrow", radio("4 GHz", narrowGap+"1.5 mm"), ""},
		{"a gap given by a let", "gap_narrow", "let cut = 1.5 mm\n" + platedWith(narrowGap+"cut"), ""},
		{"a tab beside its gap", "tab_on_plating", platedWith(narrowGap+"5 mm", "tab t on west at 12 mm width 2 mm solid"), "at 10 mm"},
		{"a tab beside a gap in which another stands", "tab_on_plating", platedWith(narrowGap+"5 mm", "tab t on west at 12 mm width 2 mm solid", "tab u on west at 10 mm width 2 mm solid"), ""},
		{"a tab beside a gap of another plating", "tab_on_plating", platedWith("plating other { along north; net V5; wrap top 1 mm; wrap bottom 1 mm; extend 0.1 mm; copper 25 um }", "gap g of other on west at 10 mm width 5 mm", "tab t on west at 12 mm width 2 mm solid"), ""},
		{"a tab beside a gap too near its edge's end", "tab_on_plating", platedWith("gap g of wall on west from 1 mm to 5 mm", "tab t on west at 4.6 mm width 2 mm solid"), ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, found := "", false
			for _, f := range All().Check(analyze(c.text), checks.Options{}).Findings {
				if f.Rule == c.rule && !found {
					found = true
					if f.Fix != nil {
						got = f.Fix.Edits[0].Text
					}
				}
				assert.NotEqual(t, finding.Language, f.Category, f.Message)
			}
			assert.True(t, found, "%s finds something", c.rule)
			assert.Equal(t, c.mended, got)
		})
	}
}

// A tab that other plating than its gap's comes near to is not freed by a
// wider gap, nor is a pin.
func TestFixesOfTheWrongWallAreHeldBack(t *testing.T) {
	text := plated(wholeWraps...) + `connector c on west at 6 mm { body 10 mm; pin top width 1 mm length 6 mm }
gap g of wall on west at 6 mm width 6 mm for c bridged
cutout slit slot 10 mm by 2 mm at (12.05 mm, 6 mm)
plating bore { along slit.rim; net V5; wrap top 0.9 mm; wrap bottom 0.9 mm; extend 0.1 mm; copper 25 um }
`
	for _, f := range All().Check(analyze(text), checks.Options{}).Findings {
		if f.Rule == "launch_clearance" {
			assert.Nil(t, f.Fix)
			return
		}
	}
	assert.Fail(t, "the slit's wrap is too near the pin")
}
