package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/rout"
)

var tabFlank = &checks.Rule{
	Name: "tab_flank", Group: checks.GroupTabs, Category: finding.Risky,
	Finds:  "Between a tab's side and the plated stretch beside it less of the profile is bare than 0.13 of the finest bit's diameter, at least `router_bit`, although `tab_gap` allows it: the final pass leaves copper on the tab's flank, or runs along it.",
	Why:    "The first pass ends in a round on whose flank copper is plated. The final one has to begin so far past it that it crosses that copper at no less than 30 degrees; along it the foil is torn off the wall. What is left on the tab's flank comes off with the tab.",
	Limits: []string{"router_bit", "tab_gap"},
	Source: "geometry of the two rounds, D/2·sin 15°; the 30 degrees are our own judgement",
	Bad:    flankExample("0.10 mm"),
	Good:   flankExample("0.11 mm"),
	Run: func(p *checks.Pass) {
		least, gap := p.Limits.Minimum("router_bit"), p.Limits.Minimum("tab_gap")
		bits := boardBits(p)
		for _, t := range p.Board.Tabs() {
			bare := bits.Margin(t)
			need := rout.FlankMargin(bits.Tab(t).Bit)
			if t.Premetallised || bare <= board.Tolerance || below(bare, gap.Value) || !below(bare, need) {
				continue
			}
			f := p.Report(t.PositionAt, []string{t.Name.Text}, "between tab %s and the plated edge beside it %s are bare; a bit of %s needs %s to cross the copper on the first pass's end at 30 degrees: widen the gap, or ask for a finer bit",
				t.Name.Text, length(bare, t.Width), length(bits.Tab(t).Bit, t.Width), length(need, t.Width))
			relatedLimit(f, least)
		}
	},
}

// flankExample is a board with a tab in a gap that leaves a margin on both sides.
func flankExample(margin string) string {
	return "fabricator shop { limit tab_gap minimum 0.05 mm }\n" + platedWith("gap stop of wall on west at 10 mm width 3 mm + 2 * "+margin, "tab t4 on west at 10 mm width 3 mm solid")
}
