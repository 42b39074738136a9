package article_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/emit/article"
	"hemline/lang/emit/drawing"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/scene"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

func of(t *testing.T, text string) *board.Board {
	t.Helper()
	a := lang.Analyze(source.New("b.hem", text), nil, nil)
	require.Empty(t, a.Findings())
	return a.Board()
}

var usual = article.Options{MaskMargin: 75e3, MaskMarginBy: "common practice"}

// lines are those of a board, each as one text.
func lines(t *testing.T, text string) (list []string) {
	t.Helper()
	for _, l := range article.Make(of(t, text), usual) {
		list = append(list, fmt.Sprintf("%s | %s | %s | %s | %s", l.What, l.Where, l.Limit, l.By, strings.Join(l.Readings, " ")))
	}
	return list
}

const plain = "outline rectangle 60 mm by 40 mm"

// A board that states nothing but its outline is measured over all.
func TestNothingIsMeasuredThatNobodyStates(t *testing.T) {
	assert.Equal(t, []string{"Outline: size over all | the board | 60 by 40 mm | the text | x y"}, lines(t, plain))
	assert.Empty(t, article.Make(lang.Analyze(source.New("b.hem", "board b"), nil, nil).Board(), usual))
	assert.Len(t, lines(t, plain+"\ntolerance position 0.1 mm"), 1, "no hole, no half hole, no cutout")
	assert.Len(t, lines(t, plain+"\nhole m diameter 3.2 mm at (5 mm, 5 mm) unplated"), 2, "no tolerance of places")
	// What is asked of plated copper is nothing where nothing is plated.
	assert.Len(t, lines(t, plain+"\ncriteria { voids none; blisters none; burrs none; adhesion \"tape\" }"), 1)
}

func TestEachThingToMeasure(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"board b class 2", "Class | the board | class 2 of IPC-6012 | the text | "},
		// The text's own copper, else the class's: as the notes have it.
		{"plating w along south net G copper 25 um least 20 um", "Copper on the wall, at three heights | w, south | average 25 µm, no spot under 20 µm | the text | top middle bottom"},
		{"board b class 3\nplating w along south net G copper 30 um", "Copper on the wall, at three heights | w, south | average 30 µm, no spot under 20 µm | the text, class 3 of IPC-6012 | top middle bottom"},
		{"board b class 2\nplating w along south net G", "Copper on the wall, at three heights | w, south | average 20 µm, no spot under 18 µm | class 2 of IPC-6012 | top middle bottom"},
		{"plating w along south net G wrap top 0.8 mm", "Wrap on the top face, from the profile inward | w | 0.8 mm | the text | "},
		{"plating w along south net G\ncriteria voids maximum 1.5 mm", "Voids: count and largest | plated walls and wraps | at most 1.5 mm | the text | count largest"},
		{"plating w along south net G\ncriteria burrs none", "Nodules and burrs: largest | plated walls and wraps | none | the text | "},
		{"plating w along south net G\ncriteria blisters none", "Blisters: count and largest | plated walls and wraps | none | the text | count largest"},
		{"plating w along south net G\ncriteria adhesion \"tape test.\"", "Adhesion, on wall and wrap | plated walls and wraps | tape test | the text | wall wrap"},
		{"plating w along south net G finish ENIG thickness 4 um, 0.05 um", "Finish on the wall | w | ENIG, 4 µm, 0.05 µm from the copper outward | the text | "},
		{"plating w along south net G\nplane on top net G pullback 1 mm", "Tie to layer top, in section | w | joined | the text | "},
		{"plating w along south from 10 mm to 20 mm net G\ntolerance gaps 0.2 mm", "Ends of a plated stretch | w 1: (10, 0) and (20, 0) | ± 0.2 mm along the edge | the text | start end"},
		{"plating w along south from 10 mm to 20 mm net G", "Ends of a plated stretch | w 1: (10, 0) and (20, 0) | there; no tolerance is stated | the text | start end"},
		{"cutout c circle 5 mm at (30 mm, 20 mm)\nplating w along c.rim net G", "Plated all round | w 1, c | no bare place | the text | "},
		{"tab t on south at 30 mm width 3 mm solid removal rout by shop within 0.15 mm", "Scar of a tab: length, and what stands out or is missing | t, south at (30, 0) | 3 mm along the edge, out or in by at most 0.15 mm | the text | length out"},
		{"castellation h on south from 10 mm to 14 mm pitch 2 mm hole 0.8 mm land 1.2 mm by 1 mm net G\ntolerance half_holes 0.1 mm", "Half holes: diameter | h, south, 3 from (10, 0) to (14, 0) | ⌀0.8 mm ± 0.1 mm | the text | least most"},
		{"castellation h on south at 10 mm hole 0.8 mm land 1.2 mm by 1 mm net G burrs bottom\ncriteria burrs maximum 0.1 mm", "Half holes: burr of the cut | h, south at (10, 0) | on the bottom face alone, at most 0.1 mm | the text | face height"},
		{"castellation h on south at 10 mm hole 0.8 mm land 1.2 mm by 1 mm net G finish OSP", "Half holes: finish | h, south at (10, 0) | OSP | the text | "},
		{"plating w along south net G wrap top 0.8 mm\nrelief r over w on top reach 0.9 mm\ntolerance mask 0.075 mm", "Mask edge on the top face | r, over w | 0.9 mm from the profile; 0.075 mm past the copper's ends, ± 0.075 mm | the text; common practice | "},
		{"plating w along south net G wrap top 0.8 mm\nrelief r over w on top margin 0.1 mm", "Mask edge on the top face | r, over w | 0.1 mm past the copper, inward and past its ends | the text | "},
		{"tolerance outline 0.13 mm", "Outline: size over all | the board | 60 by 40 mm ± 0.13 mm | the text | x y"},
		{"board b thickness 1.6 mm\ntolerance thickness 10 %", "Finished thickness | the board | 1.6 mm ± 10 % | the text | "},
		{"criteria bow maximum 0.75 %", "Bow and twist | the board | at most 0.75 % | the text | bow twist"},
		{"cutout c slot 12 mm by 3 mm at (30 mm, 20 mm)\ntolerance cutouts 0.1 mm", "Cutout: size | c at (30, 20) | 12 by 3 mm ± 0.1 mm | the text | least most"},
		{"hole m diameter 3.2 mm at (5 mm, 5 mm), (55 mm, 5 mm) unplated\ntolerance holes 0.08 mm", "Hole, unplated: diameter | m at (5, 5), (55, 5) | ⌀3.2 mm ± 0.08 mm | the text | least most"},
		{"hole m diameter 3.2 mm at (5 mm, 5 mm) unplated\ntolerance position 0.1 mm", "Holes: place, the one farthest off | the board | ± 0.1 mm from where the drawing's tables have it | the text | x y"},
		{"castellation h on south at 10 mm hole 0.8 mm land 1.2 mm by 1 mm net G\ntolerance position 0.1 mm", "Half holes: place, the one farthest off | the board | ± 0.1 mm from where the drawing's tables have it | the text | x y"},
		{"cutout c circle 5 mm at (30 mm, 20 mm)\ntolerance position 0.1 mm", "Cutouts: place, the one farthest off | the board | ± 0.1 mm from where the drawing's tables have it | the text | x y"},
		{"criteria sample \"every board\"", "Boards to measure | the board | every board | the text | "},
		{"criteria electrical_test all", "Electrical test | the board | every board | the text | "},
	} {
		assert.Contains(t, lines(t, plain+"\n"+c.text), c.want)
	}
}

// A resistance is measured where a limit tells the wall from none, and that is the
// notes' own limit.
func TestContinuityIsTheNotes(t *testing.T) {
	text := "board b thickness 1.6 mm\n" + plain + "\nplating w along south net G copper 25 um"
	b := of(t, text)
	m, ok := figures.Conduct(b).Continuity(b.Platings()[0])
	require.True(t, ok)
	require.True(t, m.Tells())
	o := usual
	o.Continuity = []figures.Continuity{m}
	var got article.Line
	for _, l := range article.Make(b, o) {
		if strings.HasPrefix(l.What, "Resistance") {
			got = l
		}
	}
	assert.Equal(t, article.Computed, got.By)
	said := strings.Join(notes.Texts(notes.Make(b, notes.Figures{Continuity: o.Continuity})), "\n")
	assert.Contains(t, said, got.Limit)
	b = of(t, text+"\ncriteria continuity maximum 40 mohm")
	m, _ = figures.Conduct(b).Continuity(b.Platings()[0])
	o.Continuity = []figures.Continuity{m}
	list := article.Make(b, o)
	assert.Contains(t, list, article.Line{What: "Resistance along the wall, four-wire, at 20 °C", Where: "w 1, from (0, 0) to (60, 0)", Limit: "at most 40 mohm", By: article.TheText})
}

var number = regexp.MustCompile(`\d+(\.\d+)?`)

var figure = regexp.MustCompile(`\d+(\.\d+)?( µm| mm| mΩ| %)`)

// Each figure of an example's list is one of its notes' or of its own text's, so
// that no two papers of a package differ.
func TestLimitsAreThoseOfTheNotes(t *testing.T) {
	n := 0
	for _, s := range langtest.Examples(t, "../../..") {
		b := s.Analyze().Board()
		said := strings.Join(notes.Texts(notes.Make(b, notes.Figures{})), "\n")
		for _, table := range drawing.Tables(b, scene.Build(b, usual.MaskMargin), nil) {
			for _, row := range table.Rows {
				cells := strings.Join(row, "; ")
				said += "\n" + cells + "\n" + number.ReplaceAllString(cells, "$0 mm") // as the table's title says
			}
		}
		box := b.Outline().Path.Box()
		thick, _ := b.Thickness()
		said += fmt.Sprintf("\n%g by %g mm, %g mm", (box.Max.X-box.Min.X)/1e6, (box.Max.Y-box.Min.Y)/1e6, thick.Value/1e6)
		for _, l := range article.Make(b, usual) {
			for _, f := range figure.FindAllString(l.Limit, -1) {
				n++
				assert.True(t, regexp.MustCompile(`(^|[^\d.])`+regexp.QuoteMeta(f)).MatchString(said), "%s: %s: %q is in no note", s.Name(), l.What, f)
			}
		}
	}
	assert.Greater(t, n, 300)
}

// Whatever a text says, the list is made.
func TestNoTextStopsTheList(t *testing.T) {
	langtest.EveryText(t, "../../..", func(path string, a *lang.Analysis) {
		for _, l := range article.Make(a.Board(), usual) {
			assert.NotEmpty(t, l.Limit, "%s: %s", path, l.What)
			assert.NotEmpty(t, l.By, "%s: %s", path, l.What)
		}
	})
}
