package rules

import (
	"fmt"
	"math"

	"hemline/checks"
	"hemline/lang/board"
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
	Run: func(p *checks.Pass) {
		for _, c := range p.Board.Connectors() {
			need := p.Limits.Minimum("launch_clearance")
			if c.Clearance.Given() && c.Clearance.Value > need.Value {
				need.Quantity, need.Who, need.Where, need.At = c.Clearance.Quantity, c.Name.Text, "", c.Clearance.At
				need.Note = "the connector's own clearance, more than"
			}
			for _, pin := range c.Pins {
				near := pinToWall(p, c, pin, need.Value)
				if !near.ok || near.d <= board.Tolerance || !below(near.d, need.Value) {
					continue
				}
				pl := near.stretch.Plating
				what := fmt.Sprintf("plating %s to the pin of %s on %s", pl.Name.Text, c.Name.Text, pin.Face)
				r := p.Report(pin.At, []string{c.Name.Text, pl.Name.Text}, "%s", tooSmall(what, length(near.d, pin.Width), need))
				for _, g := range p.Board.Gaps() {
					if g.Edge == c.Edge && g.ForConnector(p.Board) == c {
						related(r, g.Stretch, "the gap before the pin")
						// Only where it is the gap's end that is near, and not another wall.
						half := pin.Width.Value / 2
						if left := min(c.Position-half-g.From, g.To-c.Position-half); math.Abs(left-near.d) <= 1 {
							r.Fix = widen(p, g, 2*(math.Abs(c.Position-(g.From+g.To)/2)+half+need.Value))
						}
					}
				}
				relatedLimit(r, need)
			}
		}
	},
}
