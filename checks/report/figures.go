package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hemline/checks/figures"
	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/rout"
)

func is(name string, value float64, unit string) Figure {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return none(name, "has no finite value")
	}
	if math.Abs(value) < 1e-9 {
		value = 0 // what is left of rounding
	}
	return Figure{Name: name, Value: &value, Unit: unit}
}

func none(name, why string) Figure { return Figure{Name: name, Note: why} }

// of is a figure that a formula may not apply to.
func of(name string, value float64, ok bool, unit, why string) Figure {
	if !ok {
		return none(name, why)
	}
	return is(name, value, unit)
}

// atWorst adds the figure's worst case, where it differs.
func (f Figure) atWorst(v float64) Figure {
	if f.Value != nil && v != *f.Value {
		f.Worst = &v
	}
	return f
}

func (f Figure) with(note string) Figure { f.Note = note; return f }

const noThickness = "the board's thickness is not stated"
const noFrequency = "the board states no frequency"
const noCopper = "the wall's copper is not stated"

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

// openings lists the openings of all walls, what leaks most first.
func openings(b *board.Board, tolerances figures.Tolerances) []Opening {
	list := figures.Openings(b, tolerances)
	lambda, ok := figures.WavelengthIn(b)
	out := []Opening{}
	var holds []figures.Bound
	if ok {
		holds = figures.Holds(list, lambda)
	}
	for i, o := range list {
		x := Opening{Where: o.Stretch.Where(), Length: quantity.InMillimetres(o.Nominal), Worst: Worst{Length: quantity.InMillimetres(o.Worst)}}
		if o.Worst-o.Nominal > board.Tolerance {
			x.Worst.By = o.Because()
		}
		switch g := o.Gap; {
		case g == nil:
		case g.Tab != nil:
			x.OpenedBy, x.Closed = "tab "+g.Name.Text, true
		case g.Connector != nil:
			x.OpenedBy, x.Closed = "connector "+g.Name.Text, true
		default:
			x.Gap, x.Closed = g.Name.Text, true
		}
		if o.Tab != nil {
			x.Tab = o.Tab.Name.Text
		}
		if ok {
			share, worst := o.Nominal/lambda*100, o.Worst/lambda*100
			x.Share, x.Worst.Share, x.Worst.Holds = &share, &worst, &holds[i].Worst
			if o.Nominal > 0 {
				x.Holds = &holds[i].Nominal
			}
		}
		out = append(out, x)
	}
	slices.SortStableFunc(out, func(a, b Opening) int {
		if a.Worst.Holds != nil && b.Worst.Holds != nil && *a.Worst.Holds != *b.Worst.Holds {
			return cmp.Compare(*a.Worst.Holds, *b.Worst.Holds)
		}
		return cmp.Compare(b.Worst.Length, a.Worst.Length)
	})
	return out
}

// TabItem is a tab's figures, cut free by the board's bits.
func TabItem(b *board.Board, t *board.Tab, bits *rout.Bits) Item {
	f := figures.TabFigures(b, t, bits)
	i := Item{Kind: "tab", Name: t.Name.Text}
	i.Figures = append(i.Figures, is("width", quantity.InMillimetres(t.Width.Value), "mm").with("at its root, on the profile"),
		is("waist", quantity.InMillimetres(f.Section.Waist), "mm").with(fmt.Sprintf("halfway along slots of a bit of %s", quantity.Nanometres(f.Section.Bit))))
	if t.Perforated {
		i.Figures = append(i.Figures, is("holes", float64(f.Holes), ""))
	}
	where := "along its holes"
	if f.Section.AtWaist() {
		where = "its waist"
	}
	i.Figures = append(i.Figures, is("net width", quantity.InMillimetres(f.Section.Net), "mm").with(where))
	i.Figures = append(i.Figures,
		of("holds at least", f.Holds, f.Known, "N·mm", noThickness).with("345 N/mm², the least crosswise of the laminate's standard"),
		of("breaks at about", f.Breaks, f.Known, "N·mm", noThickness).with("689 N/mm², typical lengthwise"),
		of("share of the board's mass", f.Carries, f.Known, "g", noThickness))
	if t.Hand() {
		force := of("snapping force at 20 mm", f.Breaks/20, f.Known, "N", noThickness)
		if !t.Removal.How.Given() {
			force = force.with("taken as snapped off by hand: no removal is stated")
		}
		i.Figures = append(i.Figures, force)
	}
	return i
}

// CastellationItem is a row of half holes' figures.
func CastellationItem(b *board.Board, c *board.Castellation) Item {
	i := Item{Kind: "castellation", Name: c.Name.Text}
	t, known := b.Thickness()
	barrel := quantity.InSquareMillimetres(math.Pi / 2 * c.Hole.Value * t.Value)
	i.Figures = append(i.Figures, is("half holes", float64(len(c.Centres)), ""),
		of("copper left in each half hole", barrel, known, "mm²", noThickness).with("half of the barrel's wall"),
		is("land beside the hole", quantity.InMillimetres((c.LandWidth.Value-c.Hole.Value)/2), "mm"),
		is("land behind the hole", quantity.InMillimetres(c.LandLength.Value-c.Hole.Value/2), "mm"))
	if d := c.Short(); d > 0 {
		i.Figures = append(i.Figures, is("row ends short by", quantity.InMillimetres(d), "mm").with("of where it may end"))
	}
	if len(c.Centres) > 1 {
		i.Figures = append(i.Figures, is("board between holes", quantity.InMillimetres(c.Apart()-c.Hole.Value), "mm"))
	}
	return i
}

// FenceItem is a fence's figures.
func FenceItem(b *board.Board, f *board.Fence, tolerances figures.Tolerances) Item {
	pitch := figures.PitchOf(f, tolerances)
	i := Item{Kind: "fence", Name: f.Name.Text}
	way := figures.WayOf(f, tolerances)
	i.Figures = append(i.Figures, is("vias", float64(len(f.Vias)), ""), is("pitch", quantity.InMillimetres(f.Pitch.Value), "mm").atWorst(quantity.InMillimetres(pitch.Worst)).with(pitch.Because()),
		is("opening between vias", quantity.InMillimetres(f.Widest()-f.Hole.Value), "mm"))
	if f.LeftOut > 0 {
		i.Figures = append(i.Figures, is("vias left out by the clearance", float64(f.LeftOut), ""))
	}
	share := "pitch as a share of the wavelength"
	if f.Wide > f.Pitch.Value {
		i.Figures = append(i.Figures, is("longest way from via to via", quantity.InMillimetres(way.Nominal), "mm").atWorst(quantity.InMillimetres(way.Worst)).with(way.Because()))
		share = "that way as a share of the wavelength"
	}
	lambda, ok := figures.WavelengthIn(b)
	i.Figures = append(i.Figures, of(share, way.Nominal/lambda*100, ok, "%", noFrequency).atWorst(way.Worst/lambda*100))
	return i
}

func inGigahertz(hz float64) float64 {
	return quantity.Quantity{Value: hz, Dim: quantity.Frequency}.In(quantity.Gigahertz)
}
