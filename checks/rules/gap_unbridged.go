package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
	"hemline/lang/syntax"
)

var gapUnbridged = &checks.Rule{
	Name: "gap_unbridged", Group: checks.GroupConnectors, Category: finding.Risky,
	Finds:  "A gap is said to be `bridged`, but names no connector whose metal bridges it.",
	Why:    "A word closes no wall: the gap counts as open, whatever is meant to stand over it.",
	Source: "common practice, no source",
	Bad:    platedWith("gap slit of wall on west at middle width 5 mm bridged"),
	Good:   platedWith(exampleConnector, "gap launch of wall on west at middle width 5 mm for antenna bridged"),
	Run: func(p *checks.Pass) {
		for _, g := range p.Board.Gaps() {
			if !g.Bridged || g.BridgedBy(p.Board) != nil {
				continue
			}
			r := p.Report(g.BridgedAt, []string{g.Name.Text}, "gap %s is bridged, but is for no connector whose metal bridges it; it counts as open: state for CONNECTOR, or leave out bridged", g.Name.Text)
			if c := bridging(p, g); c != nil && !g.For.Given() {
				r.Fix = p.Edit("make the gap for "+c.Name.Text, g.BridgedAt, "for "+syntax.Quote(c.Name.Text)+" bridged")
			}
		}
	},
}
