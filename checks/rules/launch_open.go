package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var launchOpen = &checks.Rule{
	Name: "launch_open", Group: checks.GroupConnectors, Category: finding.Risky,
	Finds:  "The gap for a connector reaches past the connector's body, so that the body's metal cannot close it.",
	Why:    "What the body does not cover stays open in the shield wall, and an opening leaks from a twentieth of a wavelength on.",
	Source: "common practice, no source",
	Bad:    platedWith(exampleConnector, "gap launch of wall on west at middle width 10 mm for antenna bridged"),
	Good:   platedWith(exampleConnector, "gap launch of wall on west at middle width 9.5 mm for antenna bridged"),
	Run: func(p *checks.Pass) {
		for _, g := range p.Board.Gaps() {
			c := g.ForConnector(p.Board)
			if c == nil || !g.Holds(c.Edge, c.Position) {
				continue // gap_astray's
			}
			from, to := c.BodyAt(g)
			open := max(from-g.From, 0) + max(g.To-to, 0)
			if open <= board.Tolerance {
				continue
			}
			r := p.Report(g.Stretch, g.With(c.Name.Text), "%s runs from %s to %s, the body of connector %s only from %s to %s: %s stays open",
				g.Title(), length(g.From, g.Width), length(g.To, g.Width), c.Name.Text, length(from, c.Body), length(to, c.Body), length(open, g.Width))
			related(r, c.Body.At, "the connector's body")
		}
	},
}
