package rules

import (
	"hemline/checks"
	"hemline/checks/figures"
	"hemline/checks/physics"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var tabWeak = &checks.Rule{
	Name: "tab_weak", Group: checks.GroupTabs, Category: finding.Risky,
	Finds:  "A tab cannot carry its share of the board's weight with a factor of 10.",
	Why:    "A tab that lets go in the bath, the oven or the carrier costs the panel. The bare board is taken as stiff and the tabs as equal springs; the moment at the tab's weaker section, the row of its holes or its waist halfway along the slots, is its share times its length (2 mm where it states none), its strength the least that the laminate's standard asks for crosswise, 345 N/mm². A bound, not a measurement; of parts those count whose `mass` is stated.",
	Source: "bending of a rectangular section, M = σ·b·h²/6; least flexural strength of IPC-4101/21, from memory",
	Bad:    platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 0.5 mm", "fabricator shop { limit perforation_web minimum 0 mm }"),
	Good:   platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 0.8 mm", "fabricator shop { limit perforation_web minimum 0 mm }"),
	Run: func(p *checks.Pass) {
		tabs, grams := figures.Carried(p.Board)
		if p.Board.States("tab") != len(p.Board.Tabs()) {
			return
		}
		thickness, _ := p.Board.Thickness()
		for i, t := range tabs {
			reach := figures.TabReach
			if t.Length.Given() {
				reach = t.Length.Value
			}
			load := grams[i] / 1000 * physics.Gravity * quantity.InMillimetres(reach) * figures.TabFactor
			net := weakest(p, t).Net
			holds := figures.BreakMoment(net, thickness.Value, physics.BendingLeast)
			if holds >= load {
				continue
			}
			p.Report(t.Width.At, []string{t.Name.Text}, "tab %s holds %s at its net width of %s; with a factor of 10 its share of the board's weight, %.3g g, asks for %s",
				t.Name.Text, quantity.Of(holds, quantity.NewtonMillimetre), length(net, t.Width), grams[i], quantity.Of(load, quantity.NewtonMillimetre))
		}
	},
}
