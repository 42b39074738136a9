package report

import (
	"fmt"
	"strings"

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
	add(Plated(b, p)...)
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

// SharesBegin is how the names of the figures begin that tell how much of a profile a
// plating covers.
const SharesBegin = "share of "

// Plated is how long a plating is, and how much it covers of each profile that it runs on.
func Plated(b *board.Board, p *board.Plating) []Figure {
	list := []Figure{is("plated", quantity.InMillimetres(b.PlatedLength(p)), "mm")}
	share := func(of string, long, perimeter float64) {
		list = append(list, is(SharesBegin+of, long/perimeter*100, "%"))
	}
	on := map[*board.Profile]float64{} // nm
	for s := range b.FinishedBy(p) {
		on[s.Profile] += s.Length()
	}
	if o := b.Outline(); o != nil && (on[o] > 0 || len(on) == 0) {
		share("the outline", on[o], o.Path.Perimeter())
	}
	var cutouts []*board.Profile
	long, perimeter := 0.0, 0.0
	for _, x := range b.Profiles() {
		if x != b.Outline() && on[x] > 0 {
			cutouts = append(cutouts, x)
			long, perimeter = long+on[x], perimeter+x.Path.Perimeter()
		}
	}
	switch len(cutouts) {
	case 0:
	case 1:
		share("cutout "+cutouts[0].Name, long, perimeter)
	default:
		share(fmt.Sprintf("its %d cutouts", len(cutouts)), long, perimeter)
	}
	return list
}

// PlatedOf says that in a line, after a length: ", 100 % of cutout earth".
func PlatedOf(b *board.Board, p *board.Plating) (s string) {
	for _, f := range Plated(b, p)[1:] {
		s += ", " + f.Show() + " of " + strings.TrimPrefix(f.Name, SharesBegin)
	}
	return s
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
