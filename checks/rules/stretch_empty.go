package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var stretchEmpty = &checks.Rule{
	Name: "stretch_empty", Group: checks.GroupPlating, Category: finding.Risky,
	Finds:  "A plating or a gap runs along a stretch that ends where it starts.",
	Why:    "Nothing is plated there, or nothing kept bare, though the text says so: one of the two positions is wrong, or the stretch is left over.",
	Source: "common practice, no source",
	Bad:    platedWith("plating more {\n  along north from 9 mm to 9 mm\n  along north from 15 mm to 20 mm\n  net GND\n  copper 25 um\n  extend 0.1 mm\n  wrap top 0.8 mm\n  wrap bottom 0.8 mm\n}"),
	Good:   platedWith("plating more {\n  along north from 9 mm to 12 mm\n  along north from 15 mm to 20 mm\n  net GND\n  copper 25 um\n  extend 0.1 mm\n  wrap top 0.8 mm\n  wrap bottom 0.8 mm\n}"),
	Run: func(p *checks.Pass) {
		for _, pl := range p.Board.Platings() {
			for _, a := range pl.Along {
				if !above(a.To, a.From) {
					p.Report(a.At, []string{pl.Name.Text}, "the stretch of plating %s on %s ends where it starts, at %s: nothing is plated there", pl.Name.Text, a.Edge.Name, length(a.From))
				}
			}
		}
		for _, g := range p.Board.Gaps() {
			if hollow(g) {
				p.Report(g.Stretch, []string{g.Name.Text}, "%s on %s ends where it starts, at %s: nothing is bare there", g.Title(), g.Edge.Name, length(g.From))
			}
		}
	},
}

// hollow tells whether a gap ends where it starts.
func hollow(g *board.Gap) bool { return !above(g.To, g.From) }
