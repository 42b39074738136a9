package report

import (
	"fmt"

	"hemline/checks/figures"
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
		mass, ok := figures.MassOf(b)
		list = append(list, of("mass, bare", mass.Bare(), ok, "g", noThickness).within(mass.BareLeast(), mass.BareMost()).with(weighed(mass, ok)))
		c := region.Centroid()
		if ok {
			c = mass.Centre
		}
		if parts := b.Weights(); len(parts) > 0 {
			list = append(list, of("mass, with parts", mass.Whole(), ok, "g", noThickness).with(fmt.Sprintf("%d with a mass stated", len(parts))))
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
	list = append(list, of("wavelength in the board", quantity.InMillimetres(lambda), ok, "mm", noFrequency), of("λ/20", quantity.InMillimetres(lambda/20), ok, "mm", noFrequency))
	if ok {
		list[len(list)-2].Note = note
		dB, bound := figures.Shielding(b, tolerances)
		list = append(list, of("shielding bound of the wall", dB.Nominal, bound, "dB", "nothing leaks or absorbs that is known").atWorst(dB.Worst).with("far field, thin wall; the lowest of the openings' and the copper's"))
	}
	mode, ok := figures.FirstMode(b)
	list = append(list, of("first cavity mode", inGigahertz(mode.F), ok, "GHz", "needs a rectangular outline, two planes and a plated wall"))
	return list
}

// weighed says what counts in a board's mass.
func weighed(m figures.Mass, known bool) string {
	switch {
	case !known:
		return noThickness
	case !m.Foils:
		return "no stack is stated: laminate of 1.8 to 1.9 g/cm³ all through, and the walls' copper"
	}
	return fmt.Sprintf("laminate of 1.8 to 1.9 g/cm³, and %.3g g of copper: planes, features, walls and wraps as stated", m.Copper)
}

func inGigahertz(hz float64) float64 {
	return quantity.Quantity{Value: hz, Dim: quantity.Frequency}.In(quantity.Gigahertz)
}
