package rules

import (
	"hemline/checks"
	"hemline/checks/physics"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var wallAbsorption = &checks.Rule{
	Name: "wall_absorption", Group: checks.GroupPhysics, Category: finding.Tidy,
	Finds:  "The wall is thinner than one skin depth at the band's lower end, where the board states a band.",
	Why:    "A wall thinner than that lets the field through whatever its openings are: 25 µm of copper is thin below some 7 MHz.",
	Source: "skin depth, Johnson, Transmission Lines and Networks, McGraw-Hill 1963, p. 58, as cited; absorption, MIL-HDBK-419A",
	Bad:    radio2("frequency 5 MHz to 100 MHz"),
	Good:   radio2("frequency 10 MHz to 100 MHz"),
	Run: func(p *checks.Pass) {
		i := p.Board.Info()
		if i == nil || !i.FrequencyLow.Given() {
			return
		}
		depth, ok := physics.SkinDepth(i.FrequencyLow.Value, physics.Rho20)
		if !ok {
			return
		}
		for _, pl := range platedOn(p) {
			if !pl.Copper.Given() || !below(pl.Copper.Value, quantity.OfMetres(depth)) {
				continue
			}
			r := p.Report(pl.Copper.At, []string{pl.Name.Text}, "the wall of plating %s is %s thick; one skin depth at %s is %s", pl.Name.Text, pl.Copper.Quantity, i.FrequencyLow.Quantity, length(quantity.OfMetres(depth), pl.Copper))
			related(r, i.FrequencyLow.At, "the band's lower end")
		}
	},
}
