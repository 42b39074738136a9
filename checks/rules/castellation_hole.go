package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var castellationHole = &checks.Rule{
	Name: "castellation_hole", Group: checks.GroupHalfHoles, Category: finding.Unbuildable,
	Finds:  "Half holes are smaller than `castellation_hole`.",
	Why:    "A small barrel is torn out of its hole when the router cuts it in half.",
	Limits: []string{"castellation_hole"},
	Source: "0.35 to 0.8 mm in fabricators' guides on half holes, 0.6 mm usual",
	Bad:    exampleHead + "castellation row on west from 5 mm to 20 mm pitch 2 mm hole 0.5 mm land 1.6 mm by 1.2 mm net GND\n",
	Good:   exampleHead + "castellation row on west from 5 mm to 20 mm pitch 2 mm hole 0.6 mm land 1.6 mm by 1.2 mm net GND\n",
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("castellation_hole")
		for _, c := range p.Board.Castellations() {
			what := func() string { return "hole diameter of castellation " + c.Name.Text }
			if lacks(p, need, c.Hole.At, c.Hole.Quantity, what) {
				relatedLimit(p.Report(c.Hole.At, []string{c.Name.Text}, "%s", tooSmall(what(), c.Hole.Quantity, need)), need)
			}
		}
	},
}
