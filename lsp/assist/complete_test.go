package assist

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/checks"
	"hemline/checks/rules"
)

// What is offered at ‸, the first few, and what is not.
func TestComplete(t *testing.T) {
	head := "stack { copper top 35 um; dielectric core 1 mm; copper inner 17 um; dielectric low 1 mm; copper bottom 35 um }\nlet long = 60 mm\nlet f = 2 GHz\noutline rectangle long by 40 mm\nplating wall { along west; net GND }\nconnector antenna on west at middle { body 9 mm; net RF }\ntab t on south at 30 mm width 3 mm solid\nfabricator shop { finishes ENIG ImmAg }\n"
	for _, c := range []struct{ at, first, not string }{
		{"‸", "hem use let board", "outline stack"},
		{"ga‸", "hem use let board", ""},
		{"gap g ‸", "of on at width from for bridged", "net gap"},
		{"gap g of ‸", "wall", "antenna"},
		{"gap g of wa‸ on west", "wall", "of"},
		{"gap g of wall ‸", "on at width from for bridged", "of"},
		{"gap g of wall on ‸", "south east north west", "all"},
		{"gap g of wall on west at ‸", "middle long south.length", "f"},
		{"gap g of wall on west at 3 ‸", "mm um mil", "GHz deg"},
		{"gap g of wall on west at 3 m‸", "mm um mil", "GHz"},
		{"gap g of wall on west at middle width 3 mm ‸", "for bridged", "width on of"},
		{"cutout bore circle 4 mm at (9 mm, 9 mm)\nplating p along bore.rim from 30 ‸", "mm um mil in cm oz m nm deg", "GHz"},
		{"tab u on west at 9 mm width 3 mm solid ‸", "premetallised length opens removal", "bridged"},
		{"connector x {\n  body 9 mm\n  o‸\n}", "on at pin legs clearance mass", "body"},
		{"tab u on west at 9 mm width 3 mm solid opens ‸", "wall margin span", "bridged west"},
		{"tab u on west at 9 mm width 3 mm solid opens wall ‸", "margin span premetallised", "wall"},
		{"tab u on west at 9 mm width 3 mm solid opens margin ‸", "long", "wall"},
		{"connector x {\n  opens ‸\n}", "wall margin span bridged", "south"},
		{"connector x {\n  opens wall span 3 mm ‸\n}", "margin span bridged", "wall"},
		{"plating p along south, ‸", "east north west", "net wrap"},
		{"gap g of wall on west at middle width long - ‸", "long f", "middle"},
		{"gap g of wall on west at middle width 3 mm for ‸", "antenna t", "wall"},
		{"plating p {\n  ‸\n}", "along net wrap copper extend layers finish", "of"},
		{"plating p {\n  net GND\n  ‸\n}", "along wrap copper", "net"},
		{"plating p {\n  net ‸\n}", "RF GND", "net"},
		{"plating p {\n  wrap ‸\n}", "top bottom", "inner"},
		{"plating p {\n  wrap top ‸\n}", "bottom long", "top net"},
		{"plating p {\n  wrap top bottom ‸\n}", "long", "top bottom net"},
		{"plating p {\n  wrap top bottom 3 ‸\n}", "mm um mil", "top bottom"},
		{"plating p {\n  wrap top bottom 3 mm ‸\n}", "along net", "top bottom"},
		{"plating p {\n  along south ‸\n}", "east north west all", "south"},
		{"plating p {\n  layers ‸\n}", "top inner bottom all", ""},
		{"plating p {\n  finish ‸\n}", "ENIG ImmAg", ""},
		{"stack {\n  copper a 35 um ‸\n}", "base", "loss"},
		{"plating p {\n  copper 25 um ‸\n}", "least along", "base"},
		{"connector x {\n  body 9 mm ‸\n}", "reach overhang", "width"},
		{"board b {\n  voltage 4 ‸\n}", "V kV", "mm"},
		{"board b {\n  hazard ‸\n}", "none protective_earth live", ""},
		{"board b {\n  impedance ‸\n}", "\"\" none", "all"},
		{"board b {\n  finish ‸\n}", "ENIG ImmAg", "none"},
		{"tolerance {\n  thickness 10 ‸\n}", "% mm um", "GHz"},
		{"tolerance {\n  outline 10 ‸\n}", "mm um", "%"},
		{"board b { class 3 }\nleave ‸", "outline_tolerance thickness_tolerance material", "to"},
		{"board b { class 3 }\nleave tab_places outline ‸", "outline_tolerance thickness_tolerance material revision", "outline tab_places"},
		{"leave class to ‸", "shop", "because"},
		{"criteria {\n  voids ‸\n}", "none maximum", "all"},
		{"connector x {\n  pin top ‸\n}", "width length", ""},
		{"plane on ‸", "top inner bottom", ""},
		{"plane on top ‸", "inner bottom net pullback within", "top"},
		{"plane on top pullback 1 mm within (0 mm, 0 mm) ‸", "to", "within"},
		{"plane on top pullback 1 mm within (0 mm, 0 mm) to (9 mm, 9 mm)\nplane on top net V pullback 1 mm within (9 mm, 0 mm) to (20 mm, 9 mm)\naccept copper_clearance on top‸", "wall antenna t top top.1 top.2", ""},
		{"feature x on top circle 1 mm at (‸", "long", "middle"},
		{"let q = ‸", "long f", "middle"},
		{"let q = 3 ‸", "mm GHz um", ""},
		{"let q = max(‸", "long f", ""},
		// Right after a dot, what the name before it has and nothing else.
		{"tab u on south at south.‸", "south.length", "middle long east.length"},
		{"tab u on south at south.le‸", "south.length", "middle long"},
		{"let q = 2 mm + board.‸", "board.thickness board.width board.height", "long south.length"},
		{"cutout bore circle 4 mm at (9 mm, 9 mm)\nplating p along bore.‸", "bore.rim", "south all"},
		{"accept tab_weak on t.‸", "", "t wall"},
		{"tab row on north at 9 mm, 20 mm width 3 mm solid\naccept tab_weak on row.‸", "row.1 row.2", "row wall"},
		// The author's units first, of the same clause before others.
		{"let a = 5 mil\nlet b = 6 mil\nlet d = 7 mil\nlet e = 8 mil\nlet g = 7 mil\nlet h = 7 mil\nlet i = 3 ‸", "mil mm", "µm"},
		{"plating a { extend 50 µm }\nplating b {\n  extend 20 ‸\n}", "µm", "um μm"},
		{"board b {\n  frequency 3 ‸\n}", "GHz MHz", "mm"},
		{"board b {\n  class ‸\n}", "1 2 3", "mm"},
		// Names by what is near: on the same edge, then spoken of nearby.
		{"connector far on east at middle { body 9 mm; net RF }\ngap g of wall on west at middle width 3 mm for ‸", "antenna far t", ""},
		{"connector far on east at middle { body 9 mm; net RF }\ngap g of wall on east at middle width 3 mm for ‸", "far t antenna", ""},
		{"typical scar tab { width 3 mm; solid }\ntypical stub tab { width 2 mm; solid }\ntab u like ‸", "stub scar t", "wall"},
		{"typical scar tab { width 3 mm; solid }\ntypical pins castellation { hole 1 mm }\ntab u like ‸", "scar t", "pins antenna"},
		{"tab row on north at 9 mm, 20 mm width 3 mm solid\naccept tab_weak on ro‸", "wall antenna t row row.1 row.2", ""},
		{"typical scar ‸", "hole plating connector tab castellation fence", "width"},
		{"typical scar tab {\n  ‸\n}", "width solid perforated premetallised length opens removal like no", "on at tab"},
		{"tab u like t no ‸", "inset premetallised length opens removal by within", ""},
		{"accept ‸", "outline_open outline_crosses", ""},
		{"accept wrap_land on ‸", "wall antenna", "on"},
		{"accept wrap_land on wall ‸", "antenna t long f shop outline with because until", "wall"},
		{"board b { voltage 12 V; class 3 }\naccept not_verified on wall with antenna because \"x\"\naccept wrap_land on b ‸", "wall antenna t long f shop board.class board.voltage outline with", ""},
		{"accept wrap_land on tab ‸", "wall antenna", "on"},
		{"accept wrap_land on wall with ‸", "wall antenna t", "because"},
		{"accept wrap_land on wall with outline ‸", "because until", "wall on"},
		{"board b { current 2 A }\naccept not_verified on bo‸", "wall antenna t long f b shop board.current", "board.class board.rise"},
		{"fabricator s {\n  offers ‸\n}", "edge_plating half_holes", ""},
		{"fabricator s {\n  limit ‸\n}", "wrap_land wrap_clearance", ""},
		{"fabricator s {\n  limit wrap_land ‸\n}", "minimum maximum because source", ""},
		{"use \"shops/‸", "a.hem deeper/", ""},
		{"// no‸", "", "hem"},
	} {
		t.Run(strings.ReplaceAll(c.at, "\n", "¶"), func(t *testing.T) {
			a, at := analyze(t, head+c.at+"\n")
			var labels []string
			for _, x := range Complete(a, at, func(folder string) []string {
				if folder == "shops/" {
					return []string{"a.hem", "deeper/"}
				}
				return nil
			}, checks.Options{}) {
				labels = append(labels, x.Label)
			}
			want := strings.Fields(c.first)
			if len(want) == 0 {
				assert.Empty(t, labels)
			} else if assert.GreaterOrEqual(t, len(labels), len(want), "%v", labels) {
				assert.Equal(t, want, labels[:len(want)])
			}
			for _, not := range strings.Fields(c.not) {
				assert.NotContains(t, labels, not)
			}
		})
	}
}

func TestCompletionTakesTheWordsPlace(t *testing.T) {
	a, at := analyze(t, text+"gap x of wa‸l on west")
	for _, c := range Complete(a, at, nil, checks.Options{}) {
		if c.Label == "wall" {
			assert.Equal(t, "wal", a.Root().Slice(c.Span))
			return
		}
	}
	assert.Fail(t, "wall is not offered")
}

// What a statement's snippet writes is a statement that the vocabulary takes,
// once its stops are filled in.
func TestSnippets(t *testing.T) {
	a, at := analyze(t, "‸")
	for _, c := range Complete(a, at, nil, checks.Options{}) {
		assert.True(t, strings.HasPrefix(c.Insert, c.Label), c.Label)
		assert.NotEmpty(t, c.Doc)
	}
	assert.Equal(t, "gap ${1:NAME} of ${2:PLATING} on ${3:EDGE} at ${4:P} width ${5:W}", Complete(a, at, nil, checks.Options{})[9].Insert)
}

// What is offered for a tab's place keeps to the rules where it is written, with what its
// statement has, and says how far the next tab is; what would not is not offered.
func TestPositionsOfTabsKeepToTheRules(t *testing.T) {
	const board = "board b { thickness 1.6 mm }\noutline rectangle 60 mm by 40 mm corner 1 mm\nplating wall { along south west; net GND }\n" +
		"connector c on south at 20 mm { body 10 mm }\ntab a on south at 40 mm width 3 mm solid opens margin 0.5 mm\n"
	for _, c := range []struct{ statement, behind, says string }{
		{"tab b on south at ‸", "", "from tab a; keeps to the rules of tabs with width 3 mm solid opens margin 0.5 mm"},
		{"tab b on south at ‸", " width 3 mm solid opens margin 0.5 mm", "from tab a; keeps to the rules of tabs"},
		{"tab b on north at ‸", " width 3 mm solid", "from tab a; keeps to the rules of tabs"},
		{"tab b { on north; width 100 mil; perforated hole 20 mil pitch 32 mil; at ‸ }", "", "from tab a; keeps to the rules of tabs"},
	} {
		a, at := analyze(t, board+c.statement+c.behind+"\n")
		n := 0
		for _, x := range Complete(a, at, nil, checks.Options{}) {
			if !strings.Contains(x.Detail, "rules of tabs") {
				continue
			}
			n++
			assert.Contains(t, x.Detail, c.says, c.statement)
			behind := c.behind
			if behind == "" && !strings.Contains(c.statement, "width") {
				behind = " width 3 mm solid opens margin 0.5 mm"
			}
			mended, _ := analyze(t, board+strings.Replace(c.statement, "‸", x.Insert, 1)+behind+"\n")
			for _, f := range rules.All().Check(mended, checks.Options{Only: placing("tab")}).Findings {
				assert.False(t, slices.Contains(f.Items, "b") && f.Rule != "tab_spacing", "%s: %s", x.Label, f.Message)
			}
		}
		assert.Positive(t, n, c.statement)
		assert.LessOrEqual(t, n, mostPositions)
	}
	// Everywhere along the south a body is in the way.
	full := strings.Replace(board, "body 10 mm", "body 54 mm", 1)
	full = strings.Replace(full, "at 20 mm", "at 30 mm", 1)
	a, at := analyze(t, full+"tab b on south at ‸\n")
	for _, x := range Complete(a, at, nil, checks.Options{}) {
		assert.NotContains(t, x.Detail, "rules of tabs", x.Label)
	}
}

// A gap is offered where a connector or a tab stands in the plating and has none.
func TestPositionsOfGaps(t *testing.T) {
	const board = "outline rectangle 60 mm by 40 mm corner 1 mm\nplating wall { along south west; net GND }\n" +
		"connector c on south at 10 mm + 10 mm { body 10 mm; pin top width 1 mm length 2 mm }\nconnector d on west at middle { body 10 mm }\n" +
		"tab a on south at 40 mm width 3 mm solid\ntab b on south at 50 mm width 3 mm solid\ngap g of wall on south at 50 mm width 4 mm for b\n"
	a, at := analyze(t, board+"gap h of wall on south at ‸\n")
	var got []string
	for _, x := range Complete(a, at, nil, checks.Options{}) {
		if strings.HasPrefix(x.Detail, "where ") {
			got = append(got, x.Label+": "+x.Detail)
		}
	}
	assert.Equal(t, []string{"10 mm + 10 mm: where connector c is", "40 mm: where tab a is"}, got)
}
