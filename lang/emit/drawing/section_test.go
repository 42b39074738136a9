package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/board"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
)

// walled is a board whose section and details are worked out by hand in the
// tests below.
const walled = `hem 1
board b { class 3 }
stack {
  copper     top    0.05 mm
  dielectric upper  0.5 mm
  copper     ground 0.05 mm
  dielectric lower  0.5 mm
  copper     bottom 0.05 mm
}
outline rectangle 60 mm by 40 mm
plating wall {
  along  south
  net    GND
  copper 25 um
  wrap   top 0.6 mm
  wrap   bottom 0.8 mm
}
gap g of wall on south at 20 mm width 5 mm
tab t on south at 20 mm width 4 mm perforated hole 0.6 mm pitch 1 mm inset 0.2 mm
gap h of wall on south at 40 mm width 5 mm for rf
connector rf on south at 40 mm { body 9 mm; pin top width 1.2 mm length 3 mm }
castellation row on east from 10 mm to 28 mm pitch 1.8 mm hole 0.8 mm land 1.4 mm by 1.1 mm net GND
relief lid over wall on top reach 0.7 mm
plane on ground net V3 pullback 1.1 mm
plane on bottom net GND pullback 0.3 mm
`

// extents are the boxes of the shapes with an id, on any sheet.
func extents(sheets []*sheet.Sheet, id string) (list []sheet.Rect) {
	for _, s := range sheets {
		for _, x := range s.Shapes {
			if x.ID == id {
				k := sketch{Sheet: sheet.Sheet{Shapes: []sheet.Shape{x}}}
				list = append(list, k.extent())
			}
		}
	}
	return list
}

func words(sheets []*sheet.Sheet) string {
	var list []string
	for _, s := range sheets {
		for _, x := range s.Texts {
			list = append(list, x.S)
		}
	}
	return strings.Join(list, "\n")
}

// The stack is 1.15 mm high and the plane on ground keeps 1.1 mm off. Those are
// the longest: 1.1 mm and a third more at 20:1 are 29 mm wide, at 50:1 too wide.
func TestTheSectionIsToScale(t *testing.T) {
	sheets := drawn(t, read(t, walled), Options{})
	const k = 20
	said := words(sheets)
	require.Contains(t, said, "Section through wall, 20:1")
	wall := extents(sheets, "section.wall")
	require.Len(t, wall, 1)
	assert.InDelta(t, 1.15*k, wall[0].H(), 1e-9, "from face to face")
	assert.InDelta(t, 0.8*k, wall[0].W(), 1e-9, "the wider wrap")
	profile := wall[0].Min.X
	for id, from := range map[string]float64{"section.plane.ground": 1.1, "section.plane.bottom": 0, "section.mask.top": 0.7} {
		found := extents(sheets, id)
		require.Len(t, found, 1, id)
		assert.InDelta(t, from*k, found[0].Min.X-profile, 1e-9, id)
	}
	// From the top: 0.05 + 0.5 mm, then ground's 0.05, which is as thick as it is.
	ground := extents(sheets, "section.plane.ground")[0]
	assert.InDelta(t, 0.55*k, wall[0].Max.Y-ground.Max.Y, 1e-9)
	assert.InDelta(t, 0.05*k, ground.H(), 1e-9)
	assert.Empty(t, extents(sheets, "section.mask.bottom"))
	assert.Empty(t, extents(sheets, "section.plane.top"))
	for _, want := range []string{"ground (50 µm), V3: kept away", "bottom (50 µm), GND: joined", "top (50 µm): no plane", "upper (0.5)", "The text takes no solder mask off on bottom.", "(1.15)", "(25 µm on the wall"} {
		assert.Contains(t, said, want)
	}
	assert.NotContains(t, said, "finish ENIG", "the text says nothing of a finish")
}

func TestSectionsOfPlatingsThatLookAlikeAreOne(t *testing.T) {
	text := strings.Replace(walled, "gap g of", "plating other { along north; net GND; copper 25 um; wrap top 0.6 mm; wrap bottom 0.8 mm }\nrelief lid2 over other on top reach 0.7 mm\ngap g of", 1)
	assert.Contains(t, words(drawn(t, read(t, text), Options{})), "Section through wall other, 20:1")
	text = strings.Replace(text, "wrap bottom 0.8 mm }", "wrap bottom 0.9 mm }", 1)
	said := words(drawn(t, read(t, text), Options{}))
	assert.Contains(t, said, "Section through wall, 20:1")
	assert.Contains(t, said, "Section through other, 20:1")
	assert.NotContains(t, words(drawn(t, read(t, "outline rectangle 9 mm by 9 mm\nplating w { along all; wrap top 1 mm }"), Options{})), "Section", "no thickness")
}

// What a body stands over the board is drawn and measured, what pads a fence has
// and which tab a gap is for is in the tables.
func TestBodiesPadsAndTabsOfGapsAreShown(t *testing.T) {
	text := strings.Replace(walled, "body 9 mm;", "body 9 mm reach 3.7 mm;", 1) + "fence f along west inset 3 mm pitch 2 mm hole 0.3 mm land 0.63 mm\ngap k of wall on south at 55 mm width 3 mm for t\n"
	lines := strings.Split(words(drawn(t, read(t, text), Options{})), "\n")
	for _, want := range []string{"(3.7)", "land", "0.63", "tab t"} {
		assert.Contains(t, lines, want)
	}
	body := extents(drawn(t, read(t, text), Options{}), "detail.body")
	require.Len(t, body, 1)
	assert.InDelta(t, 9, body[0].W()/5, 1e-9, "5:1")
	assert.InDelta(t, 9*0.4+3.7, body[0].H()/5, 1e-9)
	deep := words(drawn(t, read(t, strings.Replace(text, "3.7 mm", "14 mm", 1)), Options{}))
	assert.Contains(t, deep, "Detail of gap h, 2:1", "as far into the board as the body reaches")
	without := strings.Split(words(drawn(t, read(t, walled), Options{})), "\n")
	assert.NotContains(t, without, "(3.7)")
}

// A gap that a tab or a connector opens has no name: the table of gaps says for
// which it is in which plating, and its detail is theirs.
func TestGapsThatAreOpened(t *testing.T) {
	b := read(t, "board b { thickness 1 mm }\noutline rectangle 60 mm by 40 mm\nplating p { along south west; net G; wrap top 0.5 mm; wrap bottom 0.5 mm }\nplating q { along south from 20 mm to 40 mm; net G }\n"+
		"tab t on south at 30 mm width 3 mm solid opens margin 1 mm\ntab s on south at 10 mm width 3 mm solid\ngap g of p on south at 10 mm width 5 mm\nconnector j on west at 20 mm { body 9 mm; pin top width 1 mm length 3 mm; opens span 4 mm bridged }\n")
	said := words(drawn(t, b, Options{}))
	for _, want := range []string{
		"\ng\np\nsouth\n(7.5, 0)\n(12.5, 0)\n(5)\ntab s\n", "\n–\np\nsouth\n(27.5, 0)\n(32.5, 0)\n(5)\ntab t\n", "\n–\nq\nsouth\n(27.5, 0)\n(32.5, 0)\n(5)\ntab t\n",
		"\n–\np\nwest\n(0, 18)\n(0, 22)\n(4)\nconnector j, bridged by it\n",
		"Detail of tab t, ", "in its own gap", "Detail of connector j, ", "In its own gap; how far out", "The connector's metal closes the gap.", "Detail of tab s, ", "in gap g",
	} {
		assert.Contains(t, said, want)
	}
	assert.Equal(t, 1, strings.Count(said, "in its own gap"))
	assert.NotContains(t, said, "own gap; in gap")
	assert.NotContains(t, said, "t, t", "its label stands once")
}

// What is bare once a premetallised tab is cut, what no body bridges, and how a
// fence goes round a rim is in the tables; a plating that runs where another does
// has its section.
func TestTablesTellOfTheFinishedWall(t *testing.T) {
	board := "board b { thickness 1.6 mm }\noutline rectangle 60 mm by 40 mm\nplating wall { along south; net GND; wrap top 0.8 mm }\n"
	tables := func(more string) []string {
		return strings.Split(words(drawn(t, read(t, board+more), Options{})), "\n")
	}

	tab := "cutout c circle 10 mm at (30 mm, 20 mm)\nplating tube { along c.rim; net GND }\ntab t on c.rim at 5 mm width 2 mm solid"
	assert.Contains(t, tables(tab), "yes")
	assert.NotContains(t, tables(tab+" premetallised"), "yes")
	assert.Contains(t, tables(tab+" premetallised"), "in part")
	assert.Contains(t, tables(tab+" premetallised"), "solid, premetallised, root")

	gap := "connector k on south at 30 mm { body 9 mm }\ntab t on south at 30 mm width 2 mm solid\ngap g of wall on south at 30 mm width 4 mm bridged for "
	assert.Contains(t, tables(gap+"k"), "connector k, bridged by it")
	assert.Contains(t, tables(gap+"t"), "tab t")

	fence := "cutout c circle 10 mm at (30 mm, 20 mm)\nfence f along c.rim inset 1 mm pitch "
	assert.Contains(t, tables(fence+"4 mm hole 0.3 mm"), "≤ 4, even")
	assert.Contains(t, tables(fence+"3.708204 mm hole 0.3 mm"), "3.708")

	second := "plating second { along south from 10 mm to 20 mm; net GND; wrap top 0.9 mm }\n"
	assert.Contains(t, tables(second), "Section through second, 20:1")
}

// What a connector's body reaches out is said to be missing only where it is; its
// legs are drawn and measured.
func TestDetailOfAConnectorWithAllItSays(t *testing.T) {
	const board = "board b { thickness 1 mm }\noutline rectangle 60 mm by 40 mm\nplating wall { along south; net GND; wrap top bottom 1 mm }\n" +
		"connector k on south at 30 mm { body 9 mm reach 2 mm%s; pin top width 1 mm length 3 mm; legs top width 1.2 mm length 2.5 mm spacing 7 mm; opens span 4 mm bridged }\n"
	said := words(drawn(t, read(t, fmt.Sprintf(board, " overhang 8 mm")), Options{}))
	assert.Contains(t, said, "In its own gap.")
	assert.NotContains(t, said, "connector; depth not stated")
	assert.NotContains(t, said, "is not stated")
	sheets := drawn(t, read(t, fmt.Sprintf(board, "")), Options{})
	assert.Contains(t, words(sheets), "connector; depth not stated")
	legs := extents(sheets, "detail.leg")
	require.Len(t, legs, 2)
	assert.InDelta(t, 1.2/2.5, legs[0].W()/legs[0].H(), 1e-9)
}

// detailed are the words of a detail's column, and its shapes.
func TestDetailsAreToScale(t *testing.T) {
	sheets := drawn(t, read(t, walled), Options{})
	said := words(sheets)
	for _, want := range []string{
		"Detail of tab t, 10:1", "Perforated; in gap g.", "perforated, 4× ⌀0.6, pitch 1, inset\n0.2",
		"Detail of gap h, 5:1", "For rf; how far out a connector's body reaches is not stated.",
		"Detail of half holes row, 10:1", "(11× ⌀0.8)",
	} {
		assert.Contains(t, said, want)
	}
	sides := extents(sheets, "detail.tab")
	require.Len(t, sides, 1)
	assert.InDelta(t, 4*10, sides[0].W(), 1e-9)

	// Plated on both sides of the gap, whose middle is the tab's.
	middle := (sides[0].Min.X + sides[0].Max.X) / 2
	var left, right int
	for _, w := range extents(sheets, "detail.wrap") {
		switch {
		case math.Abs(middle-w.Max.X-2.5*10) < 1e-6:
			left++
			assert.InDelta(t, 0.6*10, w.H(), 1e-9, "the top's wrap")
		case math.Abs(w.Min.X-middle-2.5*10) < 1e-6:
			right++
		}
	}
	assert.Equal(t, [2]int{1, 1}, [2]int{left, right})

	holes := extents(sheets, "detail.hole")
	require.Len(t, holes, 4, "1 mm apart within 4 mm, each 0.6 mm wide: (4 - 0.6)/1 + 1, cut down")
	for i, h := range holes {
		assert.InDelta(t, 0.6*10, h.W(), 0.05)
		assert.InDelta(t, sides[0].Min.Y-0.2*10, (h.Min.Y+h.Max.Y)/2, 0.05, "into the board")
		if i > 0 {
			assert.InDelta(t, 1*10, h.Min.X-holes[i-1].Min.X, 0.05)
		}
	}
	pins := extents(sheets, "detail.pin")
	require.Len(t, pins, 1)
	assert.InDelta(t, 1.2*5, pins[0].W(), 1e-9)
	assert.InDelta(t, 3*5, pins[0].H(), 1e-9)

	lands := extents(sheets, "detail.land")
	require.Len(t, lands, 3, "the first three")
	assert.InDelta(t, 1.4*10, lands[0].W(), 1e-9)
	assert.InDelta(t, 1.1*10, lands[0].H(), 1e-9)
	assert.InDelta(t, 1.8*10, math.Abs(lands[1].Min.X-lands[0].Min.X), 1e-9)
	for _, h := range extents(sheets, "detail.half") {
		assert.InDelta(t, 0.8*10, h.W(), 0.05)
		assert.InDelta(t, 0.4*10, h.H(), 0.05, "half of it")
	}
}

// A leader's arrow touches the half hole that it speaks of, also where the view
// ends sooner on one side than on the other.
func TestALeaderTouchesItsHalfHole(t *testing.T) {
	b := read(t, "board b { thickness 1 mm }\noutline rectangle 60 mm by 40 mm\ncastellation row on south from 2 mm to 20 mm pitch 1.8 mm hole 0.8 mm land 1.4 mm by 1.1 mm net GND\n")
	a := author{b: b, scene: scene.Build(b, 0)}
	k := a.detail(a.subjects()[0], 1, nil, nil)
	touched := false
	for _, s := range k.Shapes {
		if s.ID != "" || s.Fill != sheet.Black {
			continue
		}
		for _, h := range k.Shapes {
			// An arrow starts at its point; a half hole of 0.8 mm is 8 mm wide at 10:1.
			if one := (&sketch{Sheet: sheet.Sheet{Shapes: []sheet.Shape{h}}}).extent(); h.ID == "detail.half" {
				tip, middle := s.Paths[0].Start, sheet.Point{X: (one.Min.X + one.Max.X) / 2, Y: one.Max.Y}
				touched = touched || math.Abs(math.Hypot(tip.X-middle.X, tip.Y-middle.Y)-4) < 0.01
			}
		}
	}
	assert.True(t, touched)
}

// Tabs that look alike, or are each other's mirror image, share a detail.
func TestDetailsOfKinds(t *testing.T) {
	for name, want := range map[string][]string{
		"receiver":      {"Detail of tabs s.1 s.2 e n.1 n.2 w, 10:1", "Detail of connectors antenna reference if_out,"},
		"beacon_module": {"Detail of tabs n.1 n.2, 5:1", "Detail of tabs s.1 s.2, 10:1", "Detail of half holes left right, 10:1", "Detail of half hole feed, 10:1"},
		"ground_strip":  {"Detail of tabs s.1 s.2 s.3,", "Detail of tabs n.1 n.2 n.3 w e,"},
		"mast_ring":     {"Detail of tabs t.1 t.2 t.3, 10:1"},
	} {
		var found []string
		for _, line := range strings.Split(words(drawn(t, example(t, name), Options{})), "\n") {
			if strings.HasPrefix(line, "Detail of") {
				found = append(found, line)
			}
		}
		require.Len(t, found, len(want), "%s: %v", name, found)
		for i := range want {
			assert.Contains(t, found[i], want[i], name)
		}
	}
}

// A detail of a cutout's edge shows the board below the edge as any other does.
func TestADetailInACutout(t *testing.T) {
	text := "board b { thickness 1 mm }\noutline rectangle 60 mm by 40 mm\ncutout w rectangle 30 mm by 20 mm at (30 mm, 20 mm)\nplating p { along w.south; net G; wrap top 0.5 mm; wrap bottom 0.5 mm }\n" +
		"gap g of p on w.south at 12 mm width 4 mm\ntab t on w.south at 11.5 mm width 2 mm solid\n"
	sheets := drawn(t, read(t, text), Options{})
	tab := extents(sheets, "detail.tab")
	require.Len(t, tab, 1)
	wraps := extents(sheets, "detail.wrap")
	require.Len(t, wraps, 2)
	for _, w := range wraps {
		assert.InDelta(t, tab[0].Min.Y, w.Max.Y, 1e-9, "below the edge that the tab stands on")
	}
	// Seen with the board below, the cutout's south edge keeps its direction:
	// the tab stands 1.5 mm behind the gap's west end and 0.5 mm more before its east end.
	left, right := math.Min(wraps[0].Max.X, wraps[1].Max.X), math.Max(wraps[0].Min.X, wraps[1].Min.X)
	assert.InDelta(t, 0.5*10, tab[0].Min.X-left, 1e-6)
	assert.InDelta(t, 1.5*10, right-tab[0].Max.X, 1e-6)
}

// A detail is as deep as what lies on the face there, and 1.5 mm more.
func TestADetailShowsTheWholeWrap(t *testing.T) {
	high := func(wrap float64) float64 {
		b := read(t, fmt.Sprintf("board b { thickness 1 mm }\noutline rectangle 60 mm by 40 mm\nplating p { along south; net G; wrap top %g mm; wrap bottom 0.5 mm }\ngap g of p on south at 30 mm width 4 mm\n", wrap))
		a := author{b: b, scene: scene.Build(b, 0)}
		k := a.detail(a.subjects()[0], 1, nil, nil)
		return k.extent().H()
	}
	assert.InDelta(t, (2-0.5)*10, high(2)-high(0.5), 1e-9, "at 10:1")
}

func TestTablesSayWhatTheTextSays(t *testing.T) {
	said := words(drawn(t, read(t, walled), Options{}))
	assert.Contains(t, said, "\nground\nV3\n1.1\n–\nbottom\nGND\n0.3\nruns to wall\n")
	// Turned by 90, 210 and 330 degrees: half a turn makes no other slot.
	said = strings.ReplaceAll(words(drawn(t, example(t, "mast_ring"), Options{})), "\n", " ")
	for _, want := range []string{"strap_a slot 8 × 1.6, turned 90° ", "strap_b slot 8 × 1.6, turned 30° ", "strap_c slot 8 × 1.6, turned 150° ", "strap_b (8 × 1.6, 30°)"} {
		assert.Contains(t, said, want)
	}
}

// Where a table is parted, no row is left alone on either side.
func TestPartsOfATable(t *testing.T) {
	whole := table{title: "T", head: []string{"a"}, rows: [][]string{{"1"}, {"2"}, {"3"}, {"4"}, {"5"}}}.block(100)
	head, rest, ok := whole.split(whole.h - 1)
	require.True(t, ok)
	assert.InDelta(t, 2, math.Round((whole.h-head.h)/(lineH+0.8)), 1e-9, "two rows go on, not one")
	assert.InDelta(t, whole.h-3*(lineH+0.8), rest.h, 1e-9)
	_, _, ok = whole.split(nameH + 2*(lineH+0.8))
	assert.False(t, ok, "room for the head and one row")
}

// However many kinds there are, the sheets stay few, and say what is left out.
func TestManyKinds(t *testing.T) {
	text := "board b { thickness 1 mm }\noutline rectangle 400 mm by 40 mm\nplating p { along south; net G; wrap top 0.5 mm; wrap bottom 0.5 mm }\n"
	for i := range 40 {
		text += fmt.Sprintf("gap g%d of p on south at %d mm width %g mm\n", i, 5+9*i, 2+float64(i)/10)
	}
	said := words(drawn(t, read(t, text), Options{}))
	assert.Equal(t, mostDetails, strings.Count(said, "Detail of"))
	assert.Contains(t, said, "Too many kinds of walls, tabs, gaps or half holes to draw each: some are in the tables alone.")
}

// manyWalls is a board of so many platings, no two alike.
func manyWalls(n int) string {
	text := "board b { thickness 1.6 mm }\noutline rectangle 4900 mm by 100 mm\n"
	for i := range n {
		text += fmt.Sprintf("plating w%d { along south from %d mm to %d mm; net N%d; wrap top %g mm; wrap bottom 0.8 mm; copper 25 um }\n", i, 8*i+1, 8*i+7, i, 0.5+float64(i)/1000)
	}
	return text
}

func TestManyWalls(t *testing.T) {
	said := words(drawn(t, read(t, manyWalls(40)), Options{}))
	assert.Equal(t, mostSections, strings.Count(said, "Section through"))
	assert.Contains(t, said, "Too many kinds of walls, tabs, gaps or half holes to draw each: some are in the tables alone.")
}

// Every end of a plated stretch is said: on the faces or in the table.
func TestEveryOrdinateIsSaid(t *testing.T) {
	for _, name := range examples {
		b := example(t, name)
		said := "\n" + words(drawn(t, b, Options{})) + "\n"
		for _, p := range b.Profiles() {
			for _, s := range b.Wall(p).Plated {
				if s.Length() >= p.Path.Perimeter()-board.Tolerance {
					continue
				}
				for _, at := range []float64{s.From, s.To} {
					q := p.Path.At(at)
					assert.Contains(t, said, fmt.Sprintf("\n%g, %g\n", math.Round(q.X/1e3)/1e3+0, math.Round(q.Y/1e3)/1e3+0), name)
				}
			}
		}
	}
}

func BenchmarkMake(b *testing.B) {
	bench := func(name string, model *board.Board, findings int) {
		shapes := scene.Build(model, 0)
		o := Options{}
		for i := range min(findings, len(shapes.Items)) {
			o.Findings = append(o.Findings, Finding{Category: "risky", Rule: "rule", Message: "message", Where: "line 1", Items: []int{i}})
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Make(model, shapes, o); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	bench("receiver", example(b, "receiver"), 0)
	bench("mast_ring", example(b, "mast_ring"), 0)
	bench("600 walls with findings", read(b, manyWalls(600)), 600)
}

// The name of an edge that has no room beside it has a leader to the edge; one that
// stands beside its own edge has none.
func TestNamesOfShortEdgesLeadToThem(t *testing.T) {
	text := "board b { thickness 1 mm }\noutline { start (0 mm, 0 mm); line south to (48 mm, 0 mm); line east to (48 mm, 30 mm); line north_e to (30 mm, 30 mm); line notch_e to (30 mm, 27 mm); line notch_n to (26 mm, 27 mm); line notch_w to (26 mm, 30 mm); line north_w to (0 mm, 30 mm); close west }\n" +
		"plating w { along north_e notch_e notch_n notch_w north_w; net GND; wrap top bottom 1 mm }\nfence f along all inset 1.5 mm pitch 1.2 mm hole 0.3 mm\n"
	sheets := drawn(t, read(t, text), Options{})
	led := 0
	for _, name := range []string{"notch_e", "notch_n", "notch_w"} {
		for _, x := range extents(sheets, "top.edge."+name) {
			led++
			assert.Greater(t, math.Hypot(x.W(), x.H()), 2.0, name)
		}
	}
	assert.Positive(t, led)
	assert.Empty(t, extents(sheets, "top.edge.south"))
}
