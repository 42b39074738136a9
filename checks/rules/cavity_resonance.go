package rules

import (
	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var cavityResonance = &checks.Rule{
	Name: "cavity_resonance", Group: checks.GroupPhysics, Category: finding.Risky,
	Finds:  "The first mode of the cavity that the planes and the plated walls form is under the board's frequency divided by 0.9.",
	Why:    "At its resonance the shield is no shield but a resonator: what is inside couples to everything else inside. Stitching that splits the longer side moves the mode up. Rectangles only, with two planes or more, an edge counting as plated where half of it is. Silent where the board states no frequency.",
	Source: "Pozar, Microwave Engineering (from memory); the margin of a tenth is common practice",
	Bad:    cavity("2 GHz"),
	Good:   cavity("1.3 GHz"),
	Run: func(p *checks.Pass) {
		if p.Board.Info() == nil || !p.Board.Info().Frequency.Given() {
			return
		}
		mode, ok := figures.FirstMode(p.Board)
		f := p.Board.Info().Frequency
		if !ok || mode.F*0.9 >= f.Value {
			return
		}
		er, _ := figures.Permittivity(p.Board)
		first := quantity.Quantity{Value: mode.F, Dim: quantity.Frequency}.As(quantity.Gigahertz)
		p.Report(f.At, []string{p.Board.Info().Name.Text}, "the cavity between the planes first resonates at %.4g GHz (permittivity %g); the board's frequency, %s, must not be above 90 %% of that",
			first.In(quantity.Gigahertz), er, f.Quantity)
	},
}
