package rules

import (
	"math"

	"hemline/checks"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var perforationOffset = &checks.Rule{
	Name: "perforation_offset", Group: checks.GroupTabs, Category: finding.Risky,
	Finds:  "A perforation's row does not lie on the profile: its `inset` is beyond half a hole either way.",
	Why:    "A row outside the profile leaves a stub that stands out; one inside takes a bite out of the board.",
	Source: "published tab rules: centred on the profile, tangent to it, or slightly inside",
	Bad:    platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 0.8 mm inset 0.3 mm"),
	Good:   platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 0.8 mm inset 0.25 mm"),
	Run: func(p *checks.Pass) {
		for _, t := range p.Board.Tabs() {
			half := t.Hole.Value / 2
			if !t.Inset.Given() || !above(math.Abs(t.Inset.Value), half) {
				continue
			}
			lies, most := quantity.Pair(length(math.Abs(t.Inset.Value), t.Inset), length(half))
			f := p.Report(t.Inset.At, []string{t.Name.Text}, "the row of holes of tab %s lies %s from the profile; within half a hole, %s, it lies on the profile", t.Name.Text, lies, most)
			f.Fix = p.Edit("put the row on the profile: inset 0 mm", t.Inset.At, "0 mm")
		}
	},
}
