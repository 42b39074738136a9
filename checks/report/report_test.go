package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

func analyze(text string) *Report {
	return New(lang.Analyze(source.New("a.hem", text), nil, nil), "", nil)
}

func figure(t *testing.T, list []Figure, name string) Figure {
	t.Helper()
	for _, f := range list {
		if f.Name == name {
			return f
		}
	}
	require.Fail(t, "no figure", name)
	return Figure{}
}

// A tab is as strong as its weaker section, the row of its holes or its waist:
// 5 mm less a bit of 2.4 mm, by hand 345·2.6·1.6²/6 = 382.72 N·mm; of two holes of
// 1 mm 3 mm are left, of four 1 mm. A bit of 2 mm leaves 1.4 mm of one 3.4 mm wide.
func TestTabsAreAsStrongAsTheirWeakerSection(t *testing.T) {
	for _, c := range []struct {
		tab                string
		waist, net, holds  float64
		whereNet, whereBit string
	}{
		{"width 5 mm solid", 2.6, 2.6, 382.72, "its waist", "halfway along slots of a bit of 2.40 mm"},
		{"width 5 mm perforated hole 1 mm pitch 3 mm", 2.6, 2.6, 382.72, "its waist", "halfway along slots of a bit of 2.40 mm"},
		{"width 5 mm perforated hole 1 mm pitch 1.3 mm", 2.6, 1, 147.2, "along its holes", "halfway along slots of a bit of 2.40 mm"},
		{"width 3.4 mm solid", 1.4, 1.4, 206.08, "its waist", "halfway along slots of a bit of 2.00 mm"},
	} {
		r := analyze("board b { thickness 1.6 mm }\noutline rectangle 60 mm by 40 mm\ntab t on south at middle " + c.tab)
		f := r.Items[0].Figures
		assert.InDelta(t, c.waist, *figure(t, f, "waist").Value, 1e-9, c.tab)
		assert.InDelta(t, c.net, *figure(t, f, "net width").Value, 1e-9, c.tab)
		assert.InDelta(t, c.holds, *figure(t, f, "holds at least").Value, 1e-6, c.tab)
		assert.Equal(t, c.whereNet, figure(t, f, "net width").Note, c.tab)
		assert.Equal(t, c.whereBit, figure(t, f, "waist").Note, c.tab)
	}
}

// A worked example, computed by hand: 100 × 80 × 1.6 mm, plated all
// round: edge 576 mm², wrap of 0.5 mm on both faces 358 mm², copper 25 µm
// 0.2092 g in all, laminate of 1.53 mm 22.644 g, two full planes of 35 µm 5.018 g; er 4.3, first mode 1.1571 GHz. The root of the
// premetallised tab takes 5 mm of it: edge 568 mm², copper 0.2074 g.
func TestWorkedExample(t *testing.T) {
	r := analyze(`board b { frequency 1 GHz }
stack { copper top 35 um; dielectric core 1.53 mm permittivity 4.3; copper bottom 35 um }
outline rectangle 100 mm by 80 mm
plating wall { along all; net GND; copper 25 um; wrap top 0.5 mm; wrap bottom 0.5 mm }
plane on top net GND pullback 0.5 mm
plane on bottom net GND pullback 0.5 mm
tab t on south at middle width 5 mm perforated hole 0.5 mm pitch 1 mm premetallised
castellation c on north from 10 mm to 20 mm pitch 2 mm hole 1 mm land 1.6 mm by 1.2 mm
`)
	for _, c := range []struct {
		list []Figure
		name string
		want float64
	}{
		{r.Board.Figures, "mass, bare", 27.87}, {r.Board.Figures, "area", 8000}, {r.Board.Figures, "sag across the longer side", 6.20}, {r.Board.Figures, "first mode, top to bottom", 1.1571},
		{r.Board.Figures, "wavelength in the board", 144.57}, {r.Board.Figures, "centre of mass, x", 50},
		{r.Items[0].Figures, "plated", 355}, {r.Items[0].Figures, "wall area", 568}, {r.Items[0].Figures, "wrap on top", 179},
		{r.Items[0].Figures, "copper mass, wall and wraps", 0.2074}, {r.Items[0].Figures, "current along the wall for 10 K", 4.156},
		{r.Items[0].Figures, "skin depth", 2.090}, {r.Items[0].Figures, "absorption of the wall", 103.9},
		{r.Items[1].Figures, "holds at least", 368}, {r.Items[1].Figures, "net width", 2.5}, {r.Items[2].Figures, "half holes", 6},
	} {
		f := figure(t, c.list, c.name)
		require.NotNil(t, f.Value, "%s: %s", c.name, f.Note)
		assert.InEpsilon(t, c.want, *f.Value, 0.002, c.name)
	}
}

// 1.6 mm high, 25 µm: 100 mm along are 43.10 mΩ, 10 mm from face to face 0.1103 mΩ (computed there).
func TestResistances(t *testing.T) {
	r := analyze(`board b { thickness 1.6 mm }
outline rectangle 120 mm by 80 mm
plating long { along south from 10 mm to 110 mm; net GND; copper 25 um }
plating short { along north from 10 mm to 20 mm; net GND; copper 25 um }`)
	assert.InEpsilon(t, 43.10, *figure(t, r.Items[0].Figures, "resistance along the longest stretch").Value, 0.005)
	assert.InEpsilon(t, 60.95, *figure(t, r.Items[0].Figures, "continuity limit to ask for there").Value, 0.005)
	assert.InEpsilon(t, 0.1103, *figure(t, r.Items[1].Figures, "resistance from face to face").Value, 0.005)
}

// What is plated of a cutout is no part of the outline.
func TestShareOfTheOutline(t *testing.T) {
	r := analyze(`outline rectangle 60 mm by 40 mm
cutout c rectangle 10 mm by 5 mm at (30 mm, 20 mm)
plating wall { along south; along c.south; net GND }
gap g of wall on south at middle width 10 mm`)
	assert.InDelta(t, 60, *figure(t, r.Items[0].Figures, "plated").Value, 1e-9)
	assert.InDelta(t, 25, *figure(t, r.Items[0].Figures, "share of the outline").Value, 1e-9)
	assert.InDelta(t, 3, *figure(t, r.Items[0].Figures, "bare stretches beside it").Value, 1e-9, "two of the outline, one of the cutout")
}

// A stretch of two platings counts for the first; a root is bare. 75 mm along are 32.33 mΩ.
func TestWhatIsPlatedCountsOnceAndWithoutRoots(t *testing.T) {
	r := analyze(`board b { thickness 1.6 mm; frequency 1 GHz }
outline rectangle 120 mm by 80 mm
plating long { along south from 10 mm to 110 mm; net GND; copper 25 um }
plating more { along south from 20 mm to 60 mm; net GND; copper 25 um }
tab t on south at 90 mm width 10 mm solid premetallised`)
	for _, c := range []struct {
		list []Figure
		name string
		want float64
	}{
		{r.Board.Figures, "plated part of the outline", 22.5},
		{r.Items[0].Figures, "plated", 90}, {r.Items[0].Figures, "share of the outline", 22.5}, {r.Items[0].Figures, "bare stretches beside it", 2},
		{r.Items[0].Figures, "resistance along the longest stretch", 32.33}, {r.Items[1].Figures, "plated", 0}, {r.Items[1].Figures, "share of the outline", 0},
	} {
		assert.InDelta(t, c.want, *figure(t, c.list, c.name).Value, 0.01, c.name)
	}
	assert.Contains(t, figure(t, r.Items[1].Figures, "resistance").Show(), "nothing that no plating stated before it plates")
	var text bytes.Buffer
	require.NoError(t, r.Text(&text))
	assert.Contains(t, text.String(), "root of t")
}

func TestOpeningsComeWorstFirst(t *testing.T) {
	r := analyze(`board b { frequency 1 GHz; thickness 1 mm }
outline rectangle 120 mm by 80 mm
plating wall { along south west; net GND }
gap small of wall on west at middle width 3 mm
gap large of wall on south at middle width 9 mm
gap word of wall on south at 100 mm width 4 mm bridged
gap closed_by of wall on south at 20 mm width 6 mm for c bridged
connector c on south at 20 mm { body 6 mm }
tab t on south at 80 mm width 5 mm solid premetallised`)
	var got []string
	for _, o := range r.Openings {
		got = append(got, o.Gap+o.Tab)
	}
	assert.Equal(t, []string{"", "large", "t", "word", "small", "closed_by", "closed_by"}, got, "a body as wide as its gap closes it as drawn alone")
	assert.InEpsilon(t, 18.11, *r.Openings[1].Holds, 0.005, "20·log10(λ/2L), λ = 144.6 mm at er 4.3, by hand")
}

// What a tab or a connector opens has no gap's name: the report says what opens it.
func TestOpeningsOfTabsAndConnectors(t *testing.T) {
	r := analyze(`board b { frequency 1 GHz; thickness 1 mm }
outline rectangle 120 mm by 80 mm
plating wall { along all; net GND }
gap g of wall on west at middle width 3 mm
tab t on south at middle width 5 mm solid opens margin 1 mm
connector c on east at middle { body 9 mm; opens span 8 mm }`)
	var got []string
	for _, o := range r.Openings {
		got = append(got, fmt.Sprintf("%q %q %g %t", o.Gap, o.OpenedBy, o.Length, o.Closed))
	}
	assert.Equal(t, []string{`"" "connector c" 8 true`, `"" "tab t" 7 true`, `"g" "" 3 true`}, got)
	var written strings.Builder
	require.NoError(t, r.JSON(&written))
	assert.Contains(t, written.String(), `"openedBy": "tab t"`)
	assert.Equal(t, 2, strings.Count(written.String(), "openedBy"))
	written.Reset()
	require.NoError(t, r.Text(&written))
	assert.Regexp(t, "\n  tab t +7, at worst 7.4 ", written.String())
	assert.Regexp(t, "\n  connector c +8, at worst 8.4 ", written.String())
}

// A figure that does not apply is no number, in any form of the report.
func TestWhatDoesNotApplySaysWhy(t *testing.T) {
	r := analyze("outline circle 40 mm\nplating wall { along rim; net GND }\ntab t on rim at 3 mm width 2 mm solid")
	f := figure(t, r.Board.Figures, "first mode of the planes")
	assert.Nil(t, f.Value)
	assert.Contains(t, f.Show(), "does not apply: no two planes on neighbouring layers")
	assert.Contains(t, figure(t, r.Items[0].Figures, "copper mass").Show(), "the wall's copper is not stated")
	bare := analyze("note \"nothing\"")
	for _, x := range []*Report{r, bare} {
		var text, markdown, object bytes.Buffer
		require.NoError(t, x.Text(&text))
		require.NoError(t, x.Markdown(&markdown))
		require.NoError(t, x.JSON(&object))
		for _, s := range []string{text.String(), markdown.String(), object.String()} {
			assert.NotRegexp(t, `NaN|Inf\b|-0\b`, s)
		}
	}
}

// What is accepted is listed with its items, a pair as a pair.
func TestAcceptedPairs(t *testing.T) {
	r := New(lang.Analyze(source.New("a.hem", `outline rectangle 60 mm by 40 mm
plating wall { along west; net GND; wrap top 0.8 mm; wrap bottom 0.8 mm }
feature c7 on top circle 1 mm at (1.4 mm, 20 mm) net V5
accept wrap_clearance on wall with c7 because "so"
`), nil, nil), "2027-01-15", nil)
	require.Len(t, r.Accepted, 1)
	assert.Equal(t, []string{"c7", "wall"}, r.Accepted[0].Items)
	var text, markdown, object strings.Builder
	require.NoError(t, r.Text(&text))
	require.NoError(t, r.Markdown(&markdown))
	require.NoError(t, r.JSON(&object))
	assert.Contains(t, text.String(), "\n  wrap_clearance  c7 with wall  distance from feature c7")
	assert.Contains(t, markdown.String(), "| wrap_clearance | c7 with wall | distance from feature c7")
	assert.Contains(t, object.String(), `"items": [`)
}

// Of every example, in every form: JSON that reads back, and no odd number.
func TestExamples(t *testing.T) {
	files, err := filepath.Glob("../../examples/*/../*.hem")
	require.NoError(t, err)
	broken, err := filepath.Glob("../../examples/broken/*.hem")
	require.NoError(t, err)
	require.NotEmpty(t, broken)
	for _, path := range append(files, broken...) {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		r := New(lang.Analyze(source.New(path, string(data)), source.Read, nil), "2027-01-15", nil)
		var object bytes.Buffer
		require.NoError(t, r.JSON(&object))
		var back Report
		require.NoError(t, json.Unmarshal(object.Bytes(), &back))
		assert.Equal(t, len(r.Items), len(back.Items))
		for _, i := range append(r.Items, r.Board) {
			for _, f := range i.Figures {
				if f.Value != nil {
					assert.False(t, math.IsNaN(*f.Value) || math.IsInf(*f.Value, 0), f.Name)
				} else {
					assert.NotEmpty(t, f.Note, f.Name)
				}
			}
		}
		var text strings.Builder
		require.NoError(t, r.Text(&text))
		assert.Contains(t, text.String(), wording.Caution)
	}
}

// What a board has of each limit is what its rules measure: the same figures
// as written in the text.
func TestMeasures(t *testing.T) {
	a := lang.Analyze(source.New("a.hem", `board b { thickness 1.6 mm }
outline rectangle 50 mm by 30 mm
plating wall { along west; net GND; wrap top 0.4 mm; wrap bottom 20 mil; copper 28 um; extend 0.11 mm }
gap g of wall on west at 10 mm width 3.3 mm
tab t on south at 10 mm width 2.2 mm solid`), nil, nil)
	got := map[string]string{}
	for _, m := range rules.All().Measures(a) {
		if m.IsMinimum || m.Parameter.Minimum == "" {
			got[m.Parameter.Name] = m.Value.String()
		}
	}
	for name, want := range map[string]string{
		"wrap_land": "0.40 mm", "extension": "0.11 mm", "wall_copper": "0.028 mm", "gap_width": "3.30 mm", "tab_width_solid": "2.20 mm",
		"span_length": "8.35 mm", "board_thickness": "1.60 mm", "tab_corner": "8.90 mm", "tab_count": "1", "plated_share": "16.69 %",
	} {
		assert.Equal(t, want, got[name], name)
	}
	assert.NotContains(t, got, "castellation_hole", "a limit that the board does not touch")
}

// A row says what its fabricator's verdict says: what is risky is short, what is
// unbuildable cannot be built, whether a limit or a rule without one says so; what
// is agreed is accepted.
func TestShopsVerdictsAgreeWithTheirRows(t *testing.T) {
	const text = `board b { thickness 1.6 mm; class 2 }
outline rectangle 60 mm by 40 mm
plating wall { along west; net GND; wrap top 0.4 mm; wrap bottom 0.4 mm; copper 25 um; extend 0.1 mm }
tab t1 on south at 20 mm width 2 mm solid
tab t2 on north at 20 mm width 2 mm solid
tab t3 on east at 20 mm width 2 mm solid
accept tab_corner on t3 because "agreed"
`
	shop := func(says string) *lang.Analysis {
		return lang.Analyze(source.New("shop.hem", "fabricator shop { "+says+" }\n"), nil, nil)
	}
	for _, c := range []struct {
		says    string
		builds  bool
		limit   string
		verdict Verdict
	}{
		{"limit wrap_land minimum 0.3 mm", true, "wrap_land", OK},
		{"limit wrap_land minimum 0.5 mm", false, "wrap_land", Cannot},
		{"limit tab_corner minimum 19.5 mm", true, "tab_corner", Short},
		{"limit tab_corner minimum 18.5 mm", true, "tab_corner", OK},
		{"offers half_holes", false, "service_missing", Cannot},
	} {
		out := Compare(lang.Analyze(source.New("a.hem", text), nil, nil), nil, []*lang.Analysis{shop(c.says)}, "")
		assert.Equal(t, c.builds, out.Shops[0].Builds, c.says)
		found := false
		for _, r := range out.Rows {
			if r.Limit == c.limit {
				found = true
				assert.Equal(t, c.verdict, r.Cells[0].Verdict, c.says)
			}
			assert.False(t, c.builds && r.Cells[0].Verdict == Cannot, "%s: %s", c.says, r.Limit)
		}
		assert.True(t, found, "%s: a row", c.says)
	}
	only := lang.Analyze(source.New("a.hem", text+"tab t4 on south at 50 mm width 2 mm solid\naccept tab_corner on t1 because \"so\"\naccept tab_corner on t2 because \"so\"\naccept tab_corner on t4 because \"so\"\n"), nil, nil)
	out := Compare(only, nil, []*lang.Analysis{shop("limit tab_corner minimum 19.5 mm")}, "")
	for _, r := range out.Rows {
		if r.Limit == "tab_corner" {
			assert.Equal(t, AcceptedShort, r.Cells[0].Verdict)
		}
	}
}

// What a board asks for and no shop's limits could verify is said under the
// table, in each form; what was agreed as such, and where nothing is missing, too.
func TestShopsSayWhatWasNotVerified(t *testing.T) {
	const plain = `outline rectangle 60 mm by 40 mm
plating wall { along west; net GND; wrap top 0.4 mm; wrap bottom 0.4 mm; copper 25 um; extend 0.1 mm }
`
	shop := lang.Analyze(source.New("shop.hem", "fabricator shop { limit wrap_land minimum 0.3 mm }\n"), nil, nil)
	for _, c := range []struct {
		text, line string
	}{
		{"board b { thickness 1.6 mm; voltage 300 V }\n" + plain, "asked and not verified: voltage 300 V"},
		{"board b { thickness 1.6 mm; voltage 300 V; current 2 A }\n" + plain, "asked and not verified: current 2 A; voltage 300 V"},
		{"board b { thickness 1.6 mm; voltage 300 V }\naccept not_verified on board.voltage because \"an expert has looked\"\n" + plain, "asked and not verified: voltage 300 V (accepted)"},
		{"board b { thickness 1.6 mm; voltage 30 V }\n" + plain, ""},
	} {
		out := Compare(lang.Analyze(source.New("a.hem", c.text), nil, nil), nil, []*lang.Analysis{shop}, "")
		var text, markdown, data strings.Builder
		require.NoError(t, out.Text(&text))
		require.NoError(t, out.Markdown(&markdown))
		require.NoError(t, out.JSON(&data))
		if c.line == "" {
			assert.NotContains(t, text.String(), "not verified")
			assert.NotContains(t, markdown.String(), "not verified")
			assert.Contains(t, data.String(), `"notVerified": []`)
			continue
		}
		assert.Contains(t, text.String(), "\n"+c.line+"\n")
		assert.Contains(t, markdown.String(), "\n"+c.line+"\n")
		assert.Contains(t, data.String(), `"asked": "voltage 300 V"`)
	}
}

// A tab that is routed off is not snapped.
func TestSnappingForceIsOfPerforatedTabs(t *testing.T) {
	r := analyze(`board b { thickness 1.6 mm }
outline rectangle 60 mm by 40 mm
tab solid on south at 20 mm width 3 mm solid
tab row on north at 20 mm width 5 mm perforated hole 0.5 mm pitch 1 mm
`)
	for _, i := range r.Items {
		names := []string{}
		for _, f := range i.Figures {
			names = append(names, f.Name)
		}
		if i.Name == "row" {
			// 2.5 mm of 1.6 mm at 689 N/mm²: 689·2.5·1.6²/6/2 N at a slot's 2 mm, by hand.
			assert.InDelta(t, 367, *figure(t, i.Figures, "snapping force at its end").Value, 1)
		} else {
			assert.NotContains(t, names, "snapping force at its end")
		}
	}
	assert.Len(t, r.Items, 2)
}

// What is left to the shop is listed with its edges and its reason.
func TestWhatIsLeftToTheShop(t *testing.T) {
	r := New(lang.Analyze(source.New("a.hem", `outline rectangle 60 mm by 40 mm
leave tab_places tab_length along south west to shop because "its usual frame"
leave class to shop because "as ever"
`), nil, nil), "2027-01-15", nil)
	var text, markdown strings.Builder
	require.NoError(t, r.Text(&text))
	require.NoError(t, r.Markdown(&markdown))
	assert.Contains(t, text.String(), "\nleft to the shop\n  queries                                  because\n  tab_places tab_length, along south west  its usual frame\n  class                                    as ever\n")
	assert.Contains(t, markdown.String(), "\n| tab_places tab_length, along south west | its usual frame |\n| class | as ever |\n")
}

// What is open at worst: 3 mm and twice 0.1 mm as stated; a gap that its body
// closes as drawn opens by the shop's 0.2 mm elsewhere, and the wall's height of
// 1 mm and a tenth is more. 3.2 mm let 20·log10(144.57/6.4) = 27.08 dB through, by hand.
func TestOpeningsAtWorst(t *testing.T) {
	r := analyze(`board b { frequency 1 GHz; thickness 1 mm }
outline rectangle 120 mm by 80 mm
tolerance { gaps 0.1 mm }
plating wall { along south west; net GND }
gap g of wall on west at middle width 3 mm
gap shut of wall on south at 20 mm width 6 mm for c bridged
connector c on south at 20 mm { body 6 mm }
gap well_shut of wall on south at 60 mm width 6 mm for d bridged
connector d on south at 60 mm { body 6.2 mm }
fence f along north inset 2 mm pitch 3 mm hole 0.3 mm net GND`)
	var text, md, object bytes.Buffer
	require.NoError(t, r.Text(&text))
	require.NoError(t, r.Markdown(&md))
	require.NoError(t, r.JSON(&object))
	for _, o := range r.Openings {
		switch o.Gap {
		case "g":
			assert.InDelta(t, 3, o.Length, 1e-9)
			assert.InDelta(t, 3.2, o.Worst.Length, 1e-9)
			assert.InDelta(t, 27.08, *o.Worst.Holds, 0.005)
			assert.Equal(t, "the gaps' tolerance of 0.10 mm at each end", o.Worst.By)
		case "shut":
			assert.Zero(t, o.Length)
			assert.Nil(t, o.Holds)
			assert.InDelta(t, 1.1, o.Worst.Length, 1e-9)
			assert.Equal(t, "the thickness's tolerance of 10 %, which is common practice", o.Worst.By)
		case "well_shut":
			assert.Fail(t, "a body that reaches 0.1 mm past each end closes it at worst too")
		default:
			assert.InDelta(t, o.Length+0.2, o.Worst.Length, 1e-9, "the bare edges")
		}
	}
	assert.Equal(t, "no shield: 200 mm of openings lie within half a wavelength", figure(t, r.Board.Figures, "shielding of the wall").Show(), "two whole edges are bare")
	pitch := figure(t, r.Items[1].Figures, "pitch")
	assert.Equal(t, "3 mm, at worst 3.2 mm", pitch.Show())
	assert.Equal(t, "the positions' tolerance of 0.10 mm at each via, which is common practice", pitch.Note)
	assert.Equal(t, "2.08 %, at worst 2.21 %", figure(t, r.Items[1].Figures, "pitch as a share of the wavelength").Show())
	assert.Regexp(t, `\n  gap g +3, at worst 3\.2 a\) +2\.08, at worst 2\.21 +27\.6, at worst 27\.1 +west from`, text.String())
	assert.Regexp(t, `\n  gap shut +closed, at worst 1\.1 b\) +at worst 0\.761 +at worst 36\.4 `, text.String())
	assert.Contains(t, text.String(), "\n  a) with the gaps' tolerance of 0.10 mm at each end\n  b) with the thickness's tolerance of 10 %, which is common practice\n")
	assert.Contains(t, md.String(), "| gap g | 3, at worst 3.2 a) | 2.08, at worst 2.21 | 27.6, at worst 27.1 | west from ")
	assert.Contains(t, md.String(), "\n- a) with the gaps' tolerance of 0.10 mm at each end\n")
	assert.Contains(t, object.String(), `"by": "the gaps' tolerance of 0.10 mm at each end"`)
}

// What a tab carries has its sign, or the reason why it is not told; a row's length
// and the webs beside it are by hand: 4·1 + 0.5 mm of 5.
func TestWhatATabCarries(t *testing.T) {
	const head = "board b { thickness 1.6 mm }\noutline rectangle 100 mm by 80 mm\n"
	share := func(text, name string) Figure {
		for _, i := range analyze(text).Items {
			if i.Name == name {
				return figure(t, i.Figures, "share of the board's mass")
			}
		}
		return Figure{}
	}
	three := head + "part heavy mass 30 g at (25 mm, 60 mm)\ntab a on south at 20 mm width 3 mm solid\ntab b on south at 80 mm width 3 mm solid\ntab c on north at 50 mm width 3 mm solid\n"
	// -0.0278 N, by the lever rule.
	f := share(three, "b")
	assert.InDelta(t, -0.0278/9.80665*1000, *f.Value, 0.05)
	assert.Contains(t, f.Note, "pulled up")
	f = share("board b { thickness 1.6 mm }\noutline { start (0 mm, 0 mm); line a to (30 mm, -2 mm); line b to (60 mm, 0 mm); line c to (60 mm, 40 mm); line d to (0 mm, 40 mm); close e }\n"+
		"tab t on a at 10 mm width 3 mm solid\ntab u on a at 28 mm width 3 mm solid\ntab v on b at 20 mm width 3 mm solid\n", "t")
	assert.Nil(t, f.Value)
	assert.Contains(t, f.Note, "cannot be told: the tabs' middles lie too nearly on one line")

	row := analyze(head + "tab r on south at 20 mm width 5 mm perforated hole 0.5 mm pitch 1 mm length 3 mm removal hand\n").Items[0].Figures
	assert.InDelta(t, 4.5, *figure(t, row, "row of holes").Value, 1e-9)
	assert.InDelta(t, 0.25, *figure(t, row, "web at each end").Value, 1e-9)
	assert.InDelta(t, 0.5, *figure(t, row, "web between holes").Value, 1e-9)
	assert.InDelta(t, 689*2.5*1.6*1.6/6/3, *figure(t, row, "snapping force at its end").Value, 0.01)
	assert.Contains(t, figure(t, row, "snapping force at its end").Note, "at 3.00 mm, the tab's own length")
}

// A plated slot of 2 mm in 25 µm is routed 2.05 mm wide, by hand.
func TestPlatedSlots(t *testing.T) {
	r := analyze("board b { thickness 1.6 mm }\noutline rectangle 60 mm by 40 mm\ncutout s slot 8 mm by 2 mm at (30 mm, 20 mm)\ncutout w rectangle 6 mm by 4 mm corner 1 mm at (15 mm, 20 mm)\ncutout bare slot 8 mm by 2 mm at (45 mm, 30 mm)\nplating p { along s.rim w.south; net GND; copper 25 um }")
	require.Len(t, r.Items, 3, "the plating and the two plated cutouts")
	assert.InDelta(t, 2, *figure(t, r.Items[1].Figures, "finished width").Value, 1e-9)
	assert.InDelta(t, 1, *figure(t, r.Items[1].Figures, "finished radius inside").Value, 1e-9)
	assert.InDelta(t, 2.05, *figure(t, r.Items[1].Figures, "width before plating").Value, 1e-9)
	assert.InDelta(t, 1.025, *figure(t, r.Items[1].Figures, "radius before plating").Value, 1e-9)
	assert.InDelta(t, 4, *figure(t, r.Items[2].Figures, "finished width").Value, 1e-9)
	assert.InDelta(t, 1, *figure(t, r.Items[2].Figures, "finished radius inside").Value, 1e-9)
}
