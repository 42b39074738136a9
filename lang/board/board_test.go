package board_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/source"
)

// What texts mean is stated by the texts in lang/testdata; here are the
// questions that a model answers about itself.

const mm = 1e6

func build(t require.TestingT, text string) *board.Board {
	a := lang.Analyze(source.New("a.hem", text), nil, nil)
	for _, f := range a.Findings() {
		require.Fail(t, f.Message, text)
	}
	return a.Board()
}

// outlines are of every kind of profile.
var outlines = []string{
	"outline rectangle 20 mm by 10 mm\n",
	"outline rectangle 20 mm by 10 mm corner 2 mm\n",
	"outline rectangle 20 mm by 10 mm corner 5 mm\n",
	"outline circle 15 mm\n",
	"outline { start (0 mm, 0 mm); line a to (20 mm, 0 mm); arc b to (20 mm, 10 mm) around (20 mm, 5 mm); line c to (0 mm, 10 mm); arc d to (0 mm, 0 mm) around (0 mm, 5 mm) clockwise }\n",
	"outline { start (0 mm, 0 mm); arc d to (0 mm, 10 mm) around (0 mm, 5 mm); line c to (20 mm, 10 mm); line b to (20 mm, 0 mm); close a }\n",
	"outline { start (5 mm, 0 mm); arc ring to (5 mm, 0 mm) around (0 mm, 0 mm) clockwise }\n",
	"outline { start (0 mm, 0 mm); line a to (20 mm, 0 mm) corner 2 mm; line b to (20 mm, 10 mm); line c to (0 mm, 10 mm) corner 1 mm; close d corner 3 mm }\n",
	"outline { start (0 mm, 0 mm); line d to (0 mm, 10 mm) corner 1 mm; line c to (20 mm, 10 mm); line b to (20 mm, 0 mm) corner 2 mm; close a corner 3 mm }\n",
}

const cutouts = "cutout box rectangle 3 mm by 2 mm corner 0.5 mm at (8 mm, 5 mm)\ncutout bore circle 2 mm at (11 mm, 5 mm)\ncutout way slot 4 mm by 1 mm turned 30 deg at (15 mm, 5 mm)\n"

func TestPositionsAndDistancesAlongThePathAreInverse(t *testing.T) {
	for _, outline := range outlines {
		for _, e := range build(t, outline+cutouts).Edges() {
			from, to := e.Base, e.Base+e.To-e.From
			for i := range 11 {
				position := from + (to-from)*float64(i)/10
				along := e.Along(position)
				assert.InDelta(t, position, e.Position(along), board.Tolerance, e.Name)
				assert.InDelta(t, 0, e.Point(position).Dist(e.Profile.Path.At(along)), board.Tolerance, e.Name)
				if i > 0 && i < 10 {
					assert.Same(t, e, e.Profile.EdgeAt(along), e.Name)
				}
			}
			a, b := e.Range(from, to)
			assert.Less(t, a, b+board.Tolerance, e.Name)
			assert.InDelta(t, to-from, b-a, board.Tolerance, e.Name)
		}
	}
}

// One step inward is on the board, one step outward is not.
func TestInward(t *testing.T) {
	for _, outline := range append(outlines[:3:3], outlines[4], outlines[5], outlines[7], outlines[8]) {
		b := build(t, outline+cutouts)
		region, ok := b.Region()
		require.True(t, ok)
		for _, e := range b.Edges() {
			if e.To-e.From < mm {
				continue
			}
			at, in := e.Point(e.Length*0.4), e.Inward(e.Length*0.4)
			assert.InDelta(t, 1, in.Norm(), 1e-9, e.Name)
			assert.True(t, region.Contains(at.Add(in.Scale(mm/100))), e.Name)
			assert.False(t, region.Contains(at.Add(in.Scale(-mm/100))), e.Name)
		}
	}
}

func TestARoundedCornerIsNoEdges(t *testing.T) {
	b := build(t, outlines[1])
	south := b.Edge("south")
	assert.Nil(t, b.Outline().EdgeAt(south.To+mm))
	assert.Same(t, south, b.Outline().EdgeAt(south.To))
	assert.Same(t, south, b.Outline().EdgeAt(south.From+b.Outline().Path.Perimeter()), "distances go round")
	assert.Same(t, b.Edge("west"), b.Outline().EdgeAt(south.From-b.Outline().Corners[3].To+b.Outline().Corners[3].From))
}

// What Near leaves out is out of reach.
func TestNearLeavesNothingOut(t *testing.T) {
	var profiles []*board.Profile
	for _, outline := range outlines {
		profiles = append(profiles, build(t, outline+cutouts).Profiles()...)
	}
	rapid.Check(t, func(t *rapid.T) {
		p := profiles[rapid.IntRange(0, len(profiles)-1).Draw(t, "profile")]
		coordinate := rapid.Float64Range(-8*mm, 25*mm)
		box := geom.BoxOf(geom.Point{X: coordinate.Draw(t, "x0"), Y: coordinate.Draw(t, "y0")}, geom.Point{X: coordinate.Draw(t, "x1"), Y: coordinate.Draw(t, "y1")})
		reach := rapid.Float64Range(0, 5*mm).Draw(t, "reach")
		var near geom.Intervals
		p.Near(box, reach, func(from, to float64) { near = append(near, geom.Interval{From: from, To: to}) })
		for i := range 400 {
			along := p.Path.Perimeter() * float64(i) / 400
			at := p.Path.At(along)
			if geom.BoxOf(at).DistanceTo(box) > reach {
				continue
			}
			found := false
			for _, r := range near {
				found = found || r.From-1 <= along && along <= r.To+1
			}
			require.True(t, found, "%v at %v is within %v of %v, not in %v", at, along, reach, box, near)
		}
	})
}

// walls are texts with many stretches of several platings, overlapping.
func walls() *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		text := rapid.SampledFrom(outlines).Draw(t, "outline")
		edges := build(t, text).Edges()
		stretch := func() string {
			e := rapid.SampledFrom(edges).Draw(t, "edge")
			a := rapid.Float64Range(0, 0.9).Draw(t, "from") * e.Length
			b := math.Min(a+rapid.Float64Range(0.001, 0.4).Draw(t, "long")*e.Length, e.Length)
			return fmt.Sprintf("%s from %.6f mm to %.6f mm", e.Name, a/mm, math.Floor(b)/mm)
		}
		var b strings.Builder
		b.WriteString(text)
		for i := range rapid.IntRange(1, 4).Draw(t, "platings") {
			fmt.Fprintf(&b, "plating p%d { net GND", i)
			for range rapid.IntRange(1, 4).Draw(t, "along") {
				b.WriteString("; along " + stretch())
			}
			b.WriteString(" }\n")
			for j := range rapid.IntRange(0, 3).Draw(t, "gaps") {
				fmt.Fprintf(&b, "gap g%d_%d of p%d on %s\n", i, j, i, stretch())
			}
		}
		return b.String()
	})
}

// What is searched for in a range is what looking at every stretch finds.
func TestStretchesInARange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := build(t, walls().Draw(t, "text"))
		w, l := b.Wall(b.Outline()), b.Outline().Path.Perimeter()
		from := rapid.Float64Range(0, 1).Draw(t, "from") * l
		to := from + rapid.Float64Range(0, 0.5).Draw(t, "long")*l
		touches := func(s board.Stretch) int {
			for _, shift := range []float64{-l, 0, l} {
				if s.From <= to+shift+board.Tolerance && s.To >= from+shift-board.Tolerance {
					return 1
				}
			}
			return 0
		}
		for _, c := range []struct {
			what string
			list []board.Stretch
			in   func(from, to float64, visit func(board.Stretch))
		}{{"plated", w.Plated, w.PlatedIn}, {"bare", w.Bare, w.BareIn}} {
			found := map[board.Stretch]int{}
			c.in(from, to, func(s board.Stretch) { found[s]++ })
			for _, s := range c.list {
				assert.Equal(t, touches(s), found[s], "%s %v", c.what, s)
				delete(found, s)
			}
			assert.Empty(t, found)
		}
	})
}

// Plated and bare stretches share the profile between them.
func TestAWallIsWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := build(t, walls().Draw(t, "text"))
		w, l := b.Wall(b.Outline()), b.Outline().Path.Perimeter()
		bare := 0.0
		for _, s := range w.Bare {
			bare += s.Length()
			assert.Nil(t, s.Plating)
			assert.InDelta(t, 0, board.Overlap(w, s.From, s.To), 1, "nothing plated within a bare stretch")
		}
		assert.InDelta(t, l, bare+w.Share*l, 1)
		sum, once := 0.0, 0.0
		for _, p := range b.Platings() {
			for s := range b.PlatedBy(p) {
				sum += s.Length()
			}
			once += b.PlatedLength(p)
		}
		assert.InDelta(t, w.Share*l, once, 1, "each part counts once")
		f := b.Finished(b.Outline())
		assert.InDelta(t, w.Share, f.Share, 1e-9)
		assert.Equal(t, w.Bare, f.Bare)
		assert.InDelta(t, once, board.Overlap(f, 0, l), 1)
		assert.GreaterOrEqual(t, sum, w.Share*l-1)
		assert.InDelta(t, sum, board.Overlap(w, 0, l), 1, "over the whole path each plating counts")
		for i := 1; i < len(w.Plated); i++ {
			assert.LessOrEqual(t, w.Plated[i-1].From, w.Plated[i].From, "in order of their starts")
		}
	})
}

func TestOverlapRunsOverThePathsStart(t *testing.T) {
	b := build(t, outlines[0]+"plating w { along west south; net GND }\n")
	w := b.Wall(b.Outline())
	assert.InDelta(t, 7*mm, board.Overlap(w, 55*mm, 62*mm), 1, "5 mm of west and 2 mm of south")
	assert.InDelta(t, 7*mm, board.Overlap(w, -5*mm, 2*mm), 1)
	assert.InDelta(t, 2*mm, board.Overlap(w, 18*mm, 25*mm), 1)
	assert.InDelta(t, 0, board.Overlap(w, 22*mm, 45*mm), 1)
}

func TestSegmentsAndBandsOfAStretch(t *testing.T) {
	b := build(t, outlines[0]+"plating w { along west south; net GND; wrap top 1 mm; wrap bottom 0 mm }\ncutout o rectangle 4 mm by 2 mm at (10 mm, 5 mm)\nplating v { along o.south; net GND; wrap top 1 mm }\n")
	s := b.Wall(b.Outline()).Plated[0]
	require.Len(t, s.Segments(), 2)
	assert.Equal(t, geom.Point{Y: 10 * mm}, s.Segments()[0].A)
	assert.Equal(t, geom.Point{X: 20 * mm}, s.Segments()[1].B)
	assert.Empty(t, s.Band(board.Bottom), "no wrap, no copper")
	w, v := b.PlatingNamed("w"), b.PlatingNamed("v")
	assert.InDelta(t, 29, b.WrapArea(w, board.Top)/mm/mm, 1e-6, "30 mm of wall less the corner's square millimetre that both strips cover")
	assert.Zero(t, b.WrapArea(w, board.Bottom))
	assert.InDelta(t, 4, b.WrapArea(v, board.Top)/mm/mm, 1e-6)
	narrow := build(t, "outline rectangle 20 mm by 0.8 mm\ncutout o rectangle 4 mm by 0.2 mm at (10 mm, 0.4 mm)\nplating w { along south; net GND; wrap top 1 mm }\n")
	assert.InDelta(t, 20*0.8-4*0.2, narrow.WrapArea(narrow.PlatingNamed("w"), board.Top)/mm/mm, 1e-6, "nothing past the far edge, nothing in a cutout")
	box := b.Wall(b.Profiles()[1]).Plated[0].Band(board.Top)[0].Box()
	assert.Equal(t, geom.Box{Min: geom.Point{X: 8 * mm, Y: 3 * mm}, Max: geom.Point{X: 12 * mm, Y: 4 * mm}}, box, "away from the opening")
}

func TestOpeningsAreThoseOfThePlatingsProfiles(t *testing.T) {
	b := build(t, outlines[0]+cutouts+"plating w { along all; along way.rim; net GND }\nplating v { along bore.rim; net GND }\n"+
		"gap g of w on south at middle width 2 mm\ngap h of v on bore.rim at 1 mm width 1 mm\ngap i of w on way.rim at 1 mm width 1 mm\ngap j of w on way.rim at 3 mm width 1 mm\n")
	assert.Equal(t, 3, b.OpeningCount(b.PlatingNamed("w")), "at g on the outline, at i and j on the slot")
	assert.Equal(t, 1, b.OpeningCount(b.PlatingNamed("v")), "at h; no other wall's")
	assert.True(t, b.Plated())
	assert.False(t, build(t, outlines[0]).Plated())
}

func TestLayersByNameAndByFace(t *testing.T) {
	b := build(t, "stack { copper comp 35 um; dielectric core 1 mm; copper top 35 um; dielectric fill 1 mm; copper solder 35 um }\n")
	assert.Equal(t, []string{"comp", "top", "solder"}, b.CopperLayers())
	assert.Equal(t, "comp", b.OuterLayer(board.Top))
	assert.Equal(t, "solder", b.OuterLayer(board.Bottom))
	for layer, want := range map[string]string{"comp": "top", "solder": "bottom", "bottom": "bottom", "top": "", "core": ""} {
		f, ok := b.FaceOf(layer)
		assert.Equal(t, want != "", ok, layer)
		if ok {
			assert.Equal(t, want, f.String(), layer)
		}
	}
	assert.True(t, b.SameLayer("bottom", "solder"))
	assert.False(t, b.SameLayer("top", "comp"), "a layer named top is that layer")

	b = build(t, "board b { thickness 1 mm }\n")
	assert.Empty(t, b.CopperLayers())
	assert.Equal(t, "top", b.OuterLayer(board.Top))
	assert.True(t, b.SameLayer("top", "top"))
	assert.False(t, b.SameLayer("top", "bottom"))
}

func TestNamedItems(t *testing.T) {
	b := build(t, outlines[0]+"plating w { along south; net GND }\nconnector c on west at middle { body 2 mm }\ncastellation r on east at middle hole 1 mm land 2 mm by 2 mm\nlet a = 2 mm\nlet b = a\n")
	assert.Equal(t, "w", b.PlatingNamed("w").Name.Text)
	assert.Equal(t, "c", b.ConnectorNamed("c").Name.Text)
	assert.Equal(t, "r", b.CastellationNamed("r").Name.Text)
	assert.Nil(t, b.PlatingNamed("c"))
	assert.Nil(t, b.ConnectorNamed("w"))
	assert.Nil(t, b.CastellationNamed("w"))
	assert.Equal(t, "south", b.Edge("south").Name)
	assert.Nil(t, b.Edge("bore.rim"))
	assert.Equal(t, map[string]bool{"a": true}, b.ReadNames())
	assert.Equal(t, 2, b.States("let"))
	assert.Zero(t, b.States("tab"))
	_, ok := b.Thickness()
	assert.False(t, ok)
	_, ok = build(t, "let a = 1\n").Region()
	assert.False(t, ok)
}

// An acceptance speaks of what is on one item alone, or with `with` of what is
// between two, in either order; a row's name stands for each of its members.
func TestWhatAnAcceptanceSpeaksOf(t *testing.T) {
	name := func(text string) board.Name {
		return board.Name{Text: text, At: source.Place{Anchor: &source.Anchor{}}}
	}
	for _, c := range []struct {
		on, with string
		items    []string
		want     bool
	}{
		{"a", "", []string{"a"}, true},
		{"a", "", []string{"b"}, false},
		{"a", "", []string{"a", "b"}, false},
		{"a", "", nil, false},
		{"a", "b", []string{"a"}, false},
		{"a", "b", []string{"a", "b"}, true},
		{"a", "b", []string{"b", "a"}, true},
		{"a", "b", []string{"a", "a"}, false},
		{"a", "b", []string{"a", "c"}, false},
		{"a", "a", []string{"a", "a"}, true},
		{"t", "", []string{"t.1"}, true},
		{"t", "", []string{"t.12"}, true},
		{"t", "", []string{"t."}, false},
		{"t", "", []string{"t.rim"}, false},
		{"t", "", []string{"t.1.rim"}, false},
		{"t", "", []string{"tt"}, false},
		{"t.1", "", []string{"t"}, false},
		{"t.1", "", []string{"t.1"}, true},
		{"t.1", "", []string{"t.12"}, false},
		{"t", "w", []string{"w", "t.3"}, true},
		{"t.2", "w", []string{"w", "t.3"}, false},
	} {
		a := &board.Acceptance{}
		if c.with != "" {
			a.With = name(c.with)
		}
		assert.Equal(t, c.want, a.Accepts(name(c.on), c.items), "on %s with %q: %q", c.on, c.with, c.items)
	}
}
