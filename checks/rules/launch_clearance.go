package rules

import (
	"math"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/finding"
)

var launchClearance = &checks.Rule{
	Name: "launch_clearance", Group: checks.GroupConnectors, Category: finding.Unbuildable,
	Finds:  "A gap is there, but plating comes nearer to a connector's pin than `launch_clearance`, or than the connector itself asks.",
	Why:    "Too near, the plating shorts to the pin or its solder, and what is meant to be a matched launch becomes a capacitor to the wall.",
	Limits: []string{"launch_clearance"},
	Source: "10 mil, the trade's usual first figure for a plated edge; common practice",
	Bad:    platedWith(exampleConnector, "gap launch of wall on west at middle width 2 mm for antenna bridged", "fabricator shop { limit launch_clearance minimum 0.4 mm }"),
	Good:   platedWith(exampleConnector, "gap launch of wall on west at middle width 2.1 mm for antenna bridged", "fabricator shop { limit launch_clearance minimum 0.4 mm }"),
	Run: runPairs("launch_clearance", func(p *checks.Pass, s short, r *finding.Finding) {
		c := s.subject.Item.(*board.Connector)
		for _, g := range p.Board.Gaps() {
			if g.ForConnector(p.Board) != c || g.Edge != c.Edge {
				continue
			}
			related(r, g.Stretch, "the gap before the pin")
			// Only where it is the gap's end that is near, and not another wall.
			half := pinWidth(p, s.subject) / 2
			if left := min(c.Position-half-g.From, g.To-c.Position-half); math.Abs(left-s.d) <= 1 {
				r.Fix = widen(p, g, 2*(math.Abs(c.Position-(g.From+g.To)/2)+half+s.need.Value))
			}
		}
	}),
}

// pinWidth is the width of a pin along its edge, nm.
func pinWidth(p *checks.Pass, x *copper.Piece) float64 {
	if x.Member >= 0 {
		return x.Item.(*board.Connector).Legs.Width.Value
	}
	for _, pin := range x.Item.(*board.Connector).Pins {
		if f, ok := survey(p).Face(x); ok && f == pin.Face {
			return pin.Width.Value
		}
	}
	return 0
}
