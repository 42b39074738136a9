package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/checks/physics"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var tabWeak = &checks.Rule{
	Name: "tab_weak", Group: checks.GroupTabs, Category: finding.Risky,
	Finds:  "A tab cannot carry its share of the board's weight with a factor of 10.",
	Why:    "A tab that lets go in the bath, the oven or the carrier costs the panel. The board is taken as stiff and the tabs as equal springs that hold back its turning too, as stubs clamped at both ends do; the moment at the tab's weaker section, the row of its holes or its waist halfway along the slots, is its share times its length (2 mm, a slot's usual width, where it states none) and, of a board that hangs out from tabs on one edge, its share of that moment. Its strength is the least that the laminate's standard asks for crosswise, 345 N/mm². A bound, not a measurement. Copper counts as the stack, planes, features and platings state it, and parts whose `mass` is stated. Where tabs lie so nearly on one line that their shares depend on how stiff their roots are, nothing is said here: `tab_unbalanced` tells of that. Twisting is not judged.",
	Source: "bending of a rectangular section, M = σ·b·h²/6; least flexural strength of IPC-4101/21, from memory",
	Bad:    platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 0.5 mm", "fabricator shop { limit perforation_web minimum 0 mm }"),
	Good:   platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 0.8 mm", "fabricator shop { limit perforation_web minimum 0 mm }"),
	Run: func(p *checks.Pass) {
		if p.Board.States("tab") != len(p.Board.Tabs()) {
			return
		}
		carried := carriedBy(p)
		thickness, _ := p.Board.Thickness()
		for _, s := range carried.List {
			load := s.Load() * figures.TabFactor
			net := weakest(p, s.Tab).Net
			holds := figures.BreakMoment(net, thickness.Value, physics.BendingLeast)
			if holds >= load {
				continue
			}
			share := fmt.Sprintf("its share of the board's weight, %.3g g,", s.Grams)
			if 2*s.Bend*figures.TabFactor > load {
				share += " which hangs out from the tabs,"
			}
			p.Report(s.Tab.Width.At, []string{s.Tab.Name.Text}, "tab %s holds %s at its net width of %s; with a factor of 10 %s asks for %s",
				s.Tab.Name.Text, quantity.Of(holds, quantity.NewtonMillimetre), length(net, s.Tab.Width), share, quantity.Of(load, quantity.NewtonMillimetre))
		}
	},
}

// carriedBy is what each of the board's tabs carries.
func carriedBy(p *checks.Pass) figures.Supports {
	type key struct{}
	return checks.Once(p, key{}, func() figures.Supports { return figures.Carried(p.Board) })
}
