package queries_test

import (
	"encoding/json"
	"errors"
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/emit/queries"
	"hemline/lang/emit/wording"
	"hemline/lang/langtest"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

//go:generate go test . -run TestReference -update

var update = flag.Bool("update", false, "write the page of queries anew")

func read(text string) *board.Board {
	return lang.Analyze(source.New("b.hem", text), func(string) (*source.File, error) { return nil, errors.New("none") }, nil).Board()
}

// asked is a question's result, its parts joined; "" where it does not apply.
func asked(text, name string) (queries.State, string) {
	for _, r := range queries.Ask(read(text)) {
		if r.Name == name {
			var parts []string
			for _, p := range r.Parts {
				parts = append(parts, p.Text)
			}
			return r.State, strings.Join(parts, " | ")
		}
	}
	return "", ""
}

const (
	plain = "board b { thickness 1 mm }\noutline rectangle 60 mm by 30 mm\n"
	wall  = "plating wall { along south; net GND }\n"
	tab   = "tab t on north at 20 mm width 4 mm perforated hole 0.5 mm pitch 0.8 mm\n"
	half  = "castellation c on west at 10 mm hole 1 mm land 2 mm by 1 mm\n"
	// 23 mΩ with the wall, 49.3 without: under 28.7 and over 41.1 a maximum does wrong.
	foiled = "stack { copper top 35 um; dielectric d 1.53 mm; copper bottom 35 um }\nboard b { thickness 1.6 mm }\noutline rectangle 100 mm by 80 mm\n" +
		"plating wall { along south; net GND; copper 25 um; wrap top bottom 0.5 mm }\n"
	inner = "stack { copper top 35 um; dielectric d 0.5 mm; copper pwr 35 um; dielectric e 0.5 mm; copper bottom 35 um }\noutline rectangle 60 mm by 30 mm\n"
)

// with puts clauses into the plating.
func with(clauses string) string { return strings.Replace(wall, " }", "; "+clauses+" }", 1) }

// Each question: a text that leaves it open and what would answer it; one whose
// statements answer it and what they say; one that it does not apply to. A
// question without one of them is answered by what raises it.
var cases = []struct{ name, open, lacks, answered, says, other string }{
	{"outline", "board b { thickness 1 mm }", "an `outline` that closes", "outline circle 50 mm", "50 by 50 mm over all; datum: its centre", ""},
	{"outline_tolerance", plain, "`outline` in `tolerance`", plain + "tolerance { outline 5 mil }", "outline: 0.127 mm either way", ""},
	{"thickness", "board b { class 3 }", "`thickness` in board b", plain, "1 mm", ""},
	{"outline_tolerance", plain + "cutout a circle 5 mm at (20 mm, 15 mm)\ntolerance { outline 0.1 mm }", "`cutouts` in `tolerance`", plain + "cutout a circle 5 mm at (20 mm, 15 mm)\ntolerance { outline 0.1 mm; cutouts 0.2 mm }", "outline: 0.1 mm either way | cutouts: 0.2 mm either way", ""},
	{"material", "board b { material \"TBD\" }", "`material` in board b", "", "", ""},
	{"adhesion", plain + wall + "criteria { adhesion \"?\" }", "`adhesion` in `criteria`", "", "", ""},
	{"edge_finish", "", "", "board b { thickness 1 mm; finish HASL }\noutline rectangle 60 mm by 30 mm\n" + wall, "wall: HASL", ""},
	{"continuity_limit", "", "", plain + wall + "criteria { continuity maximum 12 mohm }", "at most 12 mohm", ""},
	{"thickness_tolerance", plain, "`thickness` in `tolerance`", plain + "tolerance { thickness 10 % }", "thickness: 10 % either way", ""},
	{"material", plain, "`material` in board b", "board b { material \"glass and epoxy\" }", "glass and epoxy", ""},
	{"layers", plain, "a `stack`", inner, "3 copper: top pwr bottom", ""},
	{"class", plain, "`class` in board b", "board b { class 3 }", "class 3 of IPC-6012", ""},
	{"revision", "outline circle 50 mm", "`revision` in a `board` statement", `board b { revision "C" }`, "C", ""},
	{"delivery", plain, "`delivery`", plain + "delivery panel \"a.hem\" \"b.hem\"", "in panels: a.hem, b.hem", ""},
	{"delivery", plain + "delivery panel \"?\"", "a file's name after `panel` in `delivery`", plain + "delivery single", "singly", ""},
	{"marking", plain, "`marking`", plain + "marking \"date code\" on top at (5 mm, 6 mm)", "date code: on top at (5, 6)", ""},
	{"marking", plain + "marking \"date code\"", "`on` and `at` in marking \"date code\"", plain + "marking none", "none", ""},
	{"marking", plain + "marking \"TBD\" on top at (5 mm, 6 mm)", "what the mark is, in `marking`", "", "", ""},
	{"impedance_control", "board b { thickness 1 mm; impedance \"?\" }", "`impedance` in board b", "board b { impedance none }", "none", plain},
	{"electrical_test", plain, "`electrical_test` in `criteria`", plain + "criteria { electrical_test all }", "all", ""},
	{"bow", plain, "`bow` in `criteria`", plain + "criteria { bow maximum 0.75 % }", "at most 0.75 %", ""},
	{"coupon", plain + wall, "`coupon` in `criteria`", plain + wall + "criteria { coupon required }", "required", plain},
	{"finish_thickness", plain + wall, "`thickness` in `finish` of plating wall", plain + with("finish ENIG thickness 4 um, 50 nm"), "wall: ENIG, 4 µm, 0.05 µm", plain},
	{"hazard", plain + wall, "`hazard` in board b", "board b { thickness 1 mm; hazard none }\noutline circle 50 mm\nplating w { along rim; net GND }", "the wall carries no hazardous voltage", plain},
	{"tab_root", "", "", plain + tab, "t: half the bit's diameter: the slots beside it end round", plain},
	{"revision", "board b { revision \"TBD\" }", "`revision` in board b", "", "", ""},
	{"wall_net", "", "", plain + wall, "wall: GND", plain},
	{"bare_stretches", plain + wall + "gap g of wall on south at 20 mm width 5 mm", "`for` in gap g, or a `tab` in it",
		plain + wall + "gap g of wall on south at 20 mm width 5 mm\ntab t on south at 20 mm width 3 mm solid", "g: for tab t", plain + wall},
	{"bare_stretches", "", "", plain + wall + "gap g of wall on south at 20 mm width 5 mm for t\ntab t on south at 20 mm width 3 mm solid", "g: for tab t", ""},
	{"bare_stretches", "", "", plain + wall + "gap g of wall on south at 20 mm width 5 mm for j\nconnector j on south at 20 mm { body 9 mm }", "g: for j", ""},
	{"bare_stretches", "", "", plain + wall + "tab t on south at 20 mm width 3 mm solid opens margin 1 mm\nconnector j on south at 40 mm { body 9 mm; opens wall span 4 mm }", "j: its own gap in wall | t: its own gap in wall", plain + wall + "tab t on south at 20 mm width 3 mm solid premetallised opens margin 1 mm"},
	{"stretch_tolerance", plain + wall, "`gaps` in `tolerance`", plain + wall + "tolerance { gaps 0.2 mm }", "gaps: 0.2 mm either way", "outline circle 50 mm\nplating wall { along rim; net GND }"},
	{"wrap_width", plain + with("wrap top 1 mm"), "`wrap bottom` in plating wall", plain + with("wrap top 1 mm; wrap bottom 0.5 mm"), "wall: top 1 mm | wall: bottom 0.5 mm", plain},
	{"artwork_past_profile", plain + wall, "`extend` in plating wall", plain + with("extend 0.5 mm"), "wall: 0.5 mm", plain},
	{"copper_at_profile", plain + "plane on top net GND pullback 0 mm\nfeature f on top circle 2 mm at (30 mm, 0.5 mm) net V", "`pullback` in plane on top | a `plating` of its net at feature f",
		"", "", plain + "plating wall { along all; net GND }\nplane on top net GND pullback 0 mm\nfeature f on top circle 2 mm at (30 mm, 0.5 mm) net GND"},
	{"copper_at_profile", plain + wall + "gap g of wall on south at 30 mm width 4 mm\nplane on top net GND pullback 0 mm within (31 mm, 0 mm) to (40 mm, 9 mm)", "`pullback` in plane on top", "", "", plain + "plane on top net GND pullback 0 mm within (31 mm, 1 mm) to (40 mm, 9 mm)"},
	{"copper_at_profile", plain + "feature f on top circle 2 mm at (30 mm, 1 mm)", "a `plating` of its net at feature f", "", "", plain + "feature f on top circle 2 mm at (30 mm, 1.001 mm)"},
	{"wall_net", plain + "plating wall { along south }", "`net` in plating wall", plain + wall, "wall: GND", plain},
	{"net_boundary", plain + wall + "plating other { along east; net CHASSIS }", "a `gap` between wall and other, or `from` and `to` in `along`",
		plain + wall + "plating other { along east from 5 mm to 20 mm; net CHASSIS }", "bare stretches lie between them", plain + wall + "plating other { along east; net GND }"},
	// One long stretch, two over the midst of it, and one that it meets where the
	// outline starts; one of its own net, and one that is apart.
	{"net_boundary", plain + "plating long { along south east; net A }\nplating b { along south from 10 mm to 20 mm; net B }\nplating c { along east from 5 mm to 10 mm; net C }\nplating d { along west; net D }\nplating e { along north from 20 mm to 30 mm; net E }\nplating f { along south from 15 mm to 25 mm; net A }",
		"a `gap` between long and b, or `from` and `to` in `along` | a `gap` between long and c, or `from` and `to` in `along` | a `gap` between long and d, or `from` and `to` in `along` | a `gap` between b and f, or `from` and `to` in `along`",
		"", "", plain + wall},
	{"joined_layers", plain + wall, "`layers` in plating wall", plain + wall + "plane on bottom net GND pullback 0.5 mm", "wall: bottom", plain},
	{"layer_pullback", inner + wall, "`plane on pwr`", inner + wall + "plane on pwr net V pullback 1 mm", "pwr: plane V 1 mm", inner + with("layers all")},
	{"layer_pullback", "", "", inner + wall + "plane on pwr net V pullback 1 mm within (0 mm, 0 mm) to (9 mm, 9 mm)", "pwr: plane V 1 mm within (0.00 mm, 0.00 mm) to (9.00 mm, 9.00 mm)", inner + with("layers all")},
	{"layer_pullback", "", "", inner + wall + "plating other { along south; net V; layers pwr }\nplane on pwr net V pullback 1 mm", "pwr from wall: plane V 1 mm", inner + with("layers all")},
	{"wall_copper", plain + wall, "`copper` in plating wall", plain + with("copper 25 um"), "wall: 25 µm", plain},
	{"wall_copper_thinnest", plain + "plating w { along south; net GND; copper 25 um least 22 um }\nplating v { along north; net GND }", "`least` in `copper` of plating v",
		plain + "plating w { along south; net GND; copper 25 um least 22 um }", "w: 22 µm", plain},
	{"wall_copper_thinnest", plain + "plating w { along south; net GND; copper 25 um least 22 um }\n" + half, "`class` in board b", "", "", ""},
	{"material", plain + "stack { copper a 35 um; dielectric p 1 mm material \"ceramic\"; copper b 35 um; dielectric q 1 mm; copper c 35 um }", "`material` in board b",
		plain + "stack { copper a 35 um; dielectric p 1 mm material \"ceramic\"; copper b 35 um }", "p: ceramic", ""},
	{"wall_copper_thinnest", plain + wall, "`class` in board b", "board b { class 3 }\noutline circle 50 mm\nplating w { along rim; net GND }", "20 µm, by the class", plain},
	{"edge_finish", plain + wall, "`finish` in plating wall", plain + with("finish ENIG"), "wall: ENIG", plain},
	{"mask_opening", plain + wall + half, "`relief` over plating wall | `relief` over castellation c",
		plain + wall + "relief r over wall on top bottom reach 1 mm", "wall: 1 mm on top bottom", plain},
	{"mask_opening", plain + half, "`relief` over castellation c",
		plain + wall + half + "relief r over wall c on top along south", "wall along south: as far as the copper on top | c along south: as far as the copper on top", plain},
	{"edge_voids", plain + wall, "`voids` in `criteria`", plain + wall + "criteria { voids none }", "none", plain},
	{"blisters", plain + wall, "`blisters` in `criteria`", plain + wall + "criteria { blisters maximum 1 mm }", "at most 1 mm", plain},
	{"burrs", plain + half, "`burrs` in `criteria`", plain + half + "criteria { burrs maximum 0.1 mm }", "at most 0.1 mm", plain},
	{"adhesion", plain + wall, "`adhesion` in `criteria`", plain + wall + "criteria { adhesion \"tape test\" }", "tape test", plain},
	{"continuity_limit", plain + with("copper 25 um; wrap top bottom 0.5 mm"), "`coupon required`, `microsection` or `continuity` in `criteria`: the resistance of plating wall does not tell a wall from none",
		plain + with("copper 25 um; wrap top bottom 0.5 mm") + "criteria { coupon required }", "by the coupon", plain},
	{"continuity_limit", plain + with("copper 25 um; wrap top bottom 0.5 mm") + "criteria { coupon none }", "`coupon required`, `microsection` or `continuity` in `criteria`: the resistance of plating wall does not tell a wall from none",
		plain + with("copper 25 um; wrap top bottom 0.5 mm") + "criteria { microsection \"one of each batch\" }", "by the microsections: one of each batch", plain},
	{"continuity_limit", foiled + "criteria { continuity maximum 20 mohm }", "another maximum of `continuity`, `coupon required` or `microsection` in `criteria`: at plating wall a maximum of 20 mohm may reject sound boards",
		foiled + "criteria { continuity maximum 32 mohm }", "at most 32 mohm", plain},
	{"continuity_limit", foiled + "criteria { continuity maximum 42 mohm; coupon none }", "another maximum of `continuity`, `coupon required` or `microsection` in `criteria`: at plating wall a maximum of 42 mohm may pass a board without that wall",
		foiled + "criteria { continuity maximum 42 mohm; coupon required }", "at most 42 mohm", plain},
	{"continuity_limit", "", "", foiled + "criteria { continuity maximum 42 mohm; microsection \"one\" }", "at most 42 mohm", plain},
	{"continuity_limit", "", "", foiled, "wall: along its longest stretch, as the fabrication notes state", plain},
	{"continuity_limit", plain + with("copper 25 um; wrap top bottom 0.8 mm") + "criteria { continuity maximum 10 mohm }", "`coupon required` or `microsection` in `criteria`: at plating wall a maximum of 10 mohm may reject sound boards and may pass a board without that wall",
		"", "", plain},
	{"continuity_limit", plain + wall, "`copper` in plating wall", plain + with("copper 25 um"), "wall: along its longest stretch, as the fabrication notes state", plain},
	{"continuity_sample", plain + wall, "`sample` in `criteria`", plain + wall + "criteria { sample \"each\" }", "each", plain},
	{"top_frequency", "board b { shielding 30 dB }", "`frequency` in board b", "board b { shielding 30 dB; frequency 6 GHz }", "6 GHz", plain},
	{"voltage", "board b { hazard protective_earth }", "`voltage` in board b", "board b { voltage 1 kV }", "at most 1 kV to other copper", "board b { hazard none }"},
	{"tab_places", plain + wall, "`tab` statements on the outline", plain + tab, "t on north at 20 mm, 4 mm wide", plain},
	{"tab_places", plain + "cutout w circle 9 mm at (20 mm, 15 mm)\ntab t on w.rim at 3 mm width 2 mm solid", "`tab` statements on the outline", "", "", ""},
	{"tab_length", plain + tab, "`length` in tab t", plain + strings.TrimSpace(tab) + " length 2 mm", "t: 2 mm", plain},
	{"tab_removal", plain + tab, "`removal` with `by` in tab t", plain + strings.TrimSpace(tab) + " removal hand by assembler", "t: hand, by the assembler", plain + wall},
	{"tab_residue", plain + tab, "`removal` with `within` in tab t", plain + strings.TrimSpace(tab) + " removal rout within 0.15 mm", "t: at most 0.15 mm", plain},
	{"tab_residue", plain + wall, "`tab` statements, with `within` in `removal`", "", "", plain},
	{"perforation_row", plain + tab, "`inset` in tab t", plain + strings.TrimSpace(tab) + " inset 0.1 mm", "t: 0.1 mm", plain + "tab t on north at 20 mm width 3 mm solid"},
	{"separation", plain + half, "`tab` statements", plain + tab, "1 perforated tab; no plated stretch is scored", plain},
	{"half_hole_tolerance", plain + half, "`half_holes` in `tolerance` | `position` in `tolerance`", plain + half + "tolerance { half_holes 0.1 mm; position 0.05 mm }", "half_holes: 0.1 mm either way | position: 0.05 mm either way", plain},
	{"half_hole_finish", plain + half, "`finish` in castellation c", "board b { finish ENIG }\noutline rectangle 60 mm by 30 mm\n" + half + "castellation own on east at 5 mm hole 1 mm land 2 mm by 1 mm finish ImmAg\n", "c: ENIG | own: ImmAg", plain},
	{"half_hole_burrs", plain + half, "`burrs` in castellation c", plain + "castellation c on west at 5 mm hole 1 mm land 2 mm by 1 mm burrs either", "c: either", plain},
	{"inside_corner", plain + "cutout w rectangle 6 mm by 4 mm at (20 mm, 15 mm)", "`corner` in cutout w", "", "", plain + "cutout w rectangle 6 mm by 4 mm corner 1 mm at (20 mm, 15 mm)"},
	{"inside_corner", "outline { start (0 mm, 0 mm); line a to (20 mm, 0 mm); line b to (20 mm, 10 mm); line c to (10 mm, 10 mm); line d to (10 mm, 20 mm); line e to (0 mm, 20 mm); close f }",
		"an `arc` at (10, 10) in outline (1 corner)", "", "", plain},
	// What these statements raise they answer as well.
	{"plated_stretches", "", "", plain + wall, "wall: 1 stretch on south, 60 mm", plain},
	{"plated_stretches", "", "", plain + wall + "tab t on south at 20 mm width 3 mm solid premetallised\nplating more { along south from 30 mm to 40 mm; net GND }", "wall: 2 stretches on south, 57 mm | more: none that no plating stated before it has", plain},
	{"order_of_routs", "", "", plain + wall, "first rout before plating: plated stretches; final rout after it: the rest", plain},
	{"tab_edge", "", "", plain + tab + "tab u on south at 20 mm width 3 mm solid premetallised", "t: bare, free of copper | u: the copper of both faces runs on over it; its root is bare once it is cut", plain},
	{"perforation_plating", "", "", plain + tab, "t: unplated, drilled after plating", plain},
	{"half_holes", "", "", plain + half, "c: meant, on west", plain},
	{"half_hole_pitch", "", "", plain + "castellation c on west from 5 mm to 9 mm pitch 2 mm hole 1 mm land 2 mm by 1 mm", "c: 3 of ⌀1 mm, pitch 2 mm", plain},
	{"half_hole_land", "", "", plain + half + "castellation d on east at 5 mm hole 1 mm land 2 mm by 1 mm layers top\n", "c: 2 mm by 1 mm | d: 2 mm by 1 mm on top", plain},
	{"cutout_plating", "", "", plain + "cutout a circle 5 mm at (20 mm, 15 mm)\nplating w { along a.rim; net GND }\ntab t on a.rim at 3 mm width 2 mm solid premetallised", "a: plated in part", plain},
	{"cutout_plating", "", "", plain + "cutout a circle 5 mm at (20 mm, 15 mm)\ncutout b circle 5 mm at (40 mm, 15 mm)\nplating w { along b.rim; net GND }", "a: not plated | b: plated all round", plain},
	{"fence_vias", "", "", plain + "fence f along south inset 1 mm pitch 2 mm hole 0.3 mm\nfence g along north inset 1 mm pitch 2 mm hole 0.3 mm land 0.6 mm added", "f: in the artwork | g: not yet, to be added", plain},
	{"overhang", "", "", plain + "connector j on west at 15 mm { body 9 mm; pin top width 1 mm length 3 mm }", "j on west at 15 mm, body 9 mm", plain},
	{"overhang", "", "", plain + "connector j on west at 15 mm { body 9 mm reach 1.5 mm }", "j on west at 15 mm, body 9 mm, standing 1.5 mm over the board", ""},
	{"overhang", "", "", plain + "connector j on west at 15 mm { body 9 mm reach 1.5 mm overhang 6 mm }", "j on west at 15 mm, body 9 mm, standing 1.5 mm over the board, out 6 mm past the profile", ""},
}

func TestEachQuestionInEachState(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range cases {
		seen[c.name] = true
		if c.open != "" {
			state, lacks := asked(c.open, c.name)
			assert.Equal(t, queries.Open, state, c.name)
			assert.Equal(t, c.lacks, lacks, c.name)
		}
		if c.answered != "" {
			state, says := asked(c.answered, c.name)
			assert.Equal(t, queries.Answered, state, c.name)
			assert.Equal(t, c.says, says, c.name)
		}
		if c.other != "" {
			state, _ := asked(c.other, c.name)
			assert.Empty(t, state, "%s does not apply", c.name)
		}
	}
	for _, q := range queries.Table() {
		assert.True(t, seen[q.Name], "%s has no case", q.Name)
	}
}

// What is left to the shop is shown with its reason, and silences the question
// where it is left.
func TestWhatIsLeftToTheShop(t *testing.T) {
	for _, c := range []struct {
		text, name string
		state      queries.State
		says       string
	}{
		{plain + "leave class to shop because \"as ever\"", "class", queries.Left, "as ever"},
		{plain + "leave class to shop because \"TBD\"", "class", queries.Open, "`class` in board b"},
		{plain + "leave revision to shop because \"as ever\"", "class", queries.Open, "`class` in board b"},
		{"board b { thickness 1 mm; class 3 }\noutline circle 50 mm\nleave class to shop because \"as ever\"", "class", queries.Answered, "class 3 of IPC-6012"},
		// of two platings the statement speaks for the one that is silent, and for what lies on its edges
		{two + "leave edge_finish to shop because \"so\"", "edge_finish", queries.Left, "wall: ENIG | so"},
		{two + "leave edge_finish along north to shop because \"so\"", "edge_finish", queries.Left, "wall: ENIG | so, along north"},
		{two + "leave edge_finish along west to shop because \"so\"", "edge_finish", queries.Open, "`finish` in plating other"},
		{two + "leave edge_finish along south to shop because \"so\"", "edge_finish", queries.Open, "`finish` in plating other"},
		{plain + "plating wall { along south east; net GND }\nleave edge_finish along south to shop because \"a\"", "edge_finish", queries.Open, "`finish` in plating wall"},
		{plain + "plating wall { along south east; net GND }\nleave edge_finish along south to shop because \"a\"\nleave edge_finish along east to shop because \"b\"", "edge_finish", queries.Left, "a, along south | b, along east"},
		{plain + wall + "leave tab_places along west all to shop because \"so\"", "tab_places", queries.Left, "so, along west south east north"},
		{plain + tab + "leave tab_places along west to shop because \"one more\"", "tab_places", queries.Left, "t on north at 20 mm, 4 mm wide | one more, along west"},
		{plain + tab + "leave tab_places along north to shop because \"one more\"", "tab_places", queries.Answered, "t on north at 20 mm, 4 mm wide"},
		{plain + wall + "leave tab_places to shop because \"so\"", "separation", queries.Answered, "by tabs that are left to the shop; no plated stretch is scored"},
	} {
		state, says := asked(c.text, c.name)
		assert.Equal(t, c.state, state, c.text)
		assert.Equal(t, c.says, says, c.text)
	}
}

const two = plain + "plating wall { along south; net GND; finish ENIG }\nplating other { along north; net GND }\n"

// Nothing is worked out from a note.
func TestANoteAnswersNothing(t *testing.T) {
	for _, c := range cases {
		if c.open == "" {
			continue
		}
		words := strings.ReplaceAll(c.name, "_", " ")
		for _, says := range []string{"as agreed", "left to the shop"} {
			state, lacks := asked(c.open+"\nnote \""+words+": "+says+"\"", c.name)
			assert.Equal(t, queries.Open, state, c.name)
			assert.Equal(t, c.lacks, lacks, c.name)
		}
	}
}

// Tabs that lack the same are told of together.
func TestManyTabsLackOneThing(t *testing.T) {
	const more = "tab u on south at 20 mm width 3 mm solid\ntab v on south at 40 mm width 3 mm solid length 2 mm\n"
	_, lacks := asked(plain+tab+more, "tab_length")
	assert.Equal(t, "`length` in tab t and 1 other", lacks)
	_, lacks = asked(plain+tab+more+"leave tab_length along north to shop because \"so\"", "tab_length")
	assert.Equal(t, "`length` in tab u", lacks)
}

func TestNamesAreOfOneForm(t *testing.T) {
	seen := map[string]bool{}
	var names []string
	for _, q := range queries.Table() {
		assert.Regexp(t, `^[a-z]+(_[a-z]+)*$`, q.Name)
		assert.False(t, seen[q.Name], q.Name)
		seen[q.Name] = true
		assert.True(t, strings.HasSuffix(q.Question, "?"), q.Question)
		assert.NotEmpty(t, q.By, "%s: something answers it", q.Name)
		names = append(names, q.Name)
	}
	assert.Equal(t, names, syntax.Queries, "the words of leave")
}

func TestJSONAndMarkdown(t *testing.T) {
	list := queries.Ask(read("board b { thickness 1 mm; material \"a|b\" }\noutline rectangle 60 mm by 30 mm\nleave delivery to shop because \"so\""))
	where := func(source.Place) (string, int) { return "b.hem", 7 }
	var data, page strings.Builder
	require.NoError(t, queries.JSON(&data, "b.hem", list, where))
	var out struct {
		Complete                      bool
		Answered, Open, LeftToTheShop int
		Queries                       []struct{ Name, State string }
	}
	require.NoError(t, json.Unmarshal([]byte(data.String()), &out))
	assert.Equal(t, []int{3, 8, 1}, []int{out.Answered, out.Open, out.LeftToTheShop})
	assert.Len(t, out.Queries, 12)
	assert.False(t, out.Complete)
	require.NoError(t, queries.Markdown(&page, "b.hem", list, where))
	assert.Contains(t, page.String(), "3 answered, 8 open, 1 left to the shop.")
	assert.Contains(t, page.String(), wording.Caution)
	assert.Contains(t, data.String(), wording.Caution)
	assert.Contains(t, page.String(), `| material | Which family of laminate is it? | a\|b | b.hem:7 |`)
}

// No text of the repository, broken ones included, stops the questions.
func TestNoTextStopsTheQuestions(t *testing.T) {
	langtest.EveryText(t, "../../..", func(path string, a *lang.Analysis) {
		for _, r := range queries.Ask(a.Board()) {
			assert.NotEmpty(t, r.Parts, "%s: %s", path, r.Name)
		}
	})
}

// The page is made from the table.
func TestReference(t *testing.T) {
	const path = "../QUERIES.md"
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(queries.Reference()), 0o644))
	}
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, queries.Reference(), string(got), "stale: run go generate ./...")
}
