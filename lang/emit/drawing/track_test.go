package drawing

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/board"
	"hemline/lang/emit/scene"
	"hemline/lang/geom"
)

func TestNamesWithinAMicrometreShareAText(t *testing.T) {
	at := func(x, y float64, text string) label { return label{at: geom.Point{X: x, Y: y}, text: text} }
	texts := func(list ...label) (out []string) {
		for _, l := range merged(list) {
			out = append(out, l.text)
		}
		return out
	}
	assert.Equal(t, []string{"a, b"}, texts(at(500, 500, "a"), at(600, 600, "b")))
	assert.Equal(t, []string{"a, b"}, texts(at(999, -1, "a"), at(1001, 1, "b")), "on either side of whole micrometres")
	assert.Equal(t, []string{"a, b"}, texts(at(1001, 1, "a"), at(999, -1, "b")))
	assert.Equal(t, []string{"a", "b"}, texts(at(0, 0, "a"), at(1000, 0, "b")), "a micrometre apart")
	assert.Equal(t, []string{"a, c", "b"}, texts(at(0, 0, "a"), at(1500, 0, "b"), at(900, 0, "c")), "of two the first")
	assert.Equal(t, []string{"a, c", "b"}, texts(at(1500, 0, "a"), at(0, 0, "b"), at(900, 0, "c")), "of two the first")
	assert.Equal(t, []string{"south wall", "north wall", "x"}, texts(at(0, 0, "south wall"), at(0, 0, "north wall"), label{text: "x", ordinate: true}), "too long together; ordinates stand alone")
}

// What several reliefs take off over one plating counts together, and a line in
// a cutout runs as close as its narrowest asks.
func TestWhatIsFoundOfEachPlatingAndProfile(t *testing.T) {
	b := read(t, `board b { thickness 1 mm }
outline rectangle 60 mm by 40 mm
cutout way slot 10 mm by 2 mm at (30 mm, 20 mm)
plating p { along south; net G; wrap top 1 mm; wrap bottom 1 mm }
relief wide over p on top reach 2 mm
relief small over p on top reach 1 mm
relief other over p on bottom reach 1.5 mm
`)
	a := author{b: b, scene: scene.Build(b, 0)}
	a.collect()
	list := a.opened("p")
	assert.InDelta(t, 2*mm, list[board.Top].reach, 1)
	assert.InDelta(t, 1.5*mm, list[board.Bottom].reach, 1)
	assert.Zero(t, a.opened("way"))
	v := view{a: &a, k: 2}
	assert.InDelta(t, 0.3*2*2, v.apartFrom(b.Cutouts()[0].Profile), 1e-9)
	assert.InDelta(t, apart, v.apartFrom(b.Outline()), 1e-9)
}

// The table of planes says which rectangles they are cut to, where any is.
func TestTableOfPlanes(t *testing.T) {
	table := func(text string) (string, [][]string) {
		b := read(t, "outline rectangle 60 mm by 40 mm\nplating p { along south; net G }\n"+text)
		x := (&author{b: b, scene: scene.Build(b, 0)}).planes()
		return strings.Join(x.head, ", "), x.rows
	}
	const head = "layer, net, off a bare edge, at the walls that it joins"
	says, rows := table("plane on top net G pullback 0.5 mm\n")
	assert.Equal(t, head, says)
	assert.Equal(t, [][]string{{"top", "G", "0.5", "runs to p"}}, rows)
	says, rows = table("plane on top net G pullback 0.5 mm within (20 mm, 40 mm) to (0 mm, 0.5 mm)\nplane on bottom net G pullback 0.5 mm\n")
	assert.Equal(t, head+", from corner to corner", says)
	assert.Equal(t, [][]string{{"top", "G", "0.5", "–", "0, 0.5 to 20, 40"}, {"bottom", "G", "0.5", "runs to p", "all of the layer"}}, rows)
}

// In a section a plane lies whose rectangle comes to the wall.
func TestPlanesOfASection(t *testing.T) {
	for within, want := range map[string]bool{"": true, " within (0 mm, 0 mm) to (9 mm, 9 mm)": true, " within (0 mm, 1 mm) to (9 mm, 9 mm)": false} {
		b := read(t, "outline rectangle 60 mm by 40 mm\nplating p { along south; net G }\nplane on top net V pullback 0.5 mm"+within+"\n")
		a := author{b: b, scene: scene.Build(b, 0)}
		assert.Equal(t, want, a.levels(b.Platings()[0], 1.6)[0].plane, within)
	}
}

// The table of openings says how far each really goes, and where.
func TestTableOfOpenings(t *testing.T) {
	b := read(t, `outline rectangle 60 mm by 40 mm
plating p { along south; net G; wrap top 1 mm; wrap bottom 1.2 mm }
castellation c on west at 10 mm hole 1 mm land 1.6 mm by 1.3 mm
relief a over p c on top bottom along south from 3 mm to 9 mm along west
relief b over p on top reach 2 mm margin 0.2 mm
`)
	a := author{b: b, scene: scene.Build(b, 0.1*mm)}
	assert.Equal(t, [][]string{
		{"a", "p c", "south from 3, 0 to 9, 0; west", "top bottom", "1.1, 1.4, 1.3", "0.1"},
		{"b", "p", "all of it", "top", "2", "0.2"},
	}, a.openings().rows)
}

// A body in a detail is as far out as it stands, with its figure.
func TestOverhangInADetail(t *testing.T) {
	b := read(t, `board b { thickness 1 mm }
outline rectangle 60 mm by 40 mm
plating p { along west; net G; wrap top 1 mm; wrap bottom 1 mm }
gap g of p on west at middle width 5 mm for c
connector c on west at middle { body 9 mm overhang 7.3 mm; pin top width 1 mm length 3 mm }
`)
	a := author{b: b, scene: scene.Build(b, 0)}
	a.collect()
	var said []string
	for _, x := range a.detail(a.subjects()[0], 1, []string{"g"}, nil).Texts {
		said = append(said, x.S)
	}
	assert.Contains(t, said, "(7.3)")
}

// Each round of a drawn outline has its own radius.
func TestRadiiOfADrawnOutline(t *testing.T) {
	b := read(t, "outline { start (0 mm, 0 mm); line a to (20 mm, 0 mm) corner 2 mm; line b to (20 mm, 10 mm) corner 3 mm; line c to (0 mm, 10 mm); close d }\n")
	a := author{b: b, scene: scene.Build(b, 0)}
	var texts []string
	for _, l := range a.sizes() {
		if !l.ordinate {
			texts = append(texts, l.text)
		}
	}
	assert.ElementsMatch(t, []string{"(R2)", "(R3)"}, texts)
}
