package rules

import (
	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/finding"
)

var wallCurrent = &checks.Rule{
	Name: "wall_current", Group: checks.GroupPhysics, Category: finding.Risky,
	Finds:  "The board's `current` is above what the wall carries for its `rise`.",
	Why:    "The wall is a conductor as high as the board and as thick as its plating. Silent where the board states no current or no rise, where the copper or the thickness is not stated, and outside the formula's validity (10 to 100 K, up to 35 A).",
	Source: "curve fit to IPC-2221, I = 0.048·ΔT^0.44·A^0.725 with A in square mils; conservative against IPC-2152",
	Bad:    radio2("current 3 A; rise 10 K"),
	Good:   radio2("current 2.6 A; rise 10 K"),
	Run: func(p *checks.Pass) {
		i := p.Board.Info()
		if i == nil || !i.Current.Given() || !i.Rise.Given() {
			return
		}
		for _, pl := range platedOn(p) {
			carries, ok := figures.WallCurrent(p.Board, pl, i.Rise.Value)
			if !ok || carries >= i.Current.Value {
				continue
			}
			r := p.Report(i.Current.At, []string{pl.Name.Text}, "plating %s carries %.3g A for a rise of %s; the board asks for %s", pl.Name.Text, carries, i.Rise.Quantity, i.Current.Quantity)
			related(r, pl.Copper.At, "the wall's copper")
		}
	},
}
