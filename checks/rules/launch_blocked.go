package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var launchBlocked = &checks.Rule{
	Name: "launch_blocked", Group: checks.GroupConnectors, Category: finding.Unbuildable,
	Finds:  "A connector's pin meets a plated stretch, or the copper that it turns over the pin's face.",
	Why:    "The pin is shorted to the wall as soon as it is soldered. A gap before the pin is what parts them.",
	Source: "common practice, no source",
	Bad:    platedWith(exampleConnector, "gap launch of wall on west at 14 mm width 2.2 mm for antenna bridged"),
	Good:   platedWith(exampleConnector, "gap launch of wall on west at middle width 5 mm for antenna bridged"),
	Run: func(p *checks.Pass) {
		for _, s := range shorts(p)["launch_blocked"] {
			m := survey(p)
			a := named(m, s.subject, s.subject.Layers)
			pl := s.other.Item.(*board.Plating)
			c := s.subject.Item.(*board.Connector)
			r := p.Report(placeOf(m, s.subject), []string{c.Name.Text, pl.Name.Text}, "%s meets plating %s%s, %s",
				a, pl.Name.Text, ofNet(pl.Net), c.Edge.Profile.Where(c.Edge.Along(c.Position)))
			related(r, pl.Name.At, "plating %s", pl.Name.Text)
		}
	},
}
