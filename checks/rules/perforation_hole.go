package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var perforationHole = &checks.Rule{
	Name: "perforation_hole", Group: checks.GroupTabs, Category: finding.Unbuildable,
	Finds:  "A perforation's holes are smaller than `perforation_hole`, or wider than the tab, so that it has none.",
	Why:    "Small drills break in a row of holes, and every broken one costs the panel. A hole as wide as the tab is no row to snap along: none is drilled.",
	Limits: []string{"perforation_hole"},
	Source: "0.38 to 0.7 mm in published tab rules",
	Bad:    platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.45 mm pitch 0.8 mm"),
	Good:   platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 0.8 mm"),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("perforation_hole")
		for _, t := range p.Board.Tabs() {
			switch {
			case t.Perforated && t.Width.Given() && above(t.Hole.Value, t.Width.Value):
				hole, width := quantity.Pair(t.Hole.Quantity, t.Width.Quantity)
				p.Report(t.Hole.At, []string{t.Name.Text}, "tab %s, %s wide, has no room for a hole of %s: it has no row to snap along", t.Name.Text, width, hole)
			case t.Perforated && lacks(p, need, t.Hole.At, t.Hole.Quantity, func() string { return "hole diameter of tab " + t.Name.Text }):
				f := p.Report(t.Hole.At, []string{t.Name.Text}, "%s", tooSmall("hole diameter of tab "+t.Name.Text, t.Hole.Quantity, need))
				relatedLimit(f, need)
			}
		}
	},
}
