package report

import (
	"fmt"

	"hemline/checks/figures"
	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/quantity"
)

// BoardFigures are the board's as a whole.
func BoardFigures(b *board.Board, tolerances figures.Tolerances, cavities []figures.Resonance) []Figure {
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
	list = append(list, of("wavelength in the board", quantity.InMillimetres(lambda), ok, "mm", noFrequency), of("λ/20", quantity.InMillimetres(lambda/20), ok, "mm", noFrequency))
	if ok {
		list[len(list)-2].Note = note
		dB, bound := figures.Shielding(b, tolerances)
		list = append(list, of("shielding bound of the wall", dB.Nominal, bound, "dB", "nothing leaks or absorbs that is known").atWorst(dB.Worst).with("far field, thin wall; the lowest of the openings' and the copper's"))
	}
	if len(cavities) == 0 {
		list = append(list, none("first mode of the planes", "no two planes on neighbouring layers lie over each other"))
	}
	for _, r := range cavities {
		list = append(list, FirstMode(r))
	}
	return list
}
