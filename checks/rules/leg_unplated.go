package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var legUnplated = &checks.Rule{
	Name: "leg_unplated", Group: checks.GroupConnectors, Category: finding.Risky,
	Finds:  "A connector's ground leg stands where nothing is plated, or only in part on one plating.",
	Why:    "A leg is soldered to the plating that it stands on and takes its net; where none runs it has no ground, and the launch radiates. One that stands in part beside it stands on bare board, or on a tab's root.",
	Source: "common practice, no source",
	Bad:    platedWith("connector antenna on west at middle { body 9.5 mm; pin top width 1 mm length 2 mm; legs top width 0.8 mm length 2 mm spacing 4 mm; net RF; opens span 5 mm bridged }"),
	Good:   platedWith("connector antenna on west at middle { body 9.5 mm; pin top width 1 mm length 2 mm; legs top width 0.8 mm length 2 mm spacing 6 mm; net RF; opens span 5 mm bridged }"),
	Run: func(p *checks.Pass) {
		for _, c := range p.Board.Connectors() {
			if c.Legs == nil {
				continue
			}
			for i, at := range c.LegsAt() {
				half := c.Legs.Width.Value / 2
				switch _, width := p.Board.Footing(c, i); {
				case width == 0:
					p.Report(c.Legs.At, []string{c.Name.Text}, "leg %d of connector %s stands from %s to %s of %s, where nothing is plated: it has no net", i+1, c.Name.Text, length(at-half), length(at+half), c.Edge.Name)
				case below(width, c.Legs.Width.Value):
					p.Report(c.Legs.At, []string{c.Name.Text}, "leg %d of connector %s stands from %s to %s of %s, and one plating runs along %s of that alone", i+1, c.Name.Text, length(at-half), length(at+half), c.Edge.Name, length(width))
				}
			}
		}
	},
}
