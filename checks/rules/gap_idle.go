package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var gapIdle = &checks.Rule{
	Name: "gap_idle", Group: checks.GroupPlating, Category: finding.Tidy,
	Finds:  "A gap interrupts nothing: its plating does not run there.",
	Why:    "Either the gap or the plating is not where its author thinks it is.",
	Source: "common practice, no source",
	Bad:    platedWith("gap g of wall on south at middle width 5 mm"),
	Good:   platedWith("gap g of wall on east at middle width 5 mm"),
	Run: func(p *checks.Pass) {
		for _, g := range p.Board.Gaps() {
			pl := p.Board.PlatingNamed(g.Of.Text)
			if pl == nil || pl.Faulty || p.Board.Interrupts(g) {
				continue
			}
			r := p.Report(g.Stretch, []string{g.Name.Text}, "gap %s interrupts nothing: plating %s has no plated stretch there on %s", g.Name.Text, pl.Name.Text, g.Edge.Name)
			related(r, pl.Name.At, "the plating")
		}
	},
}
