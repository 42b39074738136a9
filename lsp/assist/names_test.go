package assist

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/source"
)

const drawn = `use "shop.hem"
let a = deep * 2
let b = 2 * a
outline {
  start (0 mm, 0 mm)
  line foot to (60 mm, 0 mm)
  line side to (60 mm, 40 mm)
  close back
}
cutout pane {
  start (20 mm, 5 mm)
  line sill to (30 mm, 5 mm)
  line jamb to (30 mm, 9 mm)
  close lid
}
stack { copper top 35 um; dielectric core 1.5 mm; copper "low side" 35 um }
plating wall { along foot pane.sill; net GND }
gap g1 of wall on foot at foot.length / 2 width a
gap g2 of wall on pane.sill at middle width pane.sill.length / 10
plane on "low side" net GND pullback a + 0.5 mm
accept gap_narrow on g1 because "agreed"
let c = pane.width
`

// spell lists mentions as line:column of each, a star where the name is given.
func spell(list []Mention) string {
	var out []string
	for _, m := range list {
		p := m.File.Position(m.Span.Start, source.Runes)
		text := fmt.Sprintf("%d:%d", p.Line+1, p.Column+1)
		if m.File.Path() != "a.hem" {
			text = m.File.Path() + ":" + text
		}
		if m.States {
			text += "*"
		}
		out = append(out, text)
	}
	return strings.Join(out, " ")
}

func TestMentions(t *testing.T) {
	for _, c := range []struct{ at, kind, want string }{
		{"|deep * 2", "let", "shop.hem:4:5* 2:9"},
		{"let a|", "let", "2:5* 3:13 18:49 20:38"},
		{"on foot at", "edge", "6:8* 17:22 18:19 18:27"}, // the last letter but one piece: see mark
		{"along foot |pane.sill", "cutout", "10:8* 17:27 19:19 19:45 22:9"},
		{"along foot pane.|sill", "edge", "12:8* 17:32 19:24 19:50"},
		{"close lid|", "edge", "14:9*"},
		{"of |wall on foot", "plating", "17:9* 18:11 19:11"},
		{"net |GND }", "net", "17:42 20:25"},
		{"on |\"low side\" net", "layer", "16:58* 20:10"},
		{"narrow on g1| because", "gap", "18:5* 21:22"},
		{"accept |gap_narrow", "rule", "21:8"},
		{"pane.width|\n", "", ""},
		{"at |middle", "", ""},
	} {
		marked := strings.Replace(drawn, strings.Replace(c.at, "|", "", 1), strings.Replace(c.at, "|", "‸", 1), 1)
		if !strings.Contains(c.at, "|") {
			marked = strings.Replace(drawn, c.at, c.at[:4]+"‸"+c.at[4:], 1)
		}
		a, at := analyze(t, marked)
		require.GreaterOrEqual(t, at, 0, c.at)
		m, ok := NameAt(a, at)
		if c.kind == "" {
			assert.False(t, ok, c.at)
			continue
		}
		require.True(t, ok, c.at)
		assert.Equal(t, c.kind, m.Kind, c.at)
		assert.Equal(t, c.want, spell(Mentions(a, m.Name)), c.at)
	}
}

// A plane's number is none of its layer's name.
func TestMentionsOfPlanesWithNumbers(t *testing.T) {
	text := `stack { copper top 35 um; dielectric d 1 mm; copper low 35 um }
outline rectangle 40 mm by 20 mm
plane on low net GND pullback 1 mm within (0 mm, 0 mm) to (9 mm, 9 mm)
plane on low net V pullback 1 mm within (9 mm, 0 mm) to (20 mm, 9 mm)
accept copper_clearance on low.2 with low.1 because "so"
accept edge_pullback on low because "so"
`
	a, at := analyze(t, strings.Replace(text, "on low.2", "on l‸ow.2", 1))
	m, ok := NameAt(a, at)
	require.True(t, ok)
	assert.Equal(t, Name{"layer", "low"}, m.Name)
	assert.Equal(t, "1:53* 3:10 4:10 5:28 5:39 6:25", spell(Mentions(a, m.Name)))
	card, _ := Hover(a, at, new(Shown), checks.Options{})
	assert.Contains(t, card.Markdown, "**layer low**")
	assert.Contains(t, card.Markdown, "- plane low.1, net GND, 1.00 mm from the profile within (0.00 mm, 0.00 mm) to (9.00 mm, 9.00 mm)\n- plane low.2, net V")
	a, at = analyze(t, strings.Replace(text, "net GND", "net G‸ND", 1))
	card, _ = Hover(a, at, new(Shown), checks.Options{})
	assert.Contains(t, card.Markdown, "plane low.1")
}

// In an acceptance: pairs, keywords that are names, members of rows, and planes by their layers.
func TestMentionsInAcceptances(t *testing.T) {
	text := `stack { copper top 35 um; dielectric d 1 mm; copper low 35 um }
outline rectangle 40 mm by 20 mm
plating "tab" { along west; net GND }
feature f on top circle 1 mm at (5 mm, 5 mm)
plane on low net GND pullback 1 mm
accept wrap_clearance on f outline with tab because "so"
accept wrap_clearance on f.2 low with "tab" because "so"
`
	for _, c := range []struct{ at, kind, name, want string }{
		{"on ‸f outline", "feature", "f", "4:9* 6:26 7:26"},
		{"on ‸f.2", "feature", "f", "4:9* 6:26 7:26"},
		{"with t‸ab", "plating", "tab", "3:9* 6:41 7:39"},
		{"l‸ow with", "layer", "low", "1:53* 5:10 7:30"},
	} {
		a, at := analyze(t, strings.Replace(text, strings.Replace(c.at, "‸", "", 1), c.at, 1))
		m, ok := NameAt(a, at)
		require.True(t, ok, c.at)
		assert.Equal(t, Name{c.kind, c.name}, m.Name)
		assert.Equal(t, c.want, spell(Mentions(a, m.Name)), c.at)
	}
	a, at := analyze(t, strings.Replace(text, "with tab", "with t‸ab", 1))
	m, _ := NameAt(a, at)
	changes, err := Rename([]*lang.Analysis{a}, m.Name, "wall")
	require.NoError(t, err)
	require.Len(t, changes, 1)
	assert.Len(t, changes[0].Edits, 3)
	card, ok := Hover(a, at, new(Shown), checks.Options{})
	require.True(t, ok)
	assert.Contains(t, card.Markdown, "**plating tab**")
	a, at = analyze(t, strings.Replace(text, "f outline", "f out‸line", 1))
	card, _ = Hover(a, at, new(Shown), checks.Options{})
	assert.Contains(t, card.Markdown, "**outline**: perimeter 120.00 mm")
}

func TestRename(t *testing.T) {
	for _, c := range []struct{ at, to, want string }{
		{"let a|", "width_of_gap", "a.hem 4"},
		{"|deep * 2", "middle", "error: middle has a meaning of its own where a let is named"},
		{"|deep * 2", "depth", "a.hem 1, shop.hem 1"},
		{"of |wall on foot", "the wall", "a.hem 3"}, // in quotes
		{"along foot |pane.sill", "window", "a.hem 5"},
		{"along foot pane.|sill", "step", "a.hem 4"},
		{"net |GND }", "+3V3", "a.hem 2"},
		{"on |\"low side\" net", "low", "a.hem 2"},
		{"let a|", "a", ""},

		{"let a|", "b", "error: b is taken: a let of that name stands at a.hem:3"},
		{"let a|", "width", "error: \"width\" cannot be written in an expression: a letter or _ first, then letters, digits and _, and no keyword"},
		{"let a|", "", "error: a name is not empty"},
		{"let a|", "x\ny", "error: a name has no line ends and no control characters"},
		{"let a|", strings.Repeat("x", 200), "a.hem 4"},
		{"let a|", strings.Repeat("x", 201), "error: a name has at most 200 bytes; this one has 201"},
		{"along foot pane.|sill", "jamb", "error: pane.jamb is taken: an edge of that name stands at a.hem:13"},
		{"|side to", "all", "error: all has a meaning of its own where an edge is named"},
		{"accept |gap_narrow", "x", "error: gap_narrow is not a name of this text, so it cannot be renamed here"},
	} {
		a, at := analyze(t, strings.Replace(drawn, strings.Replace(c.at, "|", "", 1), strings.Replace(c.at, "|", "‸", 1), 1))
		require.GreaterOrEqual(t, at, 0, c.at)
		got := ""
		m, err := Renameable(a, at)
		var changes []Change
		if err == nil {
			changes, err = Rename([]*lang.Analysis{a}, m.Name, c.to)
		}
		for i, change := range changes {
			if i > 0 {
				got += ", "
			}
			got += fmt.Sprintf("%s %d", change.File.Path(), len(change.Edits))
		}
		if err != nil {
			got = "error: " + err.Error()
		}
		assert.Equal(t, c.want, got, "%s to %q", c.at, c.to)
	}
}

// What is typical is renamed where it is taken over, and an item where another is
// like it.
func TestRenameOfWhatOthersAreLike(t *testing.T) {
	const text = "outline rectangle 60 mm by 30 mm\ntypical scar tab { width 3 mm; solid }\ntab t like scar on south at 9 mm\ntab u like t on south at 30 mm\ntypical wide tab { like scar; width 4 mm }\nplating wall { along west; net GND }\n"
	for _, c := range []struct {
		at    string
		edits int
	}{{"typical |scar", 3}, {"t like |scar", 3}, {"tab |t like", 2}, {"u like |t on", 2}, {"typical |wide", 1}} {
		a, at := analyze(t, strings.Replace(text, strings.Replace(c.at, "|", "", 1), strings.Replace(c.at, "|", "‸", 1), 1))
		m, err := Renameable(a, at)
		require.NoError(t, err, c.at)
		changes, err := Rename([]*lang.Analysis{a}, m.Name, "other")
		require.NoError(t, err, c.at)
		require.Len(t, changes, 1)
		assert.Len(t, changes[0].Edits, c.edits, c.at)
		_, err = Rename([]*lang.Analysis{a}, m.Name, "wall")
		assert.EqualError(t, err, "wall is taken: a plating of that name stands at a.hem:6", "items of all kinds share one set of names")
	}
}

// A row is renamed where one of its members is named, and its card tells of them.
func TestRows(t *testing.T) {
	const text = "outline rectangle 60 mm by 30 mm\nplating wall { along south; net GND }\ntab s on south at 9 mm, 20 mm, 30 mm, 40 mm width 3 mm solid\ngap g of wall on south at 9 mm width 5 mm for s.1\naccept tab_weak on s.2 because \"so\"\n"
	for _, where := range []string{"tab |s on", "for |s.1", "on |s.2"} {
		a, at := analyze(t, strings.Replace(text, strings.Replace(where, "|", "", 1), strings.Replace(where, "|", "‸", 1), 1))
		m, err := Renameable(a, at)
		require.NoError(t, err, where)
		changes, err := Rename([]*lang.Analysis{a}, m.Name, "row")
		require.NoError(t, err, where)
		require.Len(t, changes, 1)
		assert.Len(t, changes[0].Edits, 3, where)
	}
	a, at := analyze(t, strings.Replace(text, "tab s on", "tab ‸s on", 1))
	card, _ := Hover(a, at, new(Shown), checks.Options{})
	assert.Contains(t, card.Markdown, "**tab s.1**")
	assert.Contains(t, card.Markdown, "**tab s.3**")
	assert.Contains(t, card.Markdown, "And 1 more.")
	assert.NotContains(t, card.Markdown, "**tab s.4**")
}

// A plating that a tab or a connector opens is one of its names.
func TestRenameOfAPlatingThatIsOpened(t *testing.T) {
	a, at := analyze(t, "outline rectangle 60 mm by 40 mm\nplating w‸all { along south west; net GND }\ntab t on south at 30 mm width 3 mm solid opens wall margin 1 mm\nconnector c on west at 20 mm { body 9 mm; opens wall span 3 mm }\n")
	m, err := Renameable(a, at)
	require.NoError(t, err)
	changes, err := Rename([]*lang.Analysis{a}, m.Name, "shield")
	require.NoError(t, err)
	require.Len(t, changes, 1)
	assert.Equal(t, 3, len(changes[0].Edits))
}

func TestWhatCannotBeRenamed(t *testing.T) {
	for marked, want := range map[string]string{
		"outline rectangle 9 mm by 9 mm\nplating w { along ‸south; net GND }\n": "south is what every shape of this kind calls that edge; only the pieces of a drawn path have names of their own",
		"let x = ‸y\n":     "no let named y is stated, so there is nothing to rename",
		"‸let x = 1\n":     "no name stands here",
		"gap g of ‸nine\n": "no plating named nine is stated, so there is nothing to rename",
	} {
		a, at := analyze(t, marked)
		_, err := Renameable(a, at)
		require.Error(t, err, marked)
		assert.Equal(t, want, err.Error(), marked)
	}
}

// A file that two boards use is renamed in both, and neither may object.
func TestRenameInEveryUserOfAFile(t *testing.T) {
	read := func(path string) (*source.File, error) {
		if path == "shop.hem" {
			return source.New(path, "let deep = 3 mm\n"), nil
		}
		return nil, errors.New("no such file")
	}
	one := lang.Analyze(source.New("one.hem", "use \"shop.hem\"\nlet x = deep\n"), read, nil)
	two := lang.Analyze(source.New("two.hem", "use \"shop.hem\"\nlet y = deep + deep\nlet z = 1\n"), read, nil)
	changes, err := Rename([]*lang.Analysis{one, two}, Name{"let", "deep"}, "far")
	require.NoError(t, err)
	var files []string
	for _, c := range changes {
		files = append(files, fmt.Sprintf("%s %d", c.File.Path(), len(c.Edits)))
	}
	assert.Equal(t, []string{"one.hem 1", "shop.hem 1", "two.hem 2"}, files)

	_, err = Rename([]*lang.Analysis{one, two}, Name{"let", "deep"}, "z")
	assert.EqualError(t, err, "z is taken: a let of that name stands at two.hem:3")
	assert.True(t, slices.ContainsFunc(changes, func(c Change) bool { return c.Edits[0].Text == "far" }))
}

// The edges of a row of cutouts: one member's and every member's are of the row.
func TestEdgesOfARowOfCutouts(t *testing.T) {
	const text = `outline rectangle 60 mm by 40 mm
cutout s slot 6 mm by 2 mm at (10 mm, 20 mm), (30 mm, 20 mm)
plating w { along s.rim; net GND }
gap g of w on s.2.rim at 1 mm width 2 mm
let a = s.1.width
`
	for _, c := range []struct{ at, card string }{
		{"along s.r‸im", "**edge s.rim**: of 2 cutouts in a row, s.1.rim to s.2.rim, each 14.2832 mm"},
		{"cutout s‸ slot", "**s.2**: perimeter 14.2832 mm"},
		{"on s.2‸.rim", "**edge s.2.rim**: **14.2832 mm**"},
	} {
		a, at := analyze(t, strings.Replace(text, strings.Replace(c.at, "‸", "", 1), c.at, 1))
		card, ok := Hover(a, at, new(Shown), checks.Options{})
		require.True(t, ok, c.at)
		assert.Contains(t, card.Markdown, c.card, c.at)
	}
	a, at := analyze(t, strings.Replace(text, "cutout s", "cutout s‸", 1))
	m, err := Renameable(a, at)
	require.NoError(t, err)
	changes, err := Rename([]*lang.Analysis{a}, m.Name, "slit")
	require.NoError(t, err)
	require.Len(t, changes, 1)
	assert.Len(t, changes[0].Edits, 4, "where it is given, along, on and in the expression")
}

// Names in quotes are renamed like others, members of rows among them: what needs quotes gets
// them, what does not loses them; a member's goes as one word.
func TestRenameInQuotes(t *testing.T) {
	const text = `outline rectangle 60 mm by 40 mm
plating "outer wall" { along south; net "+3V3" }
tab "a b" on south at 9 mm, 20 mm width 3 mm solid
tab c on north at 9 mm, 20 mm width 3 mm solid
gap g of "outer wall" on south at 20 mm width 4 mm for "a b.2"
accept tab_weak on "a b" "a b.1" c.2 "outer wall" because "x"
feature f on top circle 1 mm at (5 mm, 9 mm) net "+3V3"
`
	for _, c := range []struct {
		at, to string
		want   []string
	}{
		{`tab "a| b"`, "row", []string{"tab row on", "for row.2", "on row row.1 c.2"}},
		{`"a| b.1"`, "row", []string{"tab row on", "for row.2", "on row row.1 c.2"}},
		{`for "a b|.2"`, "one more", []string{`tab "one more" on`, `for "one more.2"`, `on "one more" "one more.1" c.2`}},
		{"tab c| on", "the north", []string{`tab "the north" on`, `"a b.1" "the north.2" "outer wall"`}},
		{`of "outer |wall"`, "shield", []string{"plating shield {", "of shield on", "c.2 shield because"}},
		{`9 mm) net "+3|V3"`, "V5", []string{"net V5 }", "9 mm) net V5"}},
	} {
		a, at := analyze(t, strings.Replace(text, strings.Replace(c.at, "|", "", 1), strings.Replace(c.at, "|", "‸", 1), 1))
		require.GreaterOrEqual(t, at, 0, c.at)
		m, err := Renameable(a, at)
		require.NoError(t, err, c.at)
		if m.Member != "" {
			assert.Equal(t, m.Text, a.Root().Slice(m.Span), "the row's name, without the member's number and the quotes")
		}
		changes, err := Rename([]*lang.Analysis{a}, m.Name, c.to)
		require.NoError(t, err, c.at)
		f := a.Root()
		for _, e := range slices.Backward(changes[0].Edits) {
			f = f.Edit(e.Span, e.Text)
		}
		for _, want := range c.want {
			assert.Contains(t, f.Text(), want, c.at)
		}
		after, _ := analyze(t, f.Text())
		assert.Len(t, after.Findings(), len(a.Findings()))
	}
}
