package rules

import (
	"fmt"
	"slices"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

var fencePitch = &checks.Rule{
	Name: "fence_pitch", Group: checks.GroupFence, Category: finding.Risky,
	Finds:  "The pitch of a fence, or the way from via to via where its `clearance` leaves some out or where the rows of two edges meet, is over `opening_share` of the wavelength in the board at its frequency.",
	Why:    "Between two vias the fence is open; from a twentieth of a wavelength on it begins to leak. At worst two vias are each off their places, by the tolerance of `position`, away from each other: a way that only then is too long is found too, and said. Silent where the board states no frequency. The stack's greatest permittivity counts; where it states none, 4.3 is taken.",
	Limits: []string{"opening_share", "tolerance_position"},
	Source: "a twentieth of the wavelength in the dielectric, a tenth at the most: common practice of via fences; a designers' mailing list of 1999 comes to 1.9 to 3.2 mm for 500 MHz logic",
	Bad:    radio("2.45 GHz", "fence f along south inset 1 mm pitch 3 mm hole 0.3 mm net GND"),
	Good:   radio("2.45 GHz", "fence f along south inset 1 mm pitch 2.7 mm hole 0.3 mm net GND"),
	Run: func(p *checks.Pass) {
		lambda, ok := figures.WavelengthIn(p.Board)
		if !ok {
			return
		}
		most := p.Limits.Maximum("opening_share")
		tolerances := p.Limits.Tolerances(p.Board)
		for _, f := range p.Board.Fences() {
			at, what, like, size := f.Pitch.At, "pitch of fence "+f.Name.Text, f.Pitch, figures.PitchOf(f, tolerances)
			if f.Wide > f.Pitch.Value && !above(size.Worst, most.Value*lambda) {
				size, like = figures.WayOf(f, tolerances), board.Value{}
				where := "where two of its rows meet"
				if slices.ContainsFunc(f.Along, func(a board.Along) bool { return a.Edge.Closed }) {
					where = "at an arc of its rim"
				}
				if f.LeftOut > 0 {
					at, where = f.Clearance.At, "where two of its rows meet, or its clearance leaves vias out"
				}
				what = fmt.Sprintf("the way from via to via of fence %s at %s, %s,", f.Name.Text, board.Coordinates(f.WideAt), where)
			}
			if ofWave(p, at, what, size, lambda, most, like) {
				r := p.Report(at, []string{f.Name.Text}, "%s", overAperture(p, what, size, lambda, most, like))
				relatedAperture(r, size, lambda, most)
			}
		}
	},
}

// overAperture is the sentence of a length that is too large a share of the
// wavelength, as drawn or at worst; it names what the wavelength was taken from.
func overAperture(p *checks.Pass, what string, size figures.Size, lambda float64, most checks.Limit, like ...board.Value) string {
	er, stated := figures.Permittivity(p.Board)
	taken := ""
	if !stated {
		taken = ", taken since none is stated"
	}
	measured := size.Nominal
	if !above(measured, most.Value*lambda) {
		measured = size.Worst
	}
	a, b := quantity.Pair(length(measured, like...), quantity.Nanometres(most.Value*lambda))
	is := "is " + a
	if measured != size.Nominal {
		is = "is " + length(size.Nominal, like...).String() + ", " + size.AtWorst(a)
		if size.Nominal == 0 {
			is = "is closed as drawn, " + size.AtWorst(a)
		}
	}
	return fmt.Sprintf("%s %s, %.3g %% of the wavelength in the board (%s at %s, permittivity %g%s); %s allows at most %s, %s %s",
		what, is, measured/lambda*100, length(lambda), p.Board.Info().Frequency.Quantity, er, taken, most.Who, most.Quantity, b, most.From())
}

// ofWave tells whether a length is at worst too large a share of the wavelength.
func ofWave(p *checks.Pass, at source.Place, what string, size figures.Size, lambda float64, most checks.Limit, like ...board.Value) bool {
	return held(p, above(size.Worst, most.Value*lambda), func() checks.Margin {
		m := checks.Margin{At: at, What: what, Value: length(size.Nominal, like...), Limit: most, Against: quantity.Nanometres(most.Value * lambda), Most: true}
		if size.Worst-size.Nominal > board.Tolerance {
			m.Worst, m.Because, m.AtWorst = length(size.Worst, like...), size.Because(), true
		}
		return m
	})
}

// relatedAperture adds what a finding of overAperture rests on.
func relatedAperture(f *finding.Finding, size figures.Size, lambda float64, most checks.Limit) {
	if !above(size.Nominal, most.Value*lambda) {
		relatedTolerance(f, size.By)
	}
	relatedLimit(f, most)
}

// relatedTolerance adds where a tolerance is stated, by the text or by the shop.
func relatedTolerance(f *finding.Finding, t figures.Tolerance) {
	if t.At.Anchor == nil {
		return
	}
	who := t.Who
	if who == "" {
		who = "the board"
	}
	related(f, t.At, "%s sets the tolerance of %s", who, toleranceOf[t.Clause])
}
