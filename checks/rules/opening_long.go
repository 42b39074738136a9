package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/finding"
)

var openingLong = &checks.Rule{
	Name: "opening_long", Group: checks.GroupPhysics, Category: finding.Risky,
	Finds:  "An opening in the wall is over `opening_share` of the wavelength in the board: one that a gap makes, after what its connector's body closes, or the root of a premetallised tab, bare once that is cut.",
	Why:    "A slot radiates and lets in by its length, not its area: from a twentieth of a wavelength on a shield has less than 20 dB. A bare tab scar is such an opening. The wall's height counts where it is more. Edges that no plating runs on are no openings of this rule, nor are those between the vias of a fence; `shielding` counts all that is bare round the board. One that is short enough as drawn may be too long at worst, each end of the plating farther off by the tolerance of `gaps`: that is found too, and said. Silent where the board states no frequency.",
	Limits: []string{"opening_share", "tolerance_gaps", "tolerance_thickness"},
	Source: "H. W. Ott, Electromagnetic Compatibility Engineering, Wiley 2009, ch. 6 (from memory)",
	Bad:    radio("2.45 GHz", "gap g of wall on west at middle width 3 mm"),
	Good:   radio("2.45 GHz", "gap g of wall on west at middle width 2.5 mm"),
	Run: func(p *checks.Pass) {
		lambda, ok := figures.WavelengthIn(p.Board)
		if !ok {
			return
		}
		most := p.Limits.Maximum("opening_share")
		for _, o := range figures.Openings(p.Board, p.Limits.Tolerances(p.Board)) {
			if !o.Made() || !p.Weighs() && !above(o.Worst, most.Value*lambda) {
				continue
			}
			by, items, at, _ := o.Maker()
			what := fmt.Sprintf("opening at %s, %s,", by, o.Stretch.Where())
			if !ofWave(p, at, what, o.Size, lambda, most) {
				continue
			}
			r := p.Report(at, items, "%s", overAperture(p, what, o.Size, lambda, most))
			if o.Gap != nil {
				if c := o.Gap.BridgedBy(p.Board); c != nil && c.Edge == o.Gap.Edge {
					related(r, c.Body.At, "the body that closes part of it")
				}
			}
			relatedAperture(r, o.Size, lambda, most)
		}
	},
}
