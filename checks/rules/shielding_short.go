package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var shieldingShort = &checks.Rule{
	Name: "shielding_short", Group: checks.GroupPhysics, Category: finding.Risky,
	Finds:  "The bound on what the wall shields is under the board's `shielding`.",
	Why:    "The opening that leaks most sets the bound, S = 20·log10(λ/(2·L)) less 10·log10(n) for n of its length within half a wavelength on the same edge; what the copper absorbs, where it is 10 dB or more, may set it too. At worst each end of the plating beside an opening is farther off, by the tolerance of `gaps`, and the wall higher: a bound that only then is short is found too, and said. Far field and a thin wall: a bound, not a measurement. Where it cannot be worked out, `not_verified` says so.",
	Limits: []string{"tolerance_gaps", "tolerance_thickness"},
	Source: "Vitek, IEEE EMC Symposium 1989, 10.1109/NSEMC.1989.37145; Ott 2009, ch. 6 (from memory); absorption: MIL-HDBK-419A, vol. 1, ch. 8",
	Bad:    radio("1 GHz; shielding 28 dB", "gap g of wall on west at middle width 3 mm"),
	Good:   radio("1 GHz; shielding 26 dB", "gap g of wall on west at middle width 3 mm"),
	Run:    func(p *checks.Pass) { shortOf(p, "shielding") },
}
