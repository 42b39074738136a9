package scene

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/source"
)

func read(t testing.TB, text string) *lang.Analysis {
	t.Helper()
	return lang.Analyze(source.New("b.hem", text), nil, nil)
}

func example(t testing.TB, path string) *lang.Analysis {
	t.Helper()
	f, err := source.Read(path)
	require.NoError(t, err)
	return lang.Analyze(f, source.Read, nil)
}

// segments are a path's, in nm again.
func segments(p Path) []geom.Segment {
	nm := func(p Point) geom.Point { return geom.Point{X: p.X * mm, Y: p.Y * mm} }
	from := nm(p.Start)
	var list []geom.Segment
	for _, s := range p.Steps {
		g := geom.Line(from, nm(s.To))
		if s.Arc {
			g = geom.ArcAround(from, nm(s.To), nm(s.Centre), s.Clockwise)
		}
		list, from = append(list, g), nm(s.To)
	}
	return list
}

func loopsOf(paths []Path) []*geom.Loop {
	var list []*geom.Loop
	for _, p := range paths {
		list = append(list, geom.NewLoop(segments(p)))
	}
	return list
}

// area is that of a part, mm², cut to the board where the part is.
func area(s *Scene, p Part) float64 {
	groups := [][]*geom.Loop{loopsOf(p.Paths), loopsOf(p.Less), loopsOf(s.Outline), loopsOf(s.Cutouts)}
	return geom.AreaCovered(groups, func(cover []int) bool {
		on := !p.Clipped || cover[2] > 0 && cover[3] == 0
		return on && cover[0] > 0 && cover[1] == 0
	}) / mm / mm
}

func length(paths []Path) float64 {
	sum := 0.0
	for _, p := range paths {
		for _, g := range segments(p) {
			sum += g.Length()
		}
	}
	return sum / mm
}

func find(t testing.TB, s *Scene, id string) Item {
	t.Helper()
	for _, i := range s.Items {
		if i.ID == id {
			return i
		}
	}
	require.Fail(t, "no such item", "%s", id)
	return Item{}
}

func part(t testing.TB, i Item, role Role, side Side) Part {
	t.Helper()
	for _, p := range i.Parts {
		if p.Role == role && p.Side == side {
			return p
		}
	}
	require.Fail(t, "no such part", "%s of %s", role, i.ID)
	return Part{}
}

func number(t testing.TB, i Item, label string) float64 {
	t.Helper()
	for _, f := range i.Facts {
		if f.Label == label {
			return f.Value
		}
	}
	require.Fail(t, "no such fact", "%s of %s", label, i.ID)
	return 0
}

// Whatever the examples hold is drawn as large as the model says it is.
func TestScenesAgreeWithTheModel(t *testing.T) {
	paths, err := filepath.Glob("../../../examples/*.hem")
	require.NoError(t, err)
	broken, err := filepath.Glob("../../../examples/broken/*.hem")
	require.NoError(t, err)
	require.Len(t, append(paths, broken...), 14)
	for _, path := range append(paths, broken...) {
		t.Run(filepath.ToSlash(path), func(t *testing.T) {
			a := example(t, path)
			b, s := a.Board(), Build(a.Board(), 0)
			walls := 0
			for _, p := range b.Platings() {
				i := find(t, s, "plating "+p.Name.Text)
				assert.InDelta(t, b.PlatedLength(p)/mm, length(part(t, i, Plated, Through).Paths), 1e-6)
				assert.InDelta(t, b.PlatedLength(p)/mm, number(t, i, "plated length"), 1e-9)
				assert.InDelta(t, p.Copper.Value/mm, part(t, i, Plated, Through).Width, 1e-12)
				for _, f := range board.Faces {
					if want := b.WrapArea(p, f) / mm / mm; want > 0 {
						assert.InDelta(t, want, area(s, part(t, i, Wrap, sideOf(f))), want*1e-6, "%s %s", p.Name.Text, f)
					}
				}
				walls++
			}
			assert.Positive(t, walls)
			for _, g := range b.Gaps() {
				id := "gap " + g.Name.Text
				if g.Opened() {
					id = g.Title() + " in " + g.Of.Text
				}
				i := find(t, s, id)
				assert.InDelta(t, (g.To-g.From)/mm, length(i.Parts[0].Paths), 1e-6)
				assert.Len(t, i.Ends, 2)
			}
			if r, ok := b.Region(); ok && !strings.Contains(path, "broken") { // whose cutouts leave the board
				assert.InDelta(t, r.Area()/mm/mm, area(s, Part{Paths: s.Outline, Less: s.Cutouts}), 1e-6*r.Area()/mm/mm)
			}
			located(t, a, s)
		})
	}
}

// located tells that every item knows its statement and has an id of its own.
func located(t *testing.T, a *lang.Analysis, s *Scene) {
	t.Helper()
	seen, last := map[string]bool{}, -1
	for n, i := range s.Items {
		assert.False(t, seen[i.ID], "%s comes twice", i.ID)
		seen[i.ID] = true
		file, span, ok := a.Locate(i.Place)
		if !assert.True(t, ok, i.ID) {
			continue
		}
		text := file.Slice(span)
		kind := i.Kind
		if opener, ok := strings.CutPrefix(i.ID, "the gap of "); ok {
			kind, _, _ = strings.Cut(opener, " ")
		}
		assert.True(t, strings.HasPrefix(text, kind), "%s stands at %q", i.ID, text)
		if i.Name != "" {
			row, _, _ := strings.Cut(i.Name, ".") // a member stands where its row does
			assert.Contains(t, text, row)
		}
		assert.GreaterOrEqual(t, span.Start, last, "in the order of the text")
		assert.Contains(t, s.On(i.Place), n)
		assert.True(t, span.Start > last || len(s.On(i.Place)) > 1, "%s shares its statement with its row, or with what opens it", i.ID)
		last = span.Start
		for _, p := range i.Parts {
			for _, path := range p.Paths {
				for _, step := range path.Steps {
					assert.False(t, math.IsNaN(step.To.X) || math.IsInf(step.To.X, 0))
				}
			}
		}
	}
}

const rectangle = "board b { title \"A board\"; revision \"B\"; thickness 1.6 mm }\noutline rectangle 60 mm by 40 mm\n"

func TestWhatEachStatementGives(t *testing.T) {
	s := Build(read(t, rectangle+`
stack { copper top 35 um; dielectric d 0.7 mm; copper ground 35 um; dielectric e 0.7 mm; copper bottom 35 um }
cutout window rectangle 10 mm by 6 mm at (30 mm, 20 mm)
plating wall { along south; net GND; copper 25 um; wrap top 0.8 mm; extend 0.05 mm; layers ground }
gap g1 of wall on south at 20 mm width 4 mm bridged for k
connector k on south at 20 mm { body 9 mm; pin top width 1.3 mm length 4 mm }
connector tall on east at 30 mm { body 9 mm reach 2 mm }
gap g2 of wall on south at 45 mm width 4 mm for t1
relief lid over wall on top reach 0.9 mm margin 0.1 mm
tab t1 on north at 15 mm width 4 mm perforated hole 0.5 mm pitch 0.8 mm inset 0.1 mm
tab t2 on north at 30 mm width 3 mm solid premetallised length 3 mm
tab t3 on south at 40 mm width 6 mm solid premetallised
castellation row on west from 10 mm to 14 mm pitch 2 mm hole 0.8 mm land 1.2 mm by 1.1 mm net A B C
feature c7 on top rectangle 1.6 mm by 0.8 mm at (8 mm, 10 mm) net V3
feature d7 on ground circle 2 mm at (50 mm, 30 mm)
fence stitch along east inset 1.5 mm pitch 2 mm hole 0.3 mm land 0.6 mm net GND
plane on ground net GND pullback 0.5 mm
plane on bottom net V3 pullback 1 mm
`).Board(), 0)
	assert.Equal(t, []string{"A board", "B"}, []string{s.Title, s.Revision})
	assert.InDelta(t, 1.505, s.Thickness, 1e-9, "the stack's sum")
	assert.Equal(t, []string{"ground"}, s.Inner)

	wall := find(t, s, "plating wall")
	assert.InDelta(t, 46, length(part(t, wall, Plated, Through).Paths), 1e-9, "none under tab t3")
	assert.InDelta(t, 6, length(part(t, find(t, s, "tab t3"), Bare, Through).Paths), 1e-9)
	assert.Contains(t, wall.Facts, Fact{Label: "plated length", Value: 46, Unit: "mm"})
	assert.Contains(t, wall.Facts, Fact{Label: "plated share of outline", Value: 23, Unit: "%"})
	assert.InDelta(t, 52*0.8, area(s, part(t, wall, Wrap, Top)), 1e-9)
	assert.Len(t, wall.Parts, 2, "no wrap on the bottom")
	// The openings go on by the margin into the gap, and end at the board's corners.
	assert.InDelta(t, (52+4*0.1)*0.9, area(s, part(t, find(t, s, "relief lid"), Opening, Top)), 1e-9)

	gap := find(t, s, "gap g1")
	assert.Equal(t, []End{{Point{18, 0}, Point{0, 1}}, {Point{22, 0}, Point{0, 1}}}, gap.Ends)
	assert.Equal(t, Point{20, 0}, gap.At)
	assert.Equal(t, Point{0, -1}, gap.Out)
	assert.Equal(t, "bridged by its connector", gap.Of)
	assert.InDelta(t, 4, number(t, gap, "width"), 1e-9)

	k := find(t, s, "connector k")
	assert.InDelta(t, 1.3*4, area(s, part(t, k, Pin, Top)), 1e-9)
	assert.True(t, part(t, k, Body, Through).Nominal)

	// A body that stands over the board is longer by that.
	tall := find(t, s, "connector tall")
	assert.InDelta(t, 9*(9*bodyDepth+2), area(s, part(t, tall, Body, Through)), 1e-9)
	assert.InDelta(t, 2, number(t, tall, "over the board"), 1e-12)
	assert.Contains(t, find(t, s, "gap g1").Facts, Fact{Label: "for", Text: "k"})
	assert.Contains(t, find(t, s, "gap g2").Facts, Fact{Label: "for", Text: "tab t1"})

	t1, t2 := find(t, s, "tab t1"), find(t, s, "tab t2")
	assert.Equal(t, "perforated", t1.Of)
	assert.Equal(t, "solid, premetallised", t2.Of)
	assert.True(t, part(t, t1, Tab, Through).Nominal, "no length is stated")
	assert.False(t, part(t, t2, Tab, Through).Nominal)
	assert.InDelta(t, 9, area(s, part(t, t2, Tab, Through)), 1e-9)
	holes := part(t, t1, Hole, Through).Paths
	assert.Len(t, holes, 5)
	assert.InDelta(t, 39.9, holes[0].Steps[0].Centre.Y, 1e-9, "the inset goes into the board")
	assert.InDelta(t, 15-1.6, holes[0].Steps[0].Centre.X, 1e-9)

	row := find(t, s, "castellation row")
	half := math.Pi * 0.4 * 0.4 / 2
	assert.InDelta(t, 3*half, area(s, part(t, row, HalfHole, Through)), 1e-9)
	assert.InDelta(t, 3*(1.2*1.1-half), area(s, part(t, row, Land, Bottom)), 1e-9)
	assert.Contains(t, row.Facts, Fact{Label: "net", Text: "A B C"})

	assert.InDelta(t, 1.28, area(s, part(t, find(t, s, "feature c7"), Copper, Top)), 1e-9)
	assert.Equal(t, "ground", part(t, find(t, s, "feature d7"), Copper, Inside).Layer)
	assert.Len(t, part(t, find(t, s, "fence stitch"), Via, Through).Paths, 19)

	stitch := find(t, s, "fence stitch")
	for _, side := range []Side{Top, Bottom} {
		assert.InDelta(t, 19*math.Pi*(0.3*0.3-0.15*0.15), area(s, part(t, stitch, Land, side)), 1e-9)
	}
	assert.InDelta(t, 0.6, number(t, stitch, "land"), 1e-12)

	// On ground the plane runs to the plated stretch, but not to the root of tab t3; on the bottom it keeps off everywhere.
	keep := area(s, part(t, find(t, s, "plane bottom"), Plane, Bottom))
	assert.InDelta(t, 58*38-(12*8-(4-math.Pi)*1), keep, 1e-6, "round the cutout's corners by the pullback")
	ground := area(s, part(t, find(t, s, "plane ground"), Plane, Inside))
	assert.InDelta(t, 59*39.5-(8+6)*0.5-(11*7-(4-math.Pi)*0.25), ground, 1e-6)

	assert.Less(t, s.Min.Y, 0.0, "the connector's body belongs to the box")
	assert.InDelta(t, 43, s.Max.Y, 1e-9, "and the tabs")
	south := s.Edges[0]
	assert.Equal(t, Edge{Name: "south", Middle: Point{30, 0}, Out: Point{0, -1}, Way: Point{1, 0}, Length: 60}, south)
	assert.Equal(t, Point{1, 0}, s.Edges[2].Way, "positions on north run east too")
	assert.True(t, s.Edges[4].Cutout)
}

// How much of each profile is plated is said once of each that a plating runs on.
func TestSharesOfEachProfile(t *testing.T) {
	s := Build(read(t, rectangle+`
cutout window rectangle 10 mm by 5 mm at (30 mm, 20 mm)
cutout other rectangle 10 mm by 5 mm at (45 mm, 20 mm)
plating wall { along south; along window.south; along window.north; net GND }
gap g of wall on south at middle width 4 mm
`).Board(), 0)
	var shares []string
	for _, f := range find(t, s, "plating wall").Facts {
		if strings.HasPrefix(f.Label, "plated share") {
			shares = append(shares, f.Label)
		}
	}
	assert.Equal(t, []string{"plated share of outline", "plated share of window"}, shares)
}

// A premetallised tab off the plating bares nothing; over its root the faces'
// planes run on. No tab bridges a gap, and a fence all round a rim stands evenly.
func TestRootsBridgesAndRims(t *testing.T) {
	s := Build(read(t, rectangle+`
cutout c circle 10 mm at (30 mm, 20 mm)
plating wall { along south; net GND; wrap top 0.8 mm }
plane on top net GND pullback 0.5 mm
tab t on north at 20 mm width 4 mm solid premetallised
tab u on south at 20 mm width 4 mm solid premetallised
tab v on south at 40 mm width 2 mm solid
gap g of wall on south at 40 mm width 4 mm for v bridged
fence f along c.rim inset 1 mm pitch 4 mm hole 0.3 mm
fence h along c.rim inset 1 mm pitch 3.708204 mm hole 0.3 mm
`).Board(), 0)
	for _, p := range find(t, s, "tab t").Parts {
		assert.NotEqual(t, Bare, p.Role)
	}
	part(t, find(t, s, "tab u"), Bare, Through)
	assert.Empty(t, find(t, s, "gap g").Of)
	assert.Contains(t, find(t, s, "fence f").Of, ", evenly all round")
	assert.NotContains(t, find(t, s, "fence h").Of, "evenly")
	assert.InDelta(t, 59*39.5-4*0.5-math.Pi*5.5*5.5, area(s, part(t, find(t, s, "plane top"), Plane, Top)), 1e-6, "less the gap")
}

// Arcs stay arcs, from end to end.
func TestArcsStayArcs(t *testing.T) {
	s := Build(example(t, "../../../examples/mast_ring.hem").Board(), 0)
	outline := find(t, s, "outline").Parts[0].Paths
	require.Len(t, outline, 1)
	assert.Len(t, outline[0].Steps, 1)
	assert.True(t, outline[0].Steps[0].Arc)
	tube := part(t, find(t, s, "plating tube"), Plated, Through)
	assert.True(t, tube.Paths[0].Closed)
	for _, p := range part(t, find(t, s, "tab t.1"), Tab, Through).Paths {
		arcs := 0
		for _, step := range p.Steps {
			if step.Arc {
				arcs++
			}
		}
		assert.Equal(t, 2, arcs, "a tab on a round edge follows it")
	}
}

// A plane in a rectangle is what of it lies there: where it runs to a wall of its
// net too, and past no edge.
func TestAPlaneInARectangle(t *testing.T) {
	s := Build(read(t, "outline rectangle 60 mm by 40 mm\ncutout window rectangle 4 mm by 4 mm at (10 mm, 20 mm)\nplating w { along south; net G; wrap top bottom 0.5 mm }\n"+
		"plane on top net G pullback 1 mm within (-5 mm, -5 mm) to (20 mm, 20 mm)\nplane on top net V pullback 2 mm within (30 mm, 0 mm) to (50 mm, 20 mm)\nplane on top net V pullback 2 mm within (59 mm, 0 mm) to (70 mm, 20 mm)\n").Board(), 0)
	// 1 mm off the west edge and the window's half, whose corners' margins are round;
	// along the south edge it runs to the wall.
	assert.InDelta(t, 19*20-6*2-4*1-math.Pi/2, area(s, part(t, find(t, s, "plane top.1"), Plane, Top)), 1e-6)
	assert.InDelta(t, 20*18, area(s, part(t, find(t, s, "plane top.2"), Plane, Top)), 1e-6)
	assert.InDelta(t, 0, area(s, part(t, find(t, s, "plane top.3"), Plane, Top)), 1e-6)
	assert.Contains(t, find(t, s, "plane top.2").Facts, Fact{Label: "within", Text: "(30.00 mm, 0.00 mm) to (50.00 mm, 20.00 mm)"})
	assert.Equal(t, Point{40, 10}, find(t, s, "plane top.2").At)
}

// An item keeps its id through edits around it.
func TestIDsAreStable(t *testing.T) {
	ids := func(text string) string {
		var list []string
		for _, i := range Build(read(t, text).Board(), 0).Items {
			list = append(list, i.ID)
		}
		return strings.Join(list, "; ")
	}
	const gap = "plating w { along south; net G; copper 25 um; wrap top 1 mm; wrap bottom 1 mm }\ngap g of w on south at 9 mm width 3 mm\n"
	assert.Equal(t, "outline; plating w; gap g", ids(rectangle+gap))
	assert.Equal(t, "outline; plating w; gap g; tab t", ids("// more\n\n"+rectangle+gap+"tab t on north at 9 mm width 3 mm solid\n"))
	assert.Equal(t, "outline; plane top.1; plane top.2", ids(rectangle+"plane on top net A pullback 1 mm\nplane on top net B pullback 2 mm\n"))
}

// What tabs and connectors open is shown for each plating, and keeps its id where
// others are opened before it.
func TestGapsThatAreOpened(t *testing.T) {
	const text = "plating w { along south west; net G; wrap top 1 mm }\nplating v { along south from 20 mm to 40 mm; net G }\n" +
		"tab t on south at 30 mm width 3 mm solid opens margin 1 mm\nconnector t on west at 20 mm { body 9 mm; opens w span 4 mm bridged }\n"
	s := Build(read(t, rectangle+text).Board(), 0)
	var ids []string
	for _, i := range s.Items {
		ids = append(ids, i.ID)
	}
	assert.Equal(t, []string{"outline", "plating w", "plating v", "tab t", "the gap of tab t in w", "the gap of tab t in v", "connector t", "the gap of connector t in w"}, ids)
	for id, want := range map[string]struct {
		of, by string
		long   float64
	}{
		"the gap of connector t in w": {"w", "connector t", 4}, "the gap of tab t in w": {"w", "tab t", 5}, "the gap of tab t in v": {"v", "tab t", 5},
	} {
		i := find(t, s, id)
		assert.Equal(t, "gap", i.Kind)
		assert.Contains(t, i.Facts, Fact{Label: "of", Text: want.of}, id)
		assert.Contains(t, i.Facts, Fact{Label: "opened by", Text: want.by}, id)
		assert.InDelta(t, want.long, length(part(t, i, Bare, Through).Paths), 1e-9, id)
	}
	assert.Equal(t, find(t, s, "tab t").Place, find(t, s, "the gap of tab t in v").Place)
	find(t, Build(read(t, rectangle+strings.Replace(text, "south west", "west", 1)).Board(), 0), "the gap of tab t in v")
}

// A text that says little or says it wrongly gives what can be shown.
func TestTextsThatAreNotDone(t *testing.T) {
	for name, c := range map[string]struct {
		text  string
		items string
		empty bool
	}{
		"nothing":              {"", "", true},
		"a board alone":        {"board b { thickness 1 mm }", "", true},
		"no outline":           {"feature f on top circle 1 mm at (0 mm, 0 mm)", "feature f", false},
		"a plane alone":        {"plane on top net G pullback 1 mm", "plane top", true},
		"one broken statement": {rectangle + "gap g of\ntab t on north at 9 mm width 3 mm solid", "outline; tab t", false},
		"a path that is open":  {"outline { start (0 mm, 0 mm); line a to (9 mm, 0 mm); line b to (9 mm, 9 mm) }", "outline", false},
		"an edge unknown":      {rectangle + "tab t on nowhere at 9 mm width 3 mm solid", "outline", false},
		"a plating of nothing": {"plating w { along south; net G; copper 25 um }", "plating w", true},
	} {
		t.Run(name, func(t *testing.T) {
			s := Build(read(t, c.text).Board(), 0)
			var ids []string
			for _, i := range s.Items {
				ids = append(ids, i.ID)
			}
			assert.Equal(t, c.items, strings.Join(ids, "; "))
			assert.Equal(t, c.empty, s.Min == s.Max, "the box")
		})
	}
	open := Build(read(t, "outline { start (0 mm, 0 mm); line a to (9 mm, 0 mm); line b to (9 mm, 9 mm) }").Board(), 0)
	assert.InDelta(t, 9*math.Sqrt2, length(part(t, open.Items[0], Unclosed, Through).Paths), 1e-9)
	assert.Empty(t, open.Outline)
	assert.InDelta(t, 18, length(part(t, open.Items[0], Profile, Through).Paths), 1e-9, "what there is of it is drawn")
	assert.Equal(t, Point{9, 9}, open.Max)
}

// A stretch over the path's start, as on a rim, is drawn in one.
func TestRunsOverTheStartOfARim(t *testing.T) {
	s := Build(read(t, "outline circle 20 mm\nplating w { along rim; net G; copper 25 um; wrap top 1 mm; wrap bottom 1 mm }\n"+
		"gap g of w on rim from 60 mm to 62.5 mm\nrelief r over w on top reach 1.2 mm margin 0.2 mm\n").Board(), 0)
	gap := find(t, s, "gap g")
	assert.InDelta(t, 2.5, length(gap.Parts[0].Paths), 1e-9)
	// 0.2 mm more at each end, along the rim; the band's area is length times the mean radius over the radius.
	opening := (20*math.Pi - 2.5 + 0.4) * 1.2 * (10 - 0.6) / 10
	// Square to the rim the 0.2 mm are wider inside than along the rim: at each end a rectangle
	// of 0.2 mm by 1.2 mm in the circle, less what the band has of it, a ring's sector of
	// 0.02 but for what of that is farther in than the rectangle.
	const inner, end, turn = 10 - 1.2, 0.2, 0.02
	rectangle := end/2*math.Sqrt(100-end*end) + 50*math.Asin(turn) - inner*end
	opening += 2 * (rectangle - ((100-inner*inner)*turn/2 - inner*inner/2*(math.Tan(turn)-turn)))
	assert.InDelta(t, opening, area(s, part(t, find(t, s, "relief r"), Opening, Top)), 1e-6)
}

// rows is a board of so many statements.
func rows(n int) string {
	var b strings.Builder
	b.WriteString("board b { thickness 1.6 mm }\noutline rectangle 16000 mm by 60 mm\nplating wall { along south north; net GND; copper 25 um; wrap top 0.6 mm; wrap bottom 0.6 mm }\nrelief r over wall on top bottom reach 0.7 mm\n")
	for i := range (n - 4) / 4 {
		fmt.Fprintf(&b, "let x%[1]d = %[1]d * 6 mm\ngap g%[1]d of wall on south at x%[1]d + 3 mm width 2 mm\nfeature f%[1]d on top rectangle 1 mm by 2 mm at (x%[1]d, 30 mm)\nfeature k%[1]d on bottom circle 1 mm at (x%[1]d + 3 mm, 40 mm)\n", i)
	}
	return b.String()
}

func BenchmarkBuild(b *testing.B) {
	for _, n := range []int{1000, 10_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			model := read(b, rows(n)).Board()
			b.ReportAllocs()
			for b.Loop() {
				Build(model, 0)
			}
		})
	}
}

// Mask is shown as far off as it is taken off: by the margin handed in where the
// relief says none, on each face as far as its copper, for a part alone.
func TestReliefsAsTheyAre(t *testing.T) {
	s := Build(read(t, rectangle+`plating w { along south; net G; copper 25 um; wrap top 0.5 mm; wrap bottom 0.8 mm }
castellation c on west from 10 mm to 12 mm pitch 2 mm hole 1 mm land 1 mm by 1.5 mm
relief r over w c on top bottom along south from 10 mm to 20 mm along west
relief q over w on top along south from 30 mm to 40 mm reach 1 mm margin 0 mm
`).Board(), 0.1*mm)
	r := find(t, s, "relief r")
	assert.InDelta(t, 10*0.6+2*1.2*1.6, area(s, part(t, r, Opening, Top)), 1e-9)
	assert.InDelta(t, 10*0.9+2*1.2*1.6, area(s, part(t, r, Opening, Bottom)), 1e-9)
	assert.InDelta(t, 0.1, number(t, r, "margin along the edge"), 1e-12)
	assert.InDelta(t, 10*1, area(s, part(t, find(t, s, "relief q"), Opening, Top)), 1e-9)
}

// Lands are shown on the layers that have them, and a row says what it lacks.
func TestLandsOfHalfHoles(t *testing.T) {
	s := Build(read(t, "stack { copper top 35 um; dielectric a 0.5 mm; copper inner 35 um; dielectric b 0.5 mm; copper bottom 35 um }\n"+rectangle+
		"castellation c on west from 10 mm to 17 mm pitch 2 mm except from 12 mm to 12 mm hole 1 mm land 1 mm by 1.5 mm layers top inner burrs top\n").Board(), 0)
	c := find(t, s, "castellation c")
	part(t, c, Land, Top)
	assert.Equal(t, "inner", part(t, c, Land, Inside).Layer)
	for _, p := range c.Parts {
		assert.False(t, p.Role == Land && p.Side == Bottom)
	}
	assert.InDelta(t, 1, number(t, c, "left out"), 0)
	assert.InDelta(t, 1, number(t, c, "ends short by"), 1e-9)
	assert.InDelta(t, 3, number(t, c, "half holes"), 0)
}

// A fence whose vias are not in the artwork yet says so.
func TestFenceThatIsAdded(t *testing.T) {
	facts := func(more string) []Fact {
		return find(t, Build(read(t, rectangle+"fence f along south inset 1 mm pitch 2 mm hole 0.3 mm land 0.6 mm"+more).Board(), 0), "fence f").Facts
	}
	said := Fact{Label: "in the artwork", Text: "not yet"}
	assert.Contains(t, facts(" added"), said)
	assert.NotContains(t, facts(""), said)
}

// A body is drawn as far out as it stands; where the text does not say, by its width,
// and that is nominal.
func TestOverhang(t *testing.T) {
	body := func(more string) (Part, float64) {
		s := Build(read(t, rectangle+"connector c on west at 10 mm { body 10 mm"+more+" }").Board(), 0)
		return part(t, find(t, s, "connector c"), Body, Through), s.Min.X
	}
	p, west := body("")
	assert.True(t, p.Nominal)
	assert.InDelta(t, -4, west, 1e-9)
	p, west = body(" overhang 7 mm")
	assert.False(t, p.Nominal)
	assert.InDelta(t, -7, west, 1e-9)
}
