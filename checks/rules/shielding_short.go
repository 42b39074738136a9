package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var shieldingShort = &checks.Rule{
	Name: "shielding_short", Group: checks.GroupPhysics, Category: finding.Risky,
	Finds:  "The bound on what the wall shields is under the board's `shielding`.",
	Why:    "All that is bare between the plated stretches of the outline counts, whole edges too; where a fence that joins planes of the wall's net stands behind, the widest of what is open between its vias, if that is less. Openings within half a wavelength of each other along the outline leak, if in phase, as one that is as long as all of them: S = 20·log10(λ/(2·ΣL)), which is −20·log10 Σ10^(−Si/20) of what each allows alone, and 0 dB from half a wavelength on. The window of half a wavelength that leaks most sets the bound, along the outline, over its corners and its start; an opening counts whole where its middle lies in it, and one that reaches in with less than its half with twice what lies in it, so that no wall is given more than one with smaller openings. In a band the frequency counts at which most leaks. Cutouts' walls do not count. At worst each end of the plating beside an opening is farther off, by the tolerance of `gaps`, and the wall higher: a bound that only then is short is found too, and said. Far field and a thin wall: a bound, not a measurement; the least of it is not known. What the copper absorbs is no bound on the wall. Where it cannot be worked out, `not_verified` says so.",
	Limits: []string{"tolerance_gaps", "tolerance_thickness"},
	Source: "Vitek, IEEE EMC Symposium 1989, 10.1109/NSEMC.1989.37145; Ott 2009, ch. 6 (from memory), who adds powers, 10·log10(n) for n alike; amplitudes in phase are the worst of the model",
	Bad:    radio("100 MHz; shielding 20 dB"),
	Good:   radio("100 MHz; shielding 15 dB"),
	Run: func(p *checks.Pass) {
		for _, f := range shortOf(p, "shielding") {
			f.Fix = narrow(p)
		}
	},
}
