package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var castellationLand = &checks.Rule{
	Name: "castellation_land", Group: checks.GroupHalfHoles, Category: finding.Unbuildable,
	Finds:  "The ring of land round a half hole, along the edge or inward, is less than `castellation_ring`.",
	Why:    "The land is what holds the barrel when the router cuts it, and what the solder wets.",
	Limits: []string{"castellation_ring"},
	Source: "0.15 to 0.30 mm in fabricators' guides on half holes",
	Bad:    exampleHead + "castellation row on west from 5 mm to 20 mm pitch 2 mm hole 1 mm land 1.38 mm by 1.2 mm net GND\n",
	Good:   exampleHead + "castellation row on west from 5 mm to 20 mm pitch 2 mm hole 1 mm land 1.4 mm by 1.2 mm net GND\n",
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("castellation_ring")
		for _, c := range p.Board.Castellations() {
			along, inward := (c.LandWidth.Value-c.Hole.Value)/2, c.LandLength.Value-c.Hole.Value/2
			beside := func() string { return "ring of land beside the half holes of castellation " + c.Name.Text }
			behind := func() string { return "ring of land behind the half holes of castellation " + c.Name.Text }
			switch {
			case lacks(p, need, c.LandWidth.At, length(along, c.LandWidth), beside):
				relatedLimit(p.Report(c.LandWidth.At, []string{c.Name.Text}, "%s", tooSmall(beside(), length(along, c.LandWidth), need)), need)
			case lacks(p, need, c.LandLength.At, length(inward, c.LandLength), behind):
				relatedLimit(p.Report(c.LandLength.At, []string{c.Name.Text}, "%s", tooSmall(behind(), length(inward, c.LandLength), need)), need)
			}
		}
	},
}
