package rules

import (
	"slices"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/finding"
)

var planeUntied = &checks.Rule{
	Name: "plane_untied", Group: checks.GroupPlating, Category: finding.Risky,
	Finds:  "A plating's `layers` names a layer where nothing of the wall's net meets it: no plane, or none whose rectangle the wall touches, and on an inner layer no feature, half hole, via or hole on the strip that it has of its own.",
	Why:    "The wall would pass that layer, or have a strip of copper there, without joining anything: the tie that the designer counts on is not there. A tie needs some 0.3 mm of copper that reaches the edge.",
	Source: "common practice, no source; tie width from a rule set that three fabricators share",
	Bad:    layered(plated(append([]string{"layers ground power"}, wholeWraps...)...) + "plane on ground net GND pullback 0.5 mm\n"),
	Good:   layered(plated(append([]string{"layers ground"}, wholeWraps...)...) + "plane on ground net GND pullback 0.5 mm\n"),
	Run: func(p *checks.Pass) {
		for _, pl := range p.Board.Platings() {
			for _, l := range pl.Layers {
				if !tied(p, pl, l.Text) {
					p.Report(l.At, []string{pl.Name.Text}, "layer %s has nothing of net %s for plating %s to join: no plane%s, nor other copper that meets it", l.Text, pl.Net.Text, pl.Name.Text, outOfReach(p.Board, pl, l.Text))
				}
			}
			if !pl.AllLayers {
				continue
			}
			var without []string
			for _, l := range p.Board.CopperLayers() {
				if !tied(p, pl, l) {
					without = append(without, l)
				}
			}
			if len(without) > 0 {
				p.Report(pl.LayersAt, []string{pl.Name.Text}, "plating %s joins all layers, but %s %s nothing of net %s for it to join: no plane, nor other copper that meets it", pl.Name.Text, joined(without), plural(len(without), "has", "have"), pl.Net.Text)
			}
		}
	},
}

// tied tells whether a plating joins anything of its net on a layer: a plane, or
// what meets the strip that it has of its own on an inner one.
func tied(p *checks.Pass, pl *board.Plating, layer string) bool {
	for _, plane := range p.Board.Planes() {
		if p.Board.SameLayer(plane.Layer.Text, layer) && p.Board.Meets(plane, pl) {
			return true
		}
	}
	if !pl.Net.Given() {
		return false
	}
	m := survey(p)
	strips := m.Pieces(func(x *copper.Piece) bool {
		return x.Kind == copper.Strip && x.Item == pl && x.Layers&m.Layer(layer) != 0
	})
	return slices.ContainsFunc(strips, func(x *copper.Piece) bool {
		return m.Touches(x, func(q *copper.Piece) bool {
			return slices.Contains(surface, q.Kind) && q.Net().Text == pl.Net.Text
		})
	})
}

// outOfReach says of the planes of a plating's net on a layer, none of which the
// plating meets, that there are such.
func outOfReach(b *board.Board, pl *board.Plating, layer string) string {
	for _, plane := range b.Planes() {
		if plane.Net.Given() && plane.Net.Text == pl.Net.Text && b.SameLayer(plane.Layer.Text, layer) {
			return " whose rectangle it touches"
		}
	}
	return ""
}
