package report

import (
	"fmt"

	"hemline/checks/figures"
	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/quantity"
)

// PlatingItem is a plating's figures.
func PlatingItem(b *board.Board, p *board.Plating, c *figures.Conductors) Item {
	i := Item{Kind: "plating", Name: p.Name.Text}
	add := func(f ...Figure) { i.Figures = append(i.Figures, f...) }
	long := b.PlatedLength(p)
	add(is("plated", quantity.InMillimetres(long), "mm"))
	if b.Outline() != nil {
		add(is("share of the outline", onOutline(b, p)/b.Outline().Path.Perimeter()*100, "%"))
	}
	add(is("bare stretches beside it", float64(b.OpeningCount(p)), ""))
	t, known := b.Thickness()
	wall := quantity.InSquareMillimetres(long * t.Value)
	add(of("wall area", wall, known, "mm²", noThickness))
	wraps := 0.0
	for _, f := range board.Faces {
		area := quantity.InSquareMillimetres(b.WrapArea(p, f))
		wraps += area
		add(is(fmt.Sprintf("wrap on %s", f), area, "mm²"))
	}
	if !p.Copper.Given() {
		add(none("copper mass", noCopper), none("resistance", noCopper))
		return i
	}
	mass, ok := physics.CopperMass((wall+wraps)*1e-6, quantity.InMetres(p.Copper.Value))
	add(of("copper mass, wall and wraps", mass*1000, ok && known, "g", noThickness))
	i.Figures = append(i.Figures, resistances(b, p, c, long, t.Value, known)...)
	i.Figures = append(i.Figures, waves(b, p)...)
	return i
}

// onOutline is the plated length on the outline, nm.
func onOutline(b *board.Board, p *board.Plating) float64 {
	sum := 0.0
	for s := range b.FinishedBy(p) {
		if s.Profile == b.Outline() {
			sum += s.Length()
		}
	}
	return sum
}

func waves(b *board.Board, p *board.Plating) []Figure {
	if b.Info() == nil || !b.Info().Frequency.Given() {
		return []Figure{none("skin depth", noFrequency)}
	}
	depth, ok := physics.SkinDepth(b.Info().Frequency.Value, physics.Rho20)
	absorbs, also := physics.Absorption(quantity.InMetres(p.Copper.Value), depth)
	f := of("absorption of the wall", absorbs, also, "dB", noCopper)
	if also && absorbs < 10 {
		f.Note = "under 10 dB reflections inside the wall matter too"
	}
	return []Figure{of("skin depth", quantity.InMicrometres(quantity.OfMetres(depth)), ok, "µm", noFrequency), f}
}
