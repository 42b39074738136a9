package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var perforationWeb = &checks.Rule{
	Name: "perforation_web", Group: checks.GroupTabs, Category: finding.Unbuildable,
	Finds:  "The board left between a perforation's holes is less than `perforation_web`.",
	Why:    "Holes that nearly meet make the drill wander, and the row becomes a slot before it should.",
	Limits: []string{"perforation_web"},
	Source: "published tab rules, at least 0.25 mm; common practice",
	Bad:    platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 0.7 mm"),
	Good:   platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 0.75 mm"),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("perforation_web")
		for _, t := range p.Board.Tabs() {
			if web := t.Pitch.Value - t.Hole.Value; t.HoleCount() > 1 && below(web, need.Value) {
				f := p.Report(t.Pitch.At, []string{t.Name.Text}, "%s", tooSmall("board left between the holes of tab "+t.Name.Text, length(web, t.Pitch), need))
				relatedLimit(f, need)
			}
		}
	},
}
