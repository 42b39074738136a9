package notes_test

import (
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/checks/report"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/emit/drawing"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/wording"
	"hemline/lang/geom"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

// examples are the repository's boards, broken ones too.
func examples(t *testing.T) map[string]*lang.Analysis {
	t.Helper()
	list := map[string]*lang.Analysis{}
	for _, pattern := range []string{"../../../examples/*.hem", "../../../examples/broken/*.hem"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		for _, f := range files {
			text, err := source.Read(f)
			require.NoError(t, err)
			list[strings.TrimPrefix(filepath.ToSlash(f), "../../../examples/")] = lang.Analyze(text, source.Read, nil)
		}
	}
	require.Len(t, list, 14)
	return list
}

// tablesOf are the tables that notes refer to.
func tablesOf(b *board.Board, margin float64) []wording.Table {
	return drawing.Tables(b, scene.Build(b, margin), checks.BitsOf(b).Tab)
}

// whole is a board's notes as they are handed over without its drawing.
func whole(t *testing.T, a *lang.Analysis) string {
	t.Helper()
	var w strings.Builder
	require.NoError(t, notes.Text(&w, a.Board(), notes.Make(a.Board(), report.NoteFigures(a, nil)), tablesOf(a.Board(), 0)))
	return w.String()
}

// Each table that a note names is there, and each that an example has is named by a note.
func TestTablesThatNotesName(t *testing.T) {
	name := regexp.MustCompile("table “([^”]+)”")
	named := map[string]bool{}
	langtest.EveryText(t, "../../..", func(path string, a *lang.Analysis) {
		tables := tablesOf(a.Board(), 0)
		for _, n := range notes.Make(a.Board(), notes.Figures{Room: room}) {
			for _, found := range name.FindAllStringSubmatch(n.Text, -1) {
				named[found[1]] = true
				assert.True(t, slices.ContainsFunc(tables, func(x wording.Table) bool { return titled(x, found[1]) }), "%s: no table %q", path, found[1])
			}
		}
	})
	assert.Len(t, named, 12)
	for path, a := range examples(t) {
		said := strings.Join(notes.Texts(notes.Make(a.Board(), notes.Figures{Room: room})), "\n")
		for _, x := range tablesOf(a.Board(), 0) {
			if slices.ContainsFunc(dimensions, func(name string) bool { return strings.HasPrefix(x.Title, name) }) {
				continue
			}
			assert.True(t, slices.ContainsFunc(name.FindAllStringSubmatch(said, -1), func(found []string) bool { return titled(x, found[1]) }), "%s: no note names table %q", path, x.Title)
		}
	}
}

// dimensions are how titles of tables begin that hold dimensions alone, of drawn paths and
// of what the artwork has itself: there is nothing to do by them that a note would say.
var dimensions = []string{"Outline, drawn", "Cutout ", "Copper features", "Connectors"}

// titled tells whether a table has a name: the first words of its title.
func titled(x wording.Table, name string) bool {
	rest, ok := strings.CutPrefix(x.Title, name)
	return ok && (rest == "" || strings.ContainsAny(rest[:1], " ,:("))
}

// The notes with their tables tell all that a board's own text places: read off the
// model here, and looked for in one line.
func TestNothingIsLostWithoutTheDrawing(t *testing.T) {
	for name, a := range examples(t) {
		b, lines := a.Board(), strings.Split(whole(t, a), "\n")
		line := func(words ...string) {
			t.Helper()
			assert.True(t, slices.ContainsFunc(lines, func(s string) bool {
				return !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(s, w) })
			}), "%s: no line has all of %q", name, words)
		}
		for _, p := range b.Profiles() {
			for _, s := range b.Finished(p).Plated {
				if s.Round() {
					line(b.StretchNames()[s], mm(s.Length()), p.Name)
				} else {
					line(b.StretchNames()[s], pair(p.Path.At(s.From)), pair(p.Path.At(s.To)), mm(s.Length()))
				}
			}
			for _, s := range b.Finished(p).Bare {
				if len(b.Finished(p).Plated) > 0 {
					line(pair(p.Path.At(s.From)), pair(p.Path.At(s.To)), mm(s.Length()))
				}
			}
		}
		for _, p := range b.Platings() {
			line(p.Name.Text, p.Net.Text, mm(p.Wrap[board.Top].Value), mm(p.Wrap[board.Bottom].Value), mm(p.Extend.Value), wording.Micrometres(p.Copper.Value), b.FinishOf(p).Text, strings.Join(b.Joined(p), " "))
		}
		for _, x := range b.Tabs() {
			line(x.Name.Text, pair(x.Edge.Point(x.Position)), mm(x.Width.Value), mm(x.Hole.Value), mm(x.Pitch.Value))
			if x.Removal.Within.Given() {
				line(mm(x.Removal.Within.Value)+" mm of the profile", x.Removal.By.Text)
			}
		}
		for _, c := range b.Castellations() {
			for i, at := range []float64{c.Centres[0], c.Centres[len(c.Centres)-1]} {
				line(c.Name.Text, pair(c.Edge.Point(at)), mm(c.Hole.Value), mm(c.LandWidth.Value), mm(c.LandLength.Value), c.NetOf(i*(len(c.Centres)-1)).Text)
			}
		}
		for _, c := range b.Cutouts() {
			segs := c.Profile.Path.Segments()
			switch c.Kind {
			case "start": // piece by piece
				for _, e := range c.Profile.Edges[1:] {
					line(strings.TrimPrefix(e.Name, c.Name.Text+"."), pair(e.Piece.A))
				}
			case "slot": // the sides are as long as it is, less its width
				i := slices.IndexFunc(segs, func(g geom.Segment) bool { return !g.Arc })
				line(c.Name.Text, pair(c.Centre), mm(segs[i].Length()+c.Width.Value)+" × "+mm(c.Width.Value))
				if way := segs[i].B.Sub(segs[i].A); math.Abs(way.Y) > 1 {
					line(c.Name.Text, fmt.Sprintf("turned %.0f°", math.Mod(math.Atan2(way.Y, way.X)*180/math.Pi+360, 180)))
				}
			default:
				line(c.Name.Text, pair(c.Centre), mm(c.Profile.Path.Box().Max.X-c.Profile.Path.Box().Min.X))
			}
		}
		for _, h := range b.Holes() {
			line(h.Name.Text, pair(h.Centre), mm(h.Diameter.Value), mm(h.Land.Value), h.Net.Text)
		}
		for _, f := range b.Fences() {
			line(f.Name.Text, fmt.Sprint(len(f.Vias)), mm(f.Hole.Value), mm(f.Pitch.Value), mm(f.Inset.Value), f.Net.Text)
		}
		for _, r := range b.Reliefs() {
			line(r.OverNames(), strings.Join(r.FaceNames(), " "), mm(r.Reach.Value))
		}
		for _, x := range b.Planes() {
			line(x.Layer.Text, x.Net.Text, mm(x.Pullback.Value))
			if x.Within != nil {
				line(pair(x.Within.Min), pair(x.Within.Max))
			}
		}
		for _, x := range b.Notes() {
			line(x.Text.Text)
		}
	}
}

// mm and pair are what a text has of a figure; what is not stated has none.
func mm(nm float64) string {
	if nm == 0 {
		return ""
	}
	return wording.Millimetres(nm)
}

func pair(p geom.Point) string { return wording.Pair(p) }

// A shop reads the receiver's notes on two pages at most: 25, three lines each. The
// author's own notes are as long as they are.
func TestNotesAreFewAndShort(t *testing.T) {
	for name, a := range examples(t) {
		list := notes.Make(a.Board(), report.NoteFigures(a, nil))
		if name == "receiver.hem" {
			assert.LessOrEqual(t, len(list), 25)
		}
		for _, n := range list {
			if n.Topic != notes.Author {
				assert.LessOrEqual(t, lines(n.Text, 72), 4, "%s: %s", name, n.Text)
				assert.LessOrEqual(t, lines(n.Text, 110), 3, "%s: %s", name, n.Text)
			}
		}
	}
}

// lines is how many lines of a width a text takes, broken between words.
func lines(text string, width int) int {
	n, used := 1, 0
	for word := range strings.FieldsSeq(text) {
		long := utf8.RuneCountInString(word)
		if used > 0 && used+1+long > width {
			n, used = n+1, 0
		} else if used > 0 {
			used++
		}
		used += long
	}
	return n
}

// What holds for the sentences of every board of the repository.
func TestSentencesOfEveryText(t *testing.T) {
	one, end := regexp.MustCompile(`\b1 [a-z]+s\b|\b(layers|platings|tabs|fences) [\w.]+(\.| keep| join)( |$)|\b(layer|plating|tab|fence) \w+ and \w+( keep|;|\.)`), regexp.MustCompile(`\. (\p{Lu})`)
	langtest.EveryText(t, "../../..", func(path string, a *lang.Analysis) {
		seen := map[string]bool{}
		for _, n := range notes.Make(a.Board(), notes.Figures{Room: room, TabGap: room.Copper}) {
			if n.Topic == notes.Author {
				continue
			}
			assert.NotContains(t, n.Text, "but for", path)
			assert.NotContains(t, n.Text, "  ", path)
			assert.NotContains(t, n.Text, "..", path)
			for _, s := range strings.Split(end.ReplaceAllString(n.Text, ".\n$1"), "\n") {
				assert.False(t, seen[s], "%s says twice: %s", path, s)
				seen[s] = true
				if regexp.MustCompile(`\b[Kk]eep\b`).MatchString(s) && !strings.HasPrefix(s, "Keep planes from the profile") {
					assert.Regexp(t, `\d mm \(`, s, "%s: how far, and who asks", path)
				}
			}
			if n.Topic != notes.Tolerances && n.Topic != notes.Delivery && n.Topic != notes.Electrical && n.Topic != notes.Criteria { // the author's words
				assert.NotRegexp(t, one, n.Text, path)
			}
		}
	})
}

// Where a relief states no margin its row has the shop's, as the layers have.
func TestMarginOfTheShop(t *testing.T) {
	for relief, want := range map[string][]string{
		"relief r over wall on top reach 1 mm":              {"r", "wall", "all of it", "top", "1", "0.075"},
		"relief r over wall on top":                         {"r", "wall", "all of it", "top", "0.875", "0.075"},
		"relief r over wall on top margin 0 mm":             {"r", "wall", "all of it", "top", "0.8", "0"},
		"relief r over wall on top along south margin 0 mm": {"r", "wall", "south", "top", "0.8", "0"},
	} {
		tables := tablesOf(read(outline+"plating wall { along south; net GND; wrap top bottom 0.8 mm }\n"+relief), 0.075e6)
		i := slices.IndexFunc(tables, func(x wording.Table) bool { return titled(x, "Solder mask openings") })
		require.GreaterOrEqual(t, i, 0)
		assert.Equal(t, [][]string{want}, tables[i].Rows)
	}
}

// What layers keep from walls is said once for layers, and for platings, that are alike.
func TestWallsThatLayersDoNotJoin(t *testing.T) {
	const five = "stack { copper top 35 um; dielectric d 0.5 mm; copper a 35 um; dielectric e 0.5 mm; copper b 35 um; dielectric f 0.5 mm; copper bottom 35 um }\n" + outline
	for _, c := range []struct{ text, want string }{
		{"plating w { along south; net GND; wrap top bottom 1 mm }", "On layers a and b keep copper of other nets than GND 0.5 mm (standard) from plating w."},
		{"plating w { along south; net GND; wrap top bottom 1 mm }\nplating v { along north; net GND; wrap top bottom 1 mm }", "On layers a and b keep copper of other nets than GND 0.5 mm (standard) from platings w and v."},
		{"plating w { along south; net GND; wrap top bottom 1 mm }\nplating v { along north; wrap top bottom 1 mm; layers top bottom a }",
			"On layers a and b keep copper of other nets than GND 0.5 mm (standard) from plating w. On layer b keep copper 0.5 mm (standard) from plating v."},
		{"plating w { along south; net GND; wrap top bottom 1 mm }\nplating v { along north; net GND; wrap top bottom 1 mm; layers top bottom a }",
			"On layers a and b keep copper of other nets than GND 0.5 mm (standard) from plating w. On layer b keep copper of other nets than GND 0.5 mm (standard) from plating v."},
		{"plating w { along south; net GND; wrap top bottom 1 mm; layers a b top }", "On layer bottom join no copper to the wrap of plating w; keep what is not its own 0.3 mm (common practice) off it."},
		{"plane on a net GND pullback 0.5 mm within (0 mm, 0 mm) to (20 mm, 9 mm)\nplating w { along south; net GND; wrap top bottom 1 mm; layers a b top bottom }",
			"On layer a, where no plane of its net lies, keep copper of other nets than GND 0.5 mm (standard) from plating w."},
	} {
		assert.Equal(t, c.want, told(notes.Make(read(five+c.text), notes.Figures{Room: room}), notes.Walls), c.text)
	}
}

// Copper keeps from bare edges and from tabs by a figure, and it is said what does not.
func TestBareEdgesAndTabs(t *testing.T) {
	gap := copper.Distance{By: 0.6e6, Who: "standard"}
	const inner, tab = layered, "tab c on south at 30 mm width 3 mm solid\n"
	for _, c := range []struct{ text, want string }{
		{outline, "Keep copper 0.25 mm (common practice) from bare edges."},
		{inner, "Keep copper 0.25 mm (common practice) from bare edges on outer layers, 0.4 mm (standard) on inner ones."},
		{outline + tab, "Keep copper 0.25 mm (common practice) from bare edges. Keep every layer free of copper at tabs, and 0.6 mm (standard) to either side."},
		{outline + tab + "tab d on south at 10 mm width 3 mm solid premetallised", "Keep copper 0.25 mm (common practice) from bare edges. Keep every layer free of copper at tab c, and 0.6 mm (standard) to either side."},
		{"outline rectangle 60 mm by 30 mm\nplating w { along all }", ""},
		{outline + "castellation c on west at 5 mm hole 1 mm land 1.6 mm by 1.2 mm\nconnector j on east at 15 mm { body 9 mm; pin top width 1 mm length 3 mm }", "Keep copper 0.25 mm (common practice) from bare edges; pins and half holes stand nearer."},
		{outline + "plating w { along north; wrap top 1 mm }\ntab d on north at 10 mm width 3 mm solid premetallised", "Keep copper 0.25 mm (common practice) from bare edges; wraps over premetallised tabs stand nearer."},
	} {
		assert.Equal(t, c.want, told(notes.Make(read(c.text), notes.Figures{Room: room, TabGap: gap}), notes.Edges), c.text)
	}
	same := copper.Room{EdgeOuter: copper.Distance{By: 0.2e6, Who: "standard"}, EdgeInner: copper.Distance{By: 0.3e6, Who: "standard"}}
	assert.Equal(t, "Keep copper from bare edges 0.2 mm on outer and 0.3 mm on inner layers (standard).", told(notes.Make(read(inner), notes.Figures{Room: same}), notes.Edges))
}

// Sentences about one thing share a number while three lines hold them; each comes
// from all that its sentences come from.
func TestSentencesShareANumber(t *testing.T) {
	b := read("criteria { adhesion \"" + strings.Repeat("a", 80) + "\"; microsection \"" + strings.Repeat("m", 80) + "\"; sample \"" + strings.Repeat("s", 80) + "\"; coupon none }")
	list := notes.Make(b, notes.Figures{})
	require.Len(t, list, 3)
	assert.Regexp(t, `^Wall adhesion: a+\. Microsections: m+\.$`, list[0].Text)
	assert.Len(t, list[0].From, 2)
	assert.Regexp(t, `^Make no coupon of the plated edge\. Boards to measure: s+\.$`, list[1].Text)
	for _, n := range list[:2] {
		assert.LessOrEqual(t, utf8.RuneCountInString(n.Text), notes.Most)
	}
	long := "tolerance outline 0.1 mm thickness 10 % gaps 0.2 mm cutouts 0.1 mm holes 0.1 mm half_holes 0.1 mm position 0.1 mm mask 0.1 mm"
	list = notes.Make(read(long), notes.Figures{})
	require.Len(t, list, 3)
	for _, n := range list[:2] {
		assert.LessOrEqual(t, utf8.RuneCountInString(n.Text), notes.Most)
		assert.True(t, strings.HasPrefix(n.Text, "Tolerances, either way: "))
	}
	assert.Equal(t, 8, strings.Count(list[0].Text+list[1].Text, ";")+2)
}

// Headings stand in their order, and the numbers run on through them.
func TestHeadingsAndNumbers(t *testing.T) {
	a := examples(t)["front_end.hem"]
	list := notes.Make(a.Board(), report.NoteFigures(a, nil))
	var headings []string
	n := 0
	for _, s := range notes.Sections(list) {
		headings = append(headings, s.Heading)
		for _, line := range s.Lines {
			assert.Equal(t, list[n].Text, line)
			n++
		}
	}
	assert.Equal(t, []string{"General", "Plating", "Copper and planes", "Routs and tabs", "Solder mask", "Holes", "Acceptance", "Further notes"}, headings)
	assert.Len(t, list, n)
	text := whole(t, a)
	for i, x := range list {
		assert.Contains(t, text, fmt.Sprintf("\n%3d. %s\n", i+1, x.Text))
	}
	assert.Regexp(t, `\n\nSolder mask\n 1\d\. Open`, text)
}
