package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var fencePitch = &checks.Rule{
	Name: "fence_pitch", Group: checks.GroupFence, Category: finding.Risky,
	Finds:  "The pitch of a fence, or the way from via to via where its `clearance` leaves some out or where the rows of two edges meet, is over `opening_share` of the wavelength in the board at its frequency.",
	Why:    "Between two vias the fence is open; from a twentieth of a wavelength on it begins to leak. Silent where the board states no frequency. The stack's greatest permittivity counts; where it states none, 4.3 is taken.",
	Limits: []string{"opening_share"},
	Source: "a twentieth of the wavelength in the dielectric, a tenth at the most: common practice of via fences; a designers' mailing list of 1999 comes to 1.9 to 3.2 mm for 500 MHz logic",
	Bad:    radio("2.45 GHz", "fence f along south inset 1 mm pitch 3 mm hole 0.3 mm net GND"),
	Good:   radio("2.45 GHz", "fence f along south inset 1 mm pitch 2.9 mm hole 0.3 mm net GND"),
	Run: func(p *checks.Pass) {
		lambda, ok := figures.WavelengthIn(p.Board)
		if !ok {
			return
		}
		most := p.Limits.Maximum("opening_share")
		for _, f := range p.Board.Fences() {
			at, what, measured := f.Pitch.At, "pitch of fence "+f.Name.Text, f.Pitch.Quantity
			if f.Wide > f.Pitch.Value && !above(f.Pitch.Value, most.Value*lambda) {
				measured = quantity.Nanometres(f.Wide)
				where := "where two of its rows meet"
				if f.LeftOut > 0 {
					at, where = f.Clearance.At, "where two of its rows meet, or its clearance leaves vias out"
				}
				what = fmt.Sprintf("the way from via to via of fence %s at %s, %s,", f.Name.Text, board.Coordinates(f.WideAt), where)
			}
			if above(measured.Value, most.Value*lambda) {
				relatedLimit(p.Report(at, []string{f.Name.Text}, "%s", overAperture(p, what, measured, lambda, most)), most)
			}
		}
	},
}

// overAperture is the sentence of a length that is too large a share of the
// wavelength; it names what the wavelength was taken from.
func overAperture(p *checks.Pass, what string, measured quantity.Quantity, lambda float64, most checks.Limit) string {
	er, stated := figures.Permittivity(p.Board)
	taken := ""
	if !stated {
		taken = ", taken since none is stated"
	}
	a, b := quantity.Pair(measured, quantity.Nanometres(most.Value*lambda))
	return fmt.Sprintf("%s is %s, %.3g %% of the wavelength in the board (%s at %s, permittivity %g%s); %s allows at most %s, %s %s",
		what, a, measured.Value/lambda*100, length(lambda), p.Board.Info().Frequency.Quantity, er, taken, most.Who, most.Quantity, b, most.From())
}
