package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var planeUntied = &checks.Rule{
	Name: "plane_untied", Group: checks.GroupPlating, Category: finding.Risky,
	Finds:  "A plating's `layers` names a layer that has no plane of the wall's net.",
	Why:    "The wall would pass that layer without joining anything: the tie that the designer counts on is not there. A tie needs some 0.3 mm of copper that reaches the edge.",
	Source: "common practice, no source; tie width from a rule set that three fabricators share",
	Bad:    layered(plated(append([]string{"layers ground power"}, wholeWraps...)...) + "plane on ground net GND pullback 0.5 mm\n"),
	Good:   layered(plated(append([]string{"layers ground"}, wholeWraps...)...) + "plane on ground net GND pullback 0.5 mm\n"),
	Run: func(p *checks.Pass) {
		for _, pl := range p.Board.Platings() {
			for _, l := range pl.Layers {
				if !tied(p.Board, pl, l.Text) {
					p.Report(l.At, []string{pl.Name.Text}, "layer %s has no plane of net %s for plating %s to join", l.Text, pl.Net.Text, pl.Name.Text)
				}
			}
			if !pl.AllLayers {
				continue
			}
			var without []string
			for _, l := range p.Board.CopperLayers() {
				if !tied(p.Board, pl, l) {
					without = append(without, l)
				}
			}
			if len(without) > 0 {
				p.Report(pl.LayersAt, []string{pl.Name.Text}, "plating %s joins all layers, but %s %s no plane of net %s", pl.Name.Text, joined(without), plural(len(without), "has", "have"), pl.Net.Text)
			}
		}
	},
}

func tied(b *board.Board, pl *board.Plating, layer string) bool {
	for _, plane := range b.Planes() {
		if plane.Net.Given() && plane.Net.Text == pl.Net.Text && b.SameLayer(plane.Layer.Text, layer) {
			return true
		}
	}
	return false
}
