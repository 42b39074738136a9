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
		mass, ok := figures.MassOf(b)
		list = append(list, of("mass, bare", mass.Bare(), ok, "g", noThickness).within(mass.BareLeast(), mass.BareMost()).with(weighed(mass, ok)))
		c := region.Centroid()
		if ok {
			c = mass.Centre
		}
		if parts := b.Weights(); len(parts) > 0 {
			list = append(list, of("mass, with parts", mass.Whole(), ok, "g", noThickness).with(fmt.Sprintf("%d with a mass stated", len(parts))))
		}
		list = append(list, sag(b, mass, t.Value, ok))
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
	if len(cavities) == 0 {
		list = append(list, none("first mode of the planes", "no two planes on neighbouring layers lie over each other"))
	}
	for _, r := range cavities {
		list = append(list, FirstMode(r))
	}
	return list
}

// sag is that of the board across its longer side, held along the two edges at its ends.
func sag(b *board.Board, m figures.Mass, thickness float64, known bool) Figure {
	const name = "sag across the longer side"
	region, _ := b.Region()
	box := b.Outline().Path.Box()
	long := max(box.Max.X-box.Min.X, box.Max.Y-box.Min.Y)
	of := func(modulus float64) (float64, bool) {
		s, ok := physics.Sag(m.Whole()/1000, quantity.InMetres(long), quantity.InSquareMetres(region.Area())/quantity.InMetres(long), quantity.InMetres(thickness), modulus)
		return s * 1e6, ok && known
	}
	least, ok := of(physics.YoungLengthwise)
	most, _ := of(physics.YoungCrosswise)
	if !ok {
		return none(name, noThickness)
	}
	return is(name, most, "µm").within(least, most).with("at room temperature, held along both ends, its mass spread evenly; none is stated for the oven, where it is several times as much")
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
		f = is(name, s.Drawn.DB, "dB").bound(atMost).atWorst(s.Worst.DB).with("far field, thin wall; openings within half a wavelength add up in phase, at " + s.Drawn.Frequency(b).String())
	}
	list := []Figure{f, is("openings within λ/2 together", quantity.InMillimetres(s.Drawn.Sum), "mm").atWorst(quantity.InMillimetres(s.Worst.Sum)).with("where they are most")}
	if want := b.Info().Shielding; want.Given() {
		list = append(list, is(fmt.Sprintf("openings that %s allow there", want), quantity.InMillimetres(figures.AllowedSum(s.Lambda, want.Value)), "mm"))
	}
	return list
}
