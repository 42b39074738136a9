package notes_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/emit/notes"
	"hemline/lang/geom"
	"hemline/lang/rout"
)

// What the routs come to is said where they are known: bits, direction, where passes
// end, the last pass, what is left of tabs. Usual bits: 0.8 to 2.4 mm.
func TestBitsAreSaid(t *testing.T) {
	const travel = " Board to the left of travel (conventional, spindle clockwise from above); the shop may turn it."
	for _, c := range []struct{ text, want, not string }{
		{outline, "Bits: ⌀2.4 mm." + travel, "Where plated meets bare"},
		{outline + "cutout a slot 8 mm by 1.6 mm at (20 mm, 15 mm)\ncutout b slot 8 mm by 1.7 mm at (40 mm, 15 mm)", "Bits: ⌀2.4 mm on outline; ⌀1.6 mm on a and b." + travel, "Where plated meets bare"},
		{outline + "cutout a slot 8 mm by 0.75 mm at (20 mm, 15 mm)\nplating w { along a.rim; net GND }", "⌀0.75 mm (finished width) on a.", "Where plated meets bare"},
		{outline + "plating w { along south from 5 mm to 20 mm; net GND }", "Where plated meets bare the middles of the two routs' bits stay D·sin 15° apart (D: the bit), to cross the copper at 30° (our own judgement); a crest of at most 1.7 % of D stands, 4 % in a hollow.", "Bits: none"},
		{"outline rectangle 60 mm by 30 mm\nplating w { along south; net GND }", "Bits: ⌀2.4 mm.", "Where plated meets bare"},
		{"outline {\n start (0 mm, 0 mm)\n line a to (60 mm, 0 mm)\n line b to (60 mm, 30 mm)\n line c to (35 mm, 30 mm)\n line d to (35 mm, 20 mm)\n line e to (33.9 mm, 20 mm)\n line f to (33.9 mm, 30 mm)\n line g to (0 mm, 30 mm)\n close h\n}",
			"Bits: ⌀1 mm.", "⌀2.4"},
	} {
		b := read(c.text)
		said := told(notes.Make(b, notes.Figures{Bits: rout.BitsOf(b, 0.8e6)}), notes.Sequence)
		assert.Contains(t, said, c.want, c.text)
		assert.NotContains(t, said, c.not, c.text)
		assert.NotContains(t, told(notes.Make(b, notes.Figures{}), notes.Sequence), "Bits", c.text)
	}
}

func TestLastPassAndWhatIsLeftOfTabs(t *testing.T) {
	for text, want := range map[string]string{
		"tab a on north at 10 mm, 40 mm width 4 mm solid removal rout by shop within 0.2 mm": "All tabs are routed off last (rout_tabs.xnc) by the shop, to within 0.2 mm of the profile. As the bits leave them: table “Tabs as routed”.",
		"tab a on north at 10 mm width 4 mm solid removal hand":                              "Tab a is broken off by hand. As the bits leave it: table “Tabs as routed”.",
	} {
		b := read(outline + text)
		assert.Contains(t, about(notes.Make(b, notes.Figures{Bits: rout.BitsOf(b, 0.8e6)}), notes.Tabs), want)
		assert.NotRegexp(t, "bits|xnc", about(notes.Make(b, notes.Figures{}), notes.Tabs))
	}
}

// The burr of a half hole is at the flank that the bit comes to first. On the edge the
// passes themselves tell which that is: where the pass over a hole comes from.
func TestFlankOfTheBurr(t *testing.T) {
	const head = "That rout's burr comes into the hole at the flank it meets first: "
	for text, want := range map[string]string{
		outline + "castellation c on south at 10 mm, 14 mm hole 1 mm land 1.6 mm by 1.2 mm\ncastellation d on east at 10 mm hole 1 mm land 1.6 mm by 1.2 mm": head + "west of c; south of d.",
		outline + "castellation c on north at 10 mm hole 1 mm land 1.6 mm by 1.2 mm\ncastellation d on west at 10 mm hole 1 mm land 1.6 mm by 1.2 mm":        head + "east of c; north of d.",
		"outline circle 50 mm\ncastellation c on rim at 0 deg, 90 deg hole 1 mm land 1.6 mm by 1.2 mm":                                                       head + "east of c.2; south of c.1.",
		outline + "cutout w rectangle 20 mm by 10 mm at (30 mm, 15 mm)\ncastellation c on w.south at 10 mm hole 1 mm land 1.6 mm by 1.2 mm":                  head + "east of c.",
	} {
		b := read(text)
		assert.Contains(t, told(notes.Make(b, notes.Figures{Bits: rout.BitsOf(b, 0.8e6)}), notes.HalfHoles), want, text)
		assert.NotContains(t, told(notes.Make(b, notes.Figures{}), notes.HalfHoles), "flank", text)
	}
	ways := map[string]geom.Point{"east": {X: 1}, "north": {Y: 1}, "west": {X: -1}, "south": {Y: -1}}
	for edge, way := range map[string]string{"south": "west", "east": "south", "north": "east", "west": "north"} {
		b := read(outline + "castellation c on " + edge + " at 15 mm hole 1 mm land 1.6 mm by 1.2 mm")
		bits := rout.BitsOf(b, 0.8e6)
		assert.Contains(t, told(notes.Make(b, notes.Figures{Bits: bits}), notes.HalfHoles), head+way+" of c.")
		c := b.Castellations()[0]
		hole, near := c.Edge.Point(c.Centres[0]), false
		for _, p := range bits.Passes(rout.Final) {
			for _, g := range p.Path {
				if q, s, d := g.Nearest(hole); d < 1.3e6 && q.Dist(g.A) > 1e6 {
					near = true
					assert.InDelta(t, -1, g.Tangent(s).Dot(ways[way]), 1e-9, edge)
				}
			}
		}
		assert.True(t, near, edge)
	}
}
