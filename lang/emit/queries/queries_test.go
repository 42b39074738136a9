package queries_test

import (
	"encoding/json"
	"errors"
	"flag"
	"os"
	"regexp"
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
	inner = "stack { copper top 35 um; dielectric d 0.5 mm; copper pwr 35 um; dielectric e 0.5 mm; copper bottom 35 um }\noutline rectangle 60 mm by 30 mm\n"
)

// with puts clauses into the plating.
func with(clauses string) string { return strings.Replace(wall, " }", "; "+clauses+" }", 1) }

// Each question: a text that leaves it open and what would answer it; one whose
// statements answer it and what they say; one that it does not apply to. A
// question without a statement of its own is answered by notes alone.
var cases = []struct{ name, open, lacks, answered, says, other string }{
	{"outline", "board b { thickness 1 mm }", "an `outline` that closes", "outline circle 50 mm", "50 by 50 mm over all; datum: its centre", ""},
	{"outline-tolerance", plain, `note "outline tolerance: …"`, "", "", ""},
	{"thickness", "board b { class 3 }", "`thickness` in board b", plain, "1 mm", ""},
	{"thickness-tolerance", plain, `note "thickness tolerance: …"`, "", "", ""},
	{"material", plain, `note "material: …"`, "", "", ""},
	{"layers", plain, "a `stack`", inner, "3 copper: top pwr bottom", ""},
	{"class", plain, "`class` in board b", "board b { class 3 }", "class 3 of IPC-6012", ""},
	{"revision", "outline circle 50 mm", "`revision` in a `board` statement", `board b { revision "C" }`, "C", ""},
	{"delivery", plain, `note "panel: …"`, "", "", ""},
	{"bare-stretches", plain + wall + "gap g of wall on south at 20 mm width 5 mm", "`for` in gap g, a `tab` in it, or note \"gap g: …\"",
		plain + wall + "gap g of wall on south at 20 mm width 5 mm\ntab t on south at 20 mm width 3 mm solid", "g: for tab t", plain + wall},
	{"bare-stretches", "", "", plain + wall + "gap g of wall on south at 20 mm width 5 mm for t\ntab t on south at 20 mm width 3 mm solid", "g: for tab t", ""},
	{"bare-stretches", "", "", plain + wall + "gap g of wall on south at 20 mm width 5 mm for j\nconnector j on south at 20 mm { body 9 mm }", "g: for j", ""},
	{"stretch-tolerance", plain + wall, `note "gap tolerance: …"`, "", "", "outline circle 50 mm\nplating wall { along rim; net GND }"},
	{"wrap-width", plain + with("wrap top 1 mm"), "`wrap bottom` in plating wall", plain + with("wrap top 1 mm; wrap bottom 0.5 mm"), "wall: top 1 mm | wall: bottom 0.5 mm", plain},
	{"artwork-past-profile", plain + wall, "`extend` in plating wall", plain + with("extend 0.5 mm"), "wall: 0.5 mm", plain},
	{"copper-at-profile", plain + "plane on top net GND pullback 0 mm\nfeature f on top circle 2 mm at (30 mm, 0.5 mm) net V", "`pullback` in plane on top, or note \"copper profile: …\" | a `plating` of its net at feature f, or note \"copper profile: …\"",
		"", "", plain + "plating wall { along all; net GND }\nplane on top net GND pullback 0 mm\nfeature f on top circle 2 mm at (30 mm, 0.5 mm) net GND"},
	{"copper-at-profile", plain + "feature f on top circle 2 mm at (30 mm, 1 mm)", "a `plating` of its net at feature f, or note \"copper profile: …\"", "", "", plain + "feature f on top circle 2 mm at (30 mm, 1.001 mm)"},
	{"wall-net", plain + "plating wall { along south }", "`net` in plating wall", plain + wall, "wall: GND", plain},
	{"net-boundary", plain + wall + "plating other { along east; net CHASSIS }", "a `gap` between wall and other, or `from` and `to` in `along`",
		plain + wall + "plating other { along east from 5 mm to 20 mm; net CHASSIS }", "bare stretches lie between them", plain + wall + "plating other { along east; net GND }"},
	// One long stretch, two over the midst of it, and one that it meets where the
	// outline starts; one of its own net, and one that is apart.
	{"net-boundary", plain + "plating long { along south east; net A }\nplating b { along south from 10 mm to 20 mm; net B }\nplating c { along east from 5 mm to 10 mm; net C }\nplating d { along west; net D }\nplating e { along north from 20 mm to 30 mm; net E }\nplating f { along south from 15 mm to 25 mm; net A }",
		"a `gap` between long and b, or `from` and `to` in `along` | a `gap` between long and c, or `from` and `to` in `along` | a `gap` between long and d, or `from` and `to` in `along` | a `gap` between b and f, or `from` and `to` in `along`",
		"", "", plain + wall},
	{"joined-layers", plain + wall, "`layers` in plating wall", plain + wall + "plane on bottom net GND pullback 0.5 mm", "wall: bottom", plain},
	{"layer-pullback", inner + wall, "`plane on pwr`, or note \"layer pullback: …\"", inner + wall + "plane on pwr net V pullback 1 mm", "pwr: plane V 1 mm", inner + with("layers all")},
	{"layer-pullback", "", "", inner + wall + "plating other { along south; net V; layers pwr }\nplane on pwr net V pullback 1 mm", "pwr from wall: plane V 1 mm", inner + with("layers all")},
	{"wall-copper", plain + wall, "`copper` in plating wall", plain + with("copper 25 um"), "wall: 25 µm", plain},
	{"wall-copper-thinnest", plain + wall, "`class` in board b", "board b { class 3 }\noutline circle 50 mm\nplating w { along rim; net GND }", "20 µm, by the class", plain},
	{"edge-finish", plain + wall, "`finish` in plating wall", plain + with("finish ENIG"), "wall: ENIG", plain},
	{"mask-opening", plain + wall + half, "`relief` over plating wall, or note \"mask opening: …\" | `relief` over castellation c, or note \"mask opening: …\"",
		plain + wall + "relief r over wall on top bottom reach 1 mm", "wall: 1 mm on top bottom", plain},
	{"edge-voids", plain + wall, `note "void: …"`, "", "", plain},
	{"blisters", plain + wall, `note "blister: …"`, "", "", plain},
	{"burrs", plain + half, `note "burr: …"`, "", "", plain},
	{"adhesion", plain + wall, `note "adhesion: …"`, "", "", plain},
	{"continuity-limit", plain + wall, "`copper` in plating wall", plain + with("copper 25 um"), "wall: along its longest stretch, as the fabrication notes state", plain},
	{"continuity-sample", plain + wall, `note "continuity sample: …"`, "", "", plain},
	{"top-frequency", "board b { shielding 30 dB }", "`frequency` in board b", "board b { shielding 30 dB; frequency 6 GHz }", "6 GHz", plain},
	{"voltage", "board b { voltage 48 V }", "`hazard` in board b", "board b { voltage 48 V; hazard live }", "at most 48 V to other copper | the wall is live, not safe to touch", plain},
	{"voltage", "board b { hazard protective_earth }", "`voltage` in board b", "board b { voltage 1 kV; hazard protective_earth }", "at most 1 kV to other copper | the wall is the product's protective earth", plain},
	{"tab-places", plain + wall, "`tab` statements, or note \"tabs: …\"", plain + tab, "t on north at 20 mm, 4 mm wide", plain},
	{"tab-length", plain + tab, "`length` in tab t, or note \"tab length: …\"", plain + strings.TrimSpace(tab) + " length 2 mm", "t: 2 mm", plain},
	{"tab-removal", plain + tab, `note "tab removal: …"`, "", "", plain + wall},
	{"tab-residue", plain + tab, `note "residue: …"`, "", "", plain},
	{"perforation-row", plain + tab, "`inset` in tab t, or note \"tab row: …\"", plain + strings.TrimSpace(tab) + " inset 0.1 mm", "t: 0.1 mm", plain + "tab t on north at 20 mm width 3 mm solid"},
	{"separation", plain + half, "`tab` statements, or note \"separation: …\"", plain + tab, "1 perforated tab; no plated stretch is scored", plain},
	{"half-hole-tolerance", plain + half, `note "half hole tolerance: …"`, "", "", plain},
	{"half-hole-finish", plain + half, `note "half hole finish: …"`, "", "", plain},
	{"inside-corner", plain + "cutout w rectangle 6 mm by 4 mm at (20 mm, 15 mm)", "`corner` in cutout w, or note \"inside corner: …\"", "", "", plain + "cutout w rectangle 6 mm by 4 mm corner 1 mm at (20 mm, 15 mm)"},
	{"inside-corner", "outline { start (0 mm, 0 mm); line a to (20 mm, 0 mm); line b to (20 mm, 10 mm); line c to (10 mm, 10 mm); line d to (10 mm, 20 mm); line e to (0 mm, 20 mm); close f }",
		"an `arc` at (10, 10) in outline (1 corner), or note \"inside corner: …\"", "", "", plain},
	// What these statements raise they answer as well.
	{"plated-stretches", "", "", plain + wall, "wall: 1 stretch on south, 60 mm", plain},
	{"plated-stretches", "", "", plain + wall + "tab t on south at 20 mm width 3 mm solid premetallised\nplating more { along south from 30 mm to 40 mm; net GND }", "wall: 2 stretches on south, 57 mm | more: none that no plating stated before it has", plain},
	{"order-of-routs", "", "", plain + wall, "first rout before plating: plated stretches; final rout after it: the rest", plain},
	{"tab-edge", "", "", plain + tab + "tab u on south at 20 mm width 3 mm solid premetallised", "t: bare, free of copper | u: the copper of both faces runs on over it; its root is bare once it is cut", plain},
	{"perforation-plating", "", "", plain + tab, "t: unplated, drilled after plating", plain},
	{"half-holes", "", "", plain + half, "c: meant, on west", plain},
	{"half-hole-pitch", "", "", plain + "castellation c on west from 5 mm to 9 mm pitch 2 mm hole 1 mm land 2 mm by 1 mm", "c: 3 of ⌀1 mm, pitch 2 mm", plain},
	{"half-hole-land", "", "", plain + half, "c: 2 mm by 1 mm", plain},
	{"cutout-plating", "", "", plain + "cutout a circle 5 mm at (20 mm, 15 mm)\nplating w { along a.rim; net GND }\ntab t on a.rim at 3 mm width 2 mm solid premetallised", "a: plated in part", plain},
	{"cutout-plating", "", "", plain + "cutout a circle 5 mm at (20 mm, 15 mm)\ncutout b circle 5 mm at (40 mm, 15 mm)\nplating w { along b.rim; net GND }", "a: not plated | b: plated all round", plain},
	{"overhang", "", "", plain + "connector j on west at 15 mm { body 9 mm; pin top width 1 mm length 3 mm }", "j on west at 15 mm, body 9 mm", plain},
	{"overhang", "", "", plain + "connector j on west at 15 mm { body 9 mm reach 1.5 mm }", "j on west at 15 mm, body 9 mm, standing 1.5 mm over the board", ""},
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

// Every wording that the page lists answers, or leaves the matter to the shop.
func TestNotesAnswerOrLeaveToTheShop(t *testing.T) {
	for _, c := range cases {
		if c.open == "" {
			continue
		}
		for _, q := range queries.Table() {
			if q.Name != c.name {
				continue
			}
			for _, words := range q.Speaks {
				words = regexp.MustCompile(` -\w+`).ReplaceAllString(words, "")
				state, says := asked(c.open+"\nnote \""+words+": as agreed\"", c.name)
				if !strings.HasPrefix(words, "tab ") || c.name != "separation" {
					assert.Equal(t, queries.Answered, state, "%s: %s", c.name, words)
					assert.Contains(t, says, words+": as agreed")
				}
				state, says = asked(c.open+"\nnote \""+words+": left to the shop\"", c.name)
				assert.Equal(t, queries.Left, state, "%s: %s", c.name, words)
				assert.Contains(t, says, words+": left to the shop")
				state, _ = asked(c.open+"\nnote \"something else: left to us\"", c.name)
				assert.Equal(t, queries.Open, state, c.name)
			}
		}
	}
}

// What a statement answers stays answered, whatever a note says.
func TestAStatementAnswersBeforeANote(t *testing.T) {
	state, says := asked(plain+with("finish ENIG")+"note \"edge finish: left to the shop\"", "edge-finish")
	assert.Equal(t, queries.Answered, state)
	assert.Equal(t, "wall: ENIG", says)
	// and of two platings the note speaks for the one that is silent
	state, says = asked(plain+with("finish ENIG")+"plating other { along north; net GND }\nnote \"edge finish of other: the shop decides\"", "edge-finish")
	assert.Equal(t, queries.Left, state)
	assert.Equal(t, "wall: ENIG | edge finish of other: the shop decides", says)
}

func TestNamesAreOfOneForm(t *testing.T) {
	seen := map[string]bool{}
	for _, q := range queries.Table() {
		assert.Regexp(t, `^[a-z]+(-[a-z]+)*$`, q.Name)
		assert.False(t, seen[q.Name], q.Name)
		seen[q.Name] = true
		assert.True(t, strings.HasSuffix(q.Question, "?"), q.Question)
		assert.True(t, q.By != "" || len(q.Speaks) > 0, "%s: something answers it", q.Name)
	}
}

func TestJSONAndMarkdown(t *testing.T) {
	list := queries.Ask(read(plain + "note \"material: a|b\"\nnote \"panel: left to the shop\""))
	where := func(source.Place) (string, int) { return "b.hem", 7 }
	var data, page strings.Builder
	require.NoError(t, queries.JSON(&data, "b.hem", list, where))
	var out struct {
		Complete                      bool
		Answered, Open, LeftToTheShop int
		Queries                       []struct{ Name, State string }
	}
	require.NoError(t, json.Unmarshal([]byte(data.String()), &out))
	assert.Equal(t, []int{3, 5, 1}, []int{out.Answered, out.Open, out.LeftToTheShop})
	assert.Len(t, out.Queries, 9)
	assert.False(t, out.Complete)
	require.NoError(t, queries.Markdown(&page, "b.hem", list, where))
	assert.Contains(t, page.String(), "3 answered, 5 open, 1 left to the shop.")
	assert.Contains(t, page.String(), wording.Caution)
	assert.Contains(t, data.String(), wording.Caution)
	assert.Contains(t, page.String(), `| material | Which family of laminate is it? | material: a\|b | b.hem:7 |`)
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
