package report

import (
	"fmt"
	"hemline/checks/figures"
	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/quantity"
)

// BoardFigures are the board's as a whole.
func BoardFigures(b *board.Board, tolerances figures.Tolerances) []Figure {
	var list []Figure
	t, known := b.Thickness()
	list = append(list, of("thickness", quantity.InMillimetres(t.Value), known, "mm", noThickness))
	if region, ok := b.Region(); ok {
		list = append(list, is("outline", quantity.InMillimetres(region.Outer.Perimeter()), "mm"), is("area", quantity.InSquareMillimetres(region.Area()), "mm²"))
		mass, ok := physics.BoardMass(quantity.InSquareMetres(region.Area()), quantity.InMetres(t.Value))
		list = append(list, of("mass, bare", mass*1000, ok, "g", noThickness))
		c := region.Centroid()
		if parts := b.Weights(); len(parts) > 0 {
			grams, centre, ok := figures.Weight(b)
			list = append(list, of("mass, with parts", grams, ok, "g", noThickness).with(fmt.Sprintf("%d with a mass stated", len(parts))))
			if ok {
				c = centre
			}
		}
		list = append(list, is("centre of mass, x", quantity.InMillimetres(c.X), "mm"), is("centre of mass, y", quantity.InMillimetres(c.Y), "mm"))
		list = append(list, is("plated part of the outline", b.Finished(b.Outline()).Share*100, "%"))
	}
	lambda, ok := figures.WavelengthIn(b)
	er, stated := figures.Permittivity(b)
	note := fmt.Sprintf("relative permittivity %g", er)
	if !stated {
		note += ", taken since none is stated"
	}
	list = append(list, of("wavelength in the board", quantity.InMillimetres(lambda), ok, "mm", noFrequency), of("λ/10", quantity.InMillimetres(lambda/10), ok, "mm", noFrequency), of("λ/20", quantity.InMillimetres(lambda/20), ok, "mm", noFrequency))
	if ok {
		list[len(list)-3].Note = note
		list = append(list, shielding(b, tolerances)...)
	}
	mode, ok := figures.FirstMode(b)
	list = append(list, of("first cavity mode", inGigahertz(mode.F), ok, "GHz", "needs a rectangular outline, two planes and a plated wall"))
	return list
}

func inGigahertz(hz float64) float64 {
	return quantity.Quantity{Value: hz, Dim: quantity.Frequency}.In(quantity.Gigahertz)
}

// shielding is the bound that the openings set on what the wall shields, or why there is none.
func shielding(b *board.Board, tolerances figures.Tolerances) []Figure {
	const name = "shielding of the wall"
	s, ok := figures.ShieldOf(b, tolerances)
	switch {
	case !ok:
		return []Figure{none(name, "no edge of the outline is plated")}
	case s.Worst.Sum == 0:
		return []Figure{told(name, "no opening known")}
	case !s.Worst.Told():
		return []Figure{told(name, fmt.Sprintf("over %g dB, where the bound by openings tells nothing", figures.MostTold))}
	}
	if s.Drawn.None() {
		return []Figure{told(name, fmt.Sprintf("no shield: %s of openings lie within half a wavelength", measure(quantity.InMillimetres(s.Drawn.Sum), "mm")))}
	}
	f := told(name, "closed as drawn, "+figures.Says(s))
	if s.Drawn.Told() {
		f = is(name, s.Drawn.DB, "dB").bound(atMost).atWorst(s.Worst.DB).with("far field, thin wall; openings within half a wavelength add up")
	}
	list := []Figure{f, is("openings within λ/2 together", quantity.InMillimetres(s.Drawn.Sum), "mm").atWorst(quantity.InMillimetres(s.Worst.Sum)).with("where they are most")}
	if want := b.Info().Shielding; want.Given() {
		list = append(list, is(fmt.Sprintf("openings that %s allow there", want), quantity.InMillimetres(figures.AllowedSum(s.Lambda, want.Value)), "mm"))
	}
	return list
}
