package assist

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

const shop = `fabricator shop {
  limit wrap_land minimum 0.4 mm
}
let deep = 3 mm
`

const text = `use "shop.hem"
board b { thickness 1.6 mm }
let long = 60 mm
outline rectangle long by 40 mm corner 2 mm
plating wall {
  along west south
  net GND
  wrap top 15 mil
  wrap bottom 0.8 mm
}
gap launch of wall on west at middle width 5 mm for antenna
connector antenna on west at middle { body 9.5 mm; pin top width 1.3 mm length 4 mm }
tab t1 on north at long - 20 mm width 4 mm perforated hole 0.5 mm pitch 0.8 mm
tab t2 on east at 10 mm width 3 mm solid
tab t3 on south at max(10 mm, deep) width 3 mm solid
castellation row on east from 20 mm to 30 mm pitch 2 mm hole 1 mm land 1.6 mm by 1.2 mm
accept wrap_land on wall because "agreed"
`

// analyze reads a text, the place that a test is about marked with ‸.
func analyze(t *testing.T, marked string) (*lang.Analysis, int) {
	t.Helper()
	at := strings.Index(marked, "‸")
	read := func(path string) (*source.File, error) {
		if path == "shop.hem" {
			return source.New(path, shop), nil
		}
		return nil, errors.New("no such file")
	}
	return lang.Analyze(source.New("a.hem", strings.Replace(marked, "‸", "", 1)), read, nil), at
}

// mark puts ‸ before the last letter of a piece of the text that stands in it
// once, or for a piece with | in it where that is.
func mark(t *testing.T, piece string) string {
	t.Helper()
	before, after, found := strings.Cut(piece, "|")
	if !found {
		before, after = piece[:len(piece)-1], piece[len(piece)-1:]
	}
	require.Equal(t, 1, strings.Count(text, before+after), piece)
	return strings.Replace(text, before+after, before+"‸"+after, 1)
}

func TestHover(t *testing.T) {
	for _, c := range []struct{ at, on, want string }{
		{"plat|ing wall", "plating", "A plated edge: where, how far it turns over each face"},
		{"wr|ap top", "wrap", "`wrap FACE… W`, a clause of plating"},
		{"1|5 mil", "15 mil", "**15 mil** = 0.381 mm = 381 µm"},
		{"let lo|ng", "long", "`let long`: **60.00 mm** = 2362.2047 mil"},
		{"rectangle lo|ng", "long", "`let long`: **60.00 mm**"},
		{"(10 mm, de|ep)", "deep", "`let deep`: **3.00 mm**"},
		{"ma|x(10", "max", "`max`: the greatest of its arguments"},
		{"plating wa|ll", "wall", "plated: 90.1416 mm, 45.9 % of the outline"},
		{"of wa|ll", "wall", "1 opening, the longest 5.00 mm"},
		{"gap laun|ch", "launch", "from 17.50 mm, at (0.00 mm, 17.50 mm)"},
		{"for ante|nna", "antenna", "body 9.50 mm, from 15.25 mm to 24.75 mm"},
		{"along we|st", "west", "**edge west**: **40.00 mm** = 1574.8031 mil = 40000 µm long, 31.00 mm of it plated"},
		{"west so|uth", "south", "- 8.50 mm to 11.50 mm: tab t3"},
		{"tab t|1", "t1", "- width: 4 mm (at its root, on the profile, as the bits leave it)\n- waist: 2.4 mm (halfway along slots of a bit of 1.60 mm)\n- holes: 5\n- web between holes: 0.3 mm\n- row of holes: 3.7 mm (from the first hole's side to the last one's)\n- web at each end: 0.15 mm (from the row to the slot beside the root)\n- net width: 1.5 mm (along its holes)"},
		{"castellation ro|w", "row", "6 half holes of 1.00 mm, land 1.60 mm by 1.20 mm"},
		{"wrap to|p", "top", "The top face"},
		{"net GN|D", "GND", "Net `GND`: plating wall"},
		{"accept wrap_la|nd", "wrap_land", "# wrap_land"},
		{"on wall| because", "wall", "**plating wall**"},
		{`"shop.|hem"`, `"shop.hem"`, "`shop.hem`, 2 statements"},
		{"at mid|dle width 5", "middle", "half way"},
	} {
		t.Run(c.at, func(t *testing.T) {
			a, at := analyze(t, mark(t, c.at))
			card, ok := Hover(a, at, new(Shown), checks.Options{})
			require.True(t, ok)
			assert.Contains(t, card.Markdown, c.want)
			assert.Equal(t, c.on, a.Root().Slice(card.Span))
		})
	}
	a, at := analyze(t, "// noth‸ing here\nlet a = 1 mm")
	_, ok := Hover(a, at, new(Shown), checks.Options{})
	assert.False(t, ok)
}

// What a body reaches, what pads a fence has, what a gap is for, what a wall carries.
func TestCardsOfWhatTheTextAddsToAnItem(t *testing.T) {
	a, _ := analyze(t, `‸tolerance { outline 5 mil; thickness 10 % }
criteria { voids maximum 1 mm; blisters none }
board b { voltage 48 V; hazard live; material "glass and epoxy"; finish ENIG; mask green; impedance none }
outline rectangle 40 mm by 20 mm
plating wall { along south }
connector c on north at 5 mm { body 4 mm reach 1.5 mm; mass 2.5 g }
connector l on south at 20 mm { body 4 mm; pin top width 1 mm length 1 mm; legs top width 1 mm length 1 mm spacing 3 mm }
fence f along north inset 2 mm pitch 2 mm hole 0.3 mm land 24 mil clearance 0.2 mm
part can mass 4 g at (20 mm, 10 mm)
castellation each on west at 5 mm, 12 mm hole 0.8 mm land 1.4 mm by 1.2 mm
tab t on south at 10 mm width 2 mm solid
gap g of wall on south at 10 mm width 4 mm for t
gap h of wall on south at 30 mm width 4 mm for c
`)
	for _, c := range []struct{ word, name, want string }{
		{"connector", "c", "- body stands 1.50 mm over the board\n"},
		{"connector", "c", "- mass 2.5 g\n"},
		{"connector", "l", "- leg 2: 1.00 mm wide, 1.00 mm long, on plating wall no net\n"},
		{"fence", "f", "hole 0.30 mm, land ⌀24 mil, clearance 0.20 mm, 2.00 mm inside"},
		{"part", "can", "**part can**: 4 g at (20.00 mm, 10.00 mm)"},
		{"castellation", "each", "- at 5.00 mm, 12.00 mm\n"},
		{"gap", "g", "- for tab t\n"},
		{"gap", "h", "- for connector c\n"},
		{"tolerance", "tolerance", "- outline 5 mil\n- thickness 10 %\n"},
		{"criteria", "criteria", "- voids maximum 1.00 mm\n- blisters none\n"},
		{"board", "b", "- at most 48 V between the wall and other copper\n- the wall is live, not safe to touch\n- material glass and epoxy, finish ENIG, mask green, impedance none\n"},
	} {
		assert.Contains(t, itemCard(a.Board(), c.word, c.name, new(Shown)), c.want)
	}
}

// The card of a tab or a connector tells what it opens, in each plating, and what
// stays open; that of the edge, what opens it.
func TestCardsOfWhatOpensAGap(t *testing.T) {
	a, at := analyze(t, `board b { thickness 1 mm; frequency 1 GHz }
outline rectangle 60 mm by 40 mm
plating wall { along south west; net GND }
plating more { along south from 20 mm to 40 mm; net GND }
tab t on so‸uth at 30 mm width 3 mm solid opens margin 1 mm
tab u on south at 10 mm width 3 mm solid
connector c on west at 20 mm { body 9 mm; pin top width 1 mm length 3 mm; opens margin 0.5 mm }
connector d on west at 10 mm { body 9 mm; pin top width 1 mm length 3 mm; opens wall margin 0.5 mm bridged }
`)
	card := func(word, name string) string { return itemCard(a.Board(), word, name, new(Shown)) }
	assert.Contains(t, card("tab", "t"), "- opens plating wall from 27.50 mm to 32.50 mm, 5.00 mm long\n- stays open: south from 27.50 mm to 32.50 mm")
	assert.Contains(t, card("tab", "t"), "- opens plating more from 27.50 mm to 32.50 mm, 5.00 mm long\n")
	assert.NotContains(t, card("tab", "u"), "opens")
	assert.Contains(t, card("connector", "c"), "- opens plating wall from 19.00 mm to 21.00 mm, 2.00 mm long\n- stays open: west from 19.00 mm to 21.00 mm")
	assert.NotContains(t, card("connector", "c"), "from 9.00 mm")
	assert.Contains(t, card("connector", "d"), "- opens plating wall from 9.00 mm to 11.00 mm, 2.00 mm long\n")
	assert.NotContains(t, card("connector", "d"), "stays open", "its metal closes it")
	edge, ok := Hover(a, at, new(Shown), checks.Options{})
	require.True(t, ok)
	assert.Contains(t, edge.Markdown, "- 27.50 mm to 32.50 mm: the gap of tab t\n")
}

// The root of a premetallised tab is bare once that is cut: an opening of the
// plating that it stands on.
func TestCardsOfARoot(t *testing.T) {
	a, _ := analyze(t, `‸board b { frequency 5.8 GHz }
stack { copper top 35 um; dielectric core 0.73 mm permittivity 4.3; copper bottom 35 um }
outline rectangle 40 mm by 20 mm
plating wall { along south; net GND }
plating other { along north; net GND }
tab t on south at 10 mm width 3 mm solid premetallised
tab u on north at 10 mm width 2 mm solid premetallised
tab v on east at 10 mm width 2 mm solid premetallised
connector c on south at 30 mm { body 9 mm }
gap g of wall on south at 30 mm width 4 mm for c bridged
`)
	b := a.Board()
	for _, c := range []struct{ word, name, want string }{
		{"plating", "wall", "- plated: 33.00 mm, 27.5 % of the outline\n- 1 opening, the longest 3.00 mm"},
		{"plating", "wall", "- opening at the root of tab t: 3.00 mm"},
		{"plating", "other", "- 1 opening, the longest 2.00 mm"},
		{"tab", "t", "- premetallised: its root is bare once it is cut\n- stays open: south from 8.50 mm to 11.50 mm, longest dimension 3.00 mm"},
		{"gap", "g", "- nothing stays open"},
	} {
		assert.Contains(t, itemCard(b, c.word, c.name, new(Shown)), c.want)
	}
	assert.NotContains(t, itemCard(b, "tab", "v", new(Shown)), "premetallised")
	assert.Contains(t, edgeCard(b, "south"), "33.00 mm of it plated")
	assert.Contains(t, profileCard(b, b.Outline()), "59.2 % of it plated")
}

// In a limit, who says so.
// A card that tells a current or decibels says that they are bounds, and whose
// word comes first.
func TestCardsOfBoundsAreCautioned(t *testing.T) {
	const head = "board b { thickness 1.6 mm; frequency 5.8 GHz }\noutline rectangle 60 mm by 40 mm\n"
	for marked, cautioned := range map[string]bool{
		head + "plating wa‸ll { along west; net GND; copper 25 um }\n":                                                             true,
		head + "plating wa‸ll { along west; net GND }\n":                                                                           false,
		head + "plating wall { along west; net GND }\ngap la‸unch of wall on west at middle width 5 mm\n":                          true,
		"outline rectangle 60 mm by 40 mm\nplating wall { along west; net GND }\ngap la‸unch of wall on west at 9 mm width 5 mm\n": false,
		head + "tab t‸1 on west at middle width 3 mm solid\n":                                                                      false,
	} {
		a, at := analyze(t, marked)
		card, ok := Hover(a, at, new(Shown), checks.Options{})
		require.True(t, ok)
		assert.Equal(t, cautioned, strings.Contains(card.Markdown, wording.Caution), "%s\n%s", marked, card.Markdown)
	}
}

func TestHoverOnALimit(t *testing.T) {
	a, at := analyze(t, strings.Replace(shop, "wrap_land", "wrap‸_land", 1))
	card, ok := Hover(a, at, new(Shown), checks.Options{})
	require.True(t, ok)
	assert.Contains(t, card.Markdown, "built in: at least 0.381 mm")
	assert.Contains(t, card.Markdown, "In force: at least 0.40 mm, by shop (a.hem:2)")
}

func TestDefinition(t *testing.T) {
	for _, c := range []struct{ at, file, line, name string }{
		{"of wa|ll", "a.hem", "plating wall {", "wall"},
		{"for ante|nna", "a.hem", "connector antenna on west at middle { body 9.5 mm; pin top width 1.3 mm length 4 mm }", "antenna"},
		{"at lo|ng - 20", "a.hem", "let long = 60 mm", "long"},
		{"(10 mm, de|ep)", "shop.hem", "let deep = 3 mm", "deep"},
		{"along we|st", "a.hem", "outline rectangle long by 40 mm corner 2 mm", "outline"},
		{"on wall| because", "a.hem", "plating wall {", "wall"},
	} {
		t.Run(c.at, func(t *testing.T) {
			a, at := analyze(t, mark(t, c.at))
			target, ok := Definition(a, at)
			require.True(t, ok)
			assert.Equal(t, c.file, target.File.Path())
			assert.Equal(t, c.name, target.File.Slice(target.Span))
			assert.Equal(t, c.line, target.File.Slice(target.File.Line(target.File.LineOf(target.Span.Start))))
		})
	}
	a, at := analyze(t, mark(t, `"shop.|hem"`))
	target, ok := Definition(a, at)
	require.True(t, ok)
	assert.Equal(t, "shop.hem", target.File.Path())
}

func TestSymbols(t *testing.T) {
	a, _ := analyze(t, "‸hem 1\nlet a = 2 mm + 1 mm\nstack {\n copper top 35 um\n dielectric core 1.5 mm\n}\nplane on top net GND pullback 1 mm\nnonsense\ngap")
	var got []string
	for _, s := range Symbols(a) {
		got = append(got, s.Kind+" "+s.Name+" | "+s.Detail+" | "+a.Root().Slice(s.NameSpan))
		for _, c := range s.Children {
			got = append(got, "  "+c.Kind+" "+c.Name+" | "+c.Detail)
		}
	}
	assert.Equal(t, []string{
		"hem hem 1 |  | hem", "let a | 2 mm + 1 mm | a", "stack stack |  | stack", "  copper top | 35 um", "  dielectric core | 1.5 mm",
		"plane plane on top net GND pullback 1 mm |  | plane", "gap gap |  | gap",
	}, got)
}

func TestFormatIsSmallEdits(t *testing.T) {
	a, _ := analyze(t, "‸let a = 1\n\nlet  b = 2\n\nlet c = 3\n")
	edits := Format(a)
	require.Len(t, edits, 1)
	assert.Equal(t, "let  b = 2\n", a.Root().Slice(edits[0].Span))
	assert.Equal(t, "let b = 2\n", edits[0].Text)
	a, _ = analyze(t, "‸let a = 1\n")
	assert.Empty(t, Format(a))
}

func TestExplainKnowsEverything(t *testing.T) {
	for _, name := range []string{"wrap_land", "tab_count", "plating", "wrap", "oz", "sqrt", "syntax", "unknown_name"} {
		text, ok := rules.All().Explain(name)
		assert.True(t, ok, name)
		assert.Contains(t, text, "# ")
	}
	for old, now := range map[string]string{"routed": "# solid\n", "closed": "# bridged\n", "aperture": "# limit opening_share\n"} {
		text, ok := rules.All().Explain(old)
		assert.True(t, ok && strings.Contains(text, old+" is now written") && strings.Contains(text, now), text)
	}
	for name, cautioned := range map[string]bool{"shielding_short": true, "wall_current": true, "opening_long": true, "wrap_land": false, "plating": false} {
		text, _ := rules.All().Explain(name)
		assert.Equal(t, cautioned, strings.Contains(text, wording.Caution), name)
	}
	text, ok := rules.All().Explain("wrap_lnad")
	assert.False(t, ok)
	assert.Contains(t, text, "did you mean wrap_land?")
}

// What a board asks for goes by its clause in an acceptance.
func TestHoverOverARequest(t *testing.T) {
	a, at := analyze(t, "board b { current 2 A }\naccept not_verified on board.cu‸rrent because \"measured\"")
	card, ok := Hover(a, at, nil, checks.Options{})
	require.True(t, ok)
	assert.Equal(t, "`board.current`: the board asks for current 2 A", card.Markdown)
	assert.Equal(t, "board.current", a.Root().Slice(card.Span))
}

// A piece with other rounds at its two ends, and an arc between rounds.
func TestCardsOfRoundedPieces(t *testing.T) {
	for at, want := range map[string]string{
		"line a‸ to":                      "Straight from 3.00 mm to 18.00 mm; the rounded corners go with their neighbours.",
		"line b‸ to":                      "Straight from 2.00 mm to 10.00 mm;",
		"close d‸ co":                     "Straight from 0.00 mm to 7.00 mm;",
		"line a to (20 mm, 0 mm) cor‸ner": "Radius of the round where the piece ends",
	} {
		text := "outline { start (0 mm, 0 mm); line a to (20 mm, 0 mm) corner 2 mm; line b to (20 mm, 10 mm); line c to (0 mm, 10 mm); close d corner 3 mm }\n"
		plain := strings.Replace(at, "‸", "", 1)
		require.Equal(t, 1, strings.Count(text, plain), plain)
		a, where := analyze(t, strings.Replace(text, plain, at, 1))
		card, ok := Hover(a, where, new(Shown), checks.Options{})
		require.True(t, ok, at)
		assert.Contains(t, card.Markdown, want)
	}
	a, where := analyze(t, "outline { start (0 mm, -8 mm); arc rig‸ht to (0 mm, 8 mm) around (-6 mm, 0 mm) corner 2 mm; close left }\n")
	card, ok := Hover(a, where, new(Shown), checks.Options{})
	require.True(t, ok)
	assert.Contains(t, card.Markdown, "An arc from 0.00 mm to")
}

// How many half holes a row has is told once.
func TestARowsHalfHolesAreCountedOnce(t *testing.T) {
	a, _ := analyze(t, "outline rectangle 60 mm by 40 mm\ncastellation row on west from 5 mm to 17 mm pitch 2 mm hole 1 mm land 1.6 mm by 1.5 mm net GND")
	card := itemCard(a.Board(), "castellation", "row", new(Shown))
	assert.Contains(t, card, "7 half holes of 1.00 mm")
	assert.Equal(t, 1, strings.Count(card, "half holes"), card)
}
