package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/checks/physics"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var tabStubborn = &checks.Rule{
	Name: "tab_stubborn", Group: checks.GroupTabs, Category: finding.Risky,
	Finds:  "A perforated tab needs more than `tab_snap_moment` to break. One whose `removal` is `rout` is not snapped; without a word on it, it is.",
	Why:    "What does not snap by hand is bent until it does, and the board and the joints near it bend with it. The strength is that of typical sheets lengthwise, 689 N/mm², well above the least of the standard. What counts is the weaker section, the row of holes or the waist that the slots leave. A bound, not a measurement.",
	Limits: []string{"tab_snap_moment"},
	Source: "bending of a rectangular section, M = σ·b·h²/6; typical flexural strength from laminate data sheets (689 and 720 N/mm² lengthwise)",
	Bad:    shop("limit tab_snap_moment maximum 700 Nmm") + platedWith("tab t4 on north at 12 mm width 5 mm perforated hole 0.5 mm pitch 1 mm"),
	Good:   shop("limit tab_snap_moment maximum 700 Nmm") + platedWith("tab t4 on north at 12 mm width 5 mm perforated hole 0.5 mm pitch 0.9 mm"),
	Run: func(p *checks.Pass) {
		thickness, known := p.Board.Thickness()
		if !known {
			return
		}
		most := p.Limits.Maximum("tab_snap_moment")
		for _, t := range p.Board.Tabs() {
			if !t.Perforated || !t.Hand() {
				continue
			}
			net := weakest(p, t).Net
			moment := quantity.Of(figures.BreakMoment(net, thickness.Value, physics.BendingTypical), quantity.NewtonMillimetre)
			what := func() string {
				return fmt.Sprintf("moment to snap tab %s, %d holes, net width %s,", t.Name.Text, t.HoleCount(), length(net, t.Width))
			}
			if !held(p, moment.Value > most.Value*(1+1e-12), func() checks.Margin {
				return checks.Margin{At: t.Width.At, What: what(), Value: moment, Limit: most, Against: most.Quantity, Most: true}
			}) {
				continue
			}
			f := p.Report(t.Width.At, []string{t.Name.Text}, "%s", tooLarge(what(), moment, most))
			relatedLimit(f, most)
		}
	},
}
