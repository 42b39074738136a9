package rules

import (
	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var shieldingShort = &checks.Rule{
	Name: "shielding_short", Group: checks.GroupPhysics, Category: finding.Risky,
	Finds:  "The bound on what the wall holds back is under the board's `shielding`.",
	Why:    "The opening that leaks most sets the bound, S = 20·log10(λ/(2·L)) less 10·log10(n) for n of its length within half a wavelength on the same edge; what the copper absorbs may set it too. Far field and a thin wall: a bound, not a measurement. Silent where the board states no frequency or no shielding.",
	Source: "Vitek, IEEE EMC Symposium 1989, 10.1109/NSEMC.1989.37145; Ott 2009, ch. 6 (from memory)",
	Bad:    radio("1 GHz; shielding 28 dB", "gap g of wall on west at middle width 3 mm"),
	Good:   radio("1 GHz; shielding 27 dB", "gap g of wall on west at middle width 3 mm"),
	Run: func(p *checks.Pass) {
		if p.Board.Info() == nil || !p.Board.Info().Shielding.Given() {
			return
		}
		want := p.Board.Info().Shielding
		dB, worst, ok := figures.Shielding(p.Board)
		if !ok || dB >= want.Value-1e-9 {
			return
		}
		got, asked := quantity.Pair(quantity.Of(dB, quantity.Decibel), want.Quantity)
		on := []string{p.Board.Info().Name.Text}
		if worst < 0 {
			p.Report(want.At, on, "the wall's copper absorbs %s at %s; the board asks for %s", got, p.Board.Info().Frequency.Quantity, asked)
			return
		}
		o := figures.Openings(p.Board)[worst]
		by, name, at := o.Maker()
		r := p.Report(want.At, append(on, name), "the wall holds back %s at the most at %s, by its opening at %s, %s long; the board asks for %s",
			got, p.Board.Info().Frequency.Quantity, by, length(o.Longest), asked)
		related(r, at, "the opening that leaks most")
	},
}
