package rules

import (
	"math"

	"hemline/checks"
	"hemline/lang/board"
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
			if pl == nil || pl.Faulty || interrupts(g, pl) {
				continue
			}
			r := p.Report(g.Stretch, []string{g.Name.Text}, "gap %s interrupts nothing: %s does not run on %s there", g.Name.Text, pl.Name.Text, g.Edge.Name)
			related(r, pl.Name.At, "the plating")
		}
	},
}

func interrupts(g *board.Gap, pl *board.Plating) bool {
	from, to := g.Edge.Range(g.From, g.To)
	l := g.Edge.Profile.Path.Perimeter()
	for _, a := range pl.Along {
		if a.Edge.Profile != g.Edge.Profile {
			continue
		}
		start, end := a.Edge.Range(a.From, a.To)
		for _, shift := range [...]float64{-l, 0, l} {
			if math.Min(to+shift, end)-math.Max(from+shift, start) > board.Tolerance {
				return true
			}
		}
	}
	return false
}
