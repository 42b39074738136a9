package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/syntax"
)

var gapAstray = &checks.Rule{
	Name: "gap_astray", Group: checks.GroupConnectors, Category: finding.Risky,
	Finds:  "A gap says which connector or tab it is for, but that stands elsewhere: on another edge, or with its middle outside the gap.",
	Why:    "One of the two is not where its author thinks it is. The wall is open where nothing needs it, and not where something does.",
	Source: "common practice, no source",
	Bad:    platedWith(exampleConnector, "gap launch of wall on west at middle width 5 mm for antenna", "gap other of wall on east at middle width 5 mm for antenna"),
	Good:   platedWith(exampleConnector, "gap launch of wall on west at middle width 5 mm for antenna", "gap other of wall on east at middle width 5 mm"),
	Run: func(p *checks.Pass) {
		for _, g := range p.Board.Gaps() {
			if t := g.ForTab(p.Board); t != nil && !g.Holds(t.Edge, t.Position) {
				r := p.Report(g.For.At, []string{g.Name.Text, t.Name.Text}, "gap %s on %s is for tab %s, which does not stand there but at %s; move the gap, or name the tab that stands in it",
					g.Name.Text, g.Edge.Name, t.Name.Text, t.Edge.Profile.Where(t.Edge.Along(t.Position)))
				related(r, t.PositionAt, "where the tab stands")
			}
			c := g.ForConnector(p.Board)
			if c == nil || g.Holds(c.Edge, c.Position) {
				continue
			}
			r := p.Report(g.For.At, []string{g.Name.Text, c.Name.Text}, "gap %s on %s is for connector %s, which does not stand there but at %s; move the gap, or name the connector that stands in it",
				g.Name.Text, g.Edge.Name, c.Name.Text, c.Edge.Profile.Where(c.Edge.Along(c.Position)))
			related(r, c.PositionAt, "where the connector stands")
			if x := bridging(p, g); x != nil && gapsFor(p, c) > 1 && gapsFor(p, x) == 0 {
				r.Fix = p.Edit("make the gap for "+x.Name.Text, g.For.At, syntax.Quote(x.Name.Text))
			}
		}
	},
}

// bridging is the one connector that stands in a gap and whose body covers all
// of it; nil for none, or several.
func bridging(p *checks.Pass, g *board.Gap) (one *board.Connector) {
	if len(p.Board.Connectors())*len(p.Board.Gaps()) > fixEffort {
		return nil
	}
	for _, c := range p.Board.Connectors() {
		if !g.Holds(c.Edge, c.Position) {
			continue
		}
		if from, to := c.BodyAt(g); one != nil || below(g.From, from) || above(g.To, to) {
			return nil
		}
		one = c
	}
	return one
}

// gapsFor counts the gaps that are for a connector.
func gapsFor(p *checks.Pass, c *board.Connector) (n int) {
	for _, g := range p.Board.Gaps() {
		if g.For.Text == c.Name.Text {
			n++
		}
	}
	return n
}
