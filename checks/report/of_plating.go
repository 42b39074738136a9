package report

import (
	"fmt"

	"hemline/checks/figures"
	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/quantity"
)

// PlatingItem is a plating's figures.
func PlatingItem(b *board.Board, p *board.Plating) Item {
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
	i.Figures = append(i.Figures, resistances(b, p, long, t.Value, known)...)
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

func resistances(b *board.Board, p *board.Plating, long, height float64, known bool) []Figure {
	switch {
	case !known:
		return []Figure{none("resistance", noThickness)}
	case long <= 0:
		return []Figure{none("resistance", "it plates nothing, or nothing that no plating stated before it plates")}
	}
	longest, ok := Continuity(b, p)
	between := "at 20 °C, smooth copper"
	if ok && longest.Stretch.Round() {
		between += ", between opposite points: it runs all round"
	}
	sheet, _ := physics.SheetResistance(physics.Rho20, quantity.InMetres(p.Copper.Value))
	across, also := physics.StripResistance(sheet, quantity.InMetres(height), quantity.InMetres(long))
	carries, valid := figures.WallCurrent(b, p, 10)
	return []Figure{
		of("resistance along the longest stretch", longest.Computed*1000, ok, "mΩ", noCopper).with(between),
		of("continuity limit to ask for there", longest.Maximum*1000, ok, "mΩ", noCopper).with("twice the computed value, four-wire; common practice"),
		of("resistance from face to face", across*1000, also, "mΩ", noCopper).with("all stretches side by side"),
		of("current along the wall for 10 K", carries, valid, "A", "outside the formula's validity (10 to 100 K, up to 35 A)"),
	}
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
