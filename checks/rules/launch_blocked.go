package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
)

var launchBlocked = &checks.Rule{
	Name: "launch_blocked", Group: checks.GroupConnectors, Category: finding.Unbuildable,
	Finds:  "A connector's pin meets a plated stretch, or the copper that it turns over the pin's face.",
	Why:    "The pin is shorted to the wall as soon as it is soldered. A gap before the pin is what parts them.",
	Source: "common practice, no source",
	Bad:    platedWith(exampleConnector, "gap launch of wall on west at 14 mm width 2.2 mm for antenna bridged"),
	Good:   platedWith(exampleConnector, "gap launch of wall on west at middle width 5 mm for antenna bridged"),
	Run: func(p *checks.Pass) {
		for _, c := range p.Board.Connectors() {
			for _, pin := range c.Pins {
				near := pinToWall(p, c, pin, 0)
				if !near.ok || near.d > board.Tolerance {
					continue
				}
				pl := near.stretch.Plating
				r := p.Report(pin.At, []string{c.Name.Text, pl.Name.Text}, "the pin of %s on %s meets the plating %s (net %s), %s",
					c.Name.Text, pin.Face, pl.Name.Text, pl.Net.Text, c.Edge.Profile.Where(c.Edge.Along(c.Position)))
				related(r, pl.Name.At, "the plating")
			}
		}
	},
}

// pinShape is the pin's pad: its width along the edge, its length inward.
func pinShape(c *board.Connector, pin board.Pin) *geom.Loop {
	return c.Edge.Standing(c.Position, pin.Width.Value, 0, pin.Length.Value)
}

// pinToWall is the distance from a pin to the nearest plating of another net:
// to its wall, and to its wrap on the pin's face.
func pinToWall(p *checks.Pass, c *board.Connector, pin board.Pin, reach float64) nearest {
	shape := pinShape(c, pin)
	widest := 0.0
	for _, pl := range p.Board.Platings() {
		widest = max(widest, pl.Wrap[pin.Face].Value)
	}
	return nearWall(p, shape, widest+reach, widest, false,
		func(s board.Stretch) bool { return otherNet(c.Net, s.Plating) },
		func(s board.Stretch) float64 {
			return min(edgeDistance(shape, s), bandDistance(shape, s, pin.Face))
		})
}
