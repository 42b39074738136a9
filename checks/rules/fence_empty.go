package rules

import (
	"hemline/checks"
	"hemline/lang/emit/wording"
	"hemline/lang/finding"
)

var fenceEmpty = &checks.Rule{
	Name: "fence_empty", Group: checks.GroupFence, Category: finding.Risky,
	Finds:  "A fence, or one of its stretches, has no via.",
	Why:    "The text says that vias stand there, and none does: a row ends short of the corners of the board, and a clearance leaves vias out.",
	Source: "common practice, no source",
	Bad:    platedWith("fence f along south from 1 mm to 2 mm inset 3 mm pitch 2 mm hole 0.3 mm net GND"),
	Good:   platedWith("fence f along south from 1 mm to 4 mm inset 3 mm pitch 2 mm hole 0.3 mm net GND"),
	Run: func(p *checks.Pass) {
		for _, f := range p.Board.Fences() {
			for _, a := range f.Bare {
				p.Report(a.At, []string{f.Name.Text}, "fence %s has no via along %s from %s to %s: at an inset of %s its row ends short of the corner",
					f.Name.Text, a.Edge.Name, length(a.From), length(a.To), f.Inset)
			}
			if len(f.Vias) == 0 && f.LeftOut > 0 {
				p.Report(f.Clearance.At, []string{f.Name.Text}, "fence %s has no via: its clearance leaves out all of its %s", f.Name.Text, wording.Plural(f.LeftOut, "via"))
			}
		}
	},
}
