package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var wrapMissing = &checks.Rule{
	Name: "wrap_missing", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "A plating states no wrap on a face, or one of 0: the copper would end on the board's edge.",
	Why:    "Copper that ends on the edge has nothing to hold on to: the last router pass or the first knock peels it. Every plated edge turns over both faces.",
	Source: "a fabricator's column on edge plating (trade magazine, March 2022, p. 56–58)",
	Bad:    plated("wrap top 0.8 mm"),
	Good:   plated("wrap top 0.8 mm", "wrap bottom 0.8 mm"),
	Run: func(p *checks.Pass) {
		for _, pl := range p.Board.Platings() {
			for _, w := range pl.Wraps() {
				if w.Width.Value == 0 {
					p.Report(w.Width.At, []string{pl.Name.Text}, "the wrap of plating %s on %s is 0: the copper would end on the edge", pl.Name.Text, w.On())
				}
			}
			for _, f := range board.Faces {
				if !pl.Wrap[f].Given() && !pl.Faulty {
					p.Report(pl.Name.At, []string{pl.Name.Text}, "plating %s states no wrap on %s: the copper would end on the edge", pl.Name.Text, f)
				}
			}
		}
	},
}
