package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/finding"
)

var castellationCorner = &checks.Rule{
	Name: "castellation_corner", Group: checks.GroupHalfHoles, Category: finding.Risky,
	Finds:  "A half hole's edge lies nearer than `castellation_corner` to the end of its board edge: the point where that meets the next one, which a round may have cut off.",
	Why:    "The corner beyond the last hole has nothing behind it and breaks off with the barrel.",
	Limits: []string{"castellation_corner"},
	Source: "a fabricator's capability table",
	Bad:    squareHead + "castellation row on west from 1.4 mm to 20 mm pitch 2 mm hole 1 mm land 1.6 mm by 1.2 mm net GND\n",
	Good:   squareHead + "castellation row on west from 1.5 mm to 20 mm pitch 2 mm hole 1 mm land 1.6 mm by 1.2 mm net GND\n",
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("castellation_corner")
		for _, c := range p.Board.Castellations() {
			if c.Edge.Closed {
				continue
			}
			left := min(c.From, c.Edge.Length-c.To) - c.Hole.Value/2
			if below(left, need.Value) {
				relatedLimit(p.Report(c.Stretch, []string{c.Name.Text}, "%s", tooSmall(fmt.Sprintf("distance from the half holes of castellation %s to the end of edge %s", c.Name.Text, c.Edge.Name), length(left), need)), need)
			}
		}
	},
}
