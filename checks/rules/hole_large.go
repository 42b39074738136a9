package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

// largestDrill is the largest diameter that is drilled, nm; a larger opening is routed.
const largestDrill = 6.5e6

var holeLarge = &checks.Rule{
	Name: "hole_large", Group: checks.GroupShape, Category: finding.Costly,
	Finds:  "A hole is wider than the largest drill, 6.5 mm.",
	Why:    "A wider opening is routed, with the tolerance and the inside of a rout, not drilled; stated as a cutout it is made, drawn and checked as one.",
	Source: "common practice, no single source",
	Bad:    platedWith("hole mount diameter 6.6 mm at (25 mm, 15 mm) unplated"),
	Good:   platedWith("hole mount diameter 6.5 mm at (25 mm, 15 mm) unplated"),
	Run: func(p *checks.Pass) {
		for _, h := range p.Board.Holes() {
			if above(h.Diameter.Value, largestDrill) {
				wide, most := quantity.Pair(h.Diameter.Quantity, length(largestDrill, h.Diameter))
				p.Report(h.Diameter.At, []string{h.Name.Text}, "hole %s is %s wide; holes are drilled up to %s: state a cutout, which is routed", h.Name.Text, wide, most)
			}
		}
	},
}
