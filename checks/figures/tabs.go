package figures

import (
	"math"

	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/rout"
)

const (
	// TabReach is the length taken for a tab that states none, nm: the width
	// of the slot that is routed between board and frame, 2 mm in common practice.
	TabReach = 2e6
	// TabFactor is how many times its share a tab must hold.
	TabFactor = 10.0
)

// Section is a tab where it is weakest: along its row of holes, or halfway
// along the slots beside it.
type Section struct {
	Net   float64 // width that is left, nm
	Waist float64 // width halfway along slots as wide as the bit, nm
	Bit   float64 // diameter of the bit that cuts them, nm
}

// AtWaist tells whether the tab is weakest at its waist.
func (s Section) AtWaist() bool { return s.Net == s.Waist }

// WeakestSection is a tab's, cut free by a board's bits.
func WeakestSection(t *board.Tab, bits *rout.Bits) Section {
	s := Section{Waist: bits.Waist(t), Bit: bits.Bit(t.Edge.Profile)}
	s.Net = s.Waist
	if t.Perforated {
		s.Net = math.Max(0, math.Min(s.Waist, t.Width.Value-float64(t.HoleCount())*t.Hole.Value))
	}
	return s
}

// BreakMoment is the moment at which a tab's net section breaks, N·mm, for a
// width and thickness in nm and a bending strength in Pa; 0 where nothing is left.
func BreakMoment(netWidth, thickness, strength float64) float64 {
	m, _ := physics.BreakMoment(quantity.InMetres(netWidth), quantity.InMetres(thickness), strength)
	return m * 1000
}

// boardMass is the mass of the bare board in grams, for an area in nm² and a
// thickness in nm.
func boardMass(area, thickness float64) float64 {
	m, _ := physics.BoardMass(quantity.InSquareMetres(area), quantity.InMetres(thickness))
	return m * 1000
}

// OutlineTabs lists the tabs on the outline.
func OutlineTabs(b *board.Board) []*board.Tab {
	var list []*board.Tab
	for _, t := range b.Tabs() {
		if t.Edge.Profile == b.Outline() {
			list = append(list, t)
		}
	}
	return list
}

// supports is the share of a weight of 1 at a mass centre that each of the
// points carries: the board is taken as stiff and the tabs as equal springs,
// so the shares are linear in x and y. Points on one line share evenly.
func supports(points []geom.Point, centre geom.Point) []float64 {
	n := float64(len(points))
	shares := make([]float64, len(points))
	var mean geom.Point
	for _, p := range points {
		mean = mean.Add(p.Scale(1 / n))
	}
	var xx, xy, yy float64
	for _, p := range points {
		d := p.Sub(mean)
		xx, xy, yy = xx+d.X*d.X, xy+d.X*d.Y, yy+d.Y*d.Y
	}
	// Solve [xx xy; xy yy]·(a, b) = centre − mean.
	det := xx*yy - xy*xy
	off := centre.Sub(mean)
	var a, b float64
	if det > 1e-9*xx*yy && det > 0 {
		a, b = (off.X*yy-off.Y*xy)/det, (off.Y*xx-off.X*xy)/det
	}
	for i, p := range points {
		d := p.Sub(mean)
		shares[i] = 1/n + a*d.X + b*d.Y
	}
	return shares
}

// Apart is the distance along a ring between two stretches of it, 0 where they meet.
func Apart(aFrom, aTo, bFrom, bTo, perimeter float64) float64 {
	least := math.Inf(1)
	for _, shift := range [...]float64{-perimeter, 0, perimeter} {
		least = math.Min(least, math.Max(0, math.Max(bFrom+shift-aTo, aFrom-bTo-shift)))
	}
	return least
}

// TabFigure is what is computed of a tab. The moments are bounds for
// glass-epoxy sheet, not measurements.
type TabFigure struct {
	Holes   int
	Section Section
	// Known tells that the board's thickness is, without which the rest is 0.
	Known   bool
	Holds   float64 // N·mm, at the least strength of the laminate's standard
	Breaks  float64 // N·mm, at the strength of typical sheets
	Carries float64 // grams of the board, with the parts whose mass is stated
}

// TabFigures computes a tab's figures, cut free by the board's bits.
func TabFigures(b *board.Board, t *board.Tab, bits *rout.Bits) TabFigure {
	f := TabFigure{Holes: t.HoleCount(), Section: WeakestSection(t, bits)}
	thickness, known := b.Thickness()
	if !known {
		return f
	}
	f.Known = true
	f.Holds = BreakMoment(f.Section.Net, thickness.Value, physics.BendingLeast)
	f.Breaks = BreakMoment(f.Section.Net, thickness.Value, physics.BendingTypical)
	tabs, grams := Carried(b)
	for i, g := range grams {
		if tabs[i] == t {
			f.Carries = g
		}
	}
	return f
}

// Weight is the mass, grams, of the bare board and the parts whose mass is stated,
// and its centre; ok is false where the board has no outline or no thickness.
func Weight(b *board.Board) (grams float64, centre geom.Point, ok bool) {
	region, closed := b.Region()
	thickness, known := b.Thickness()
	if !closed || !known {
		return 0, geom.Point{}, false
	}
	grams, centre = boardMass(region.Area(), thickness.Value), region.Centroid()
	for _, w := range b.Weights() {
		g := w.Mass * 1000
		grams += g
		centre = centre.Add(w.At.Sub(centre).Scale(g / grams))
	}
	return grams, centre, true
}

// Carried is how many grams of the board, with the parts whose mass is stated,
// each tab on the outline carries; nothing where the board has no outline or no thickness.
func Carried(b *board.Board) (tabs []*board.Tab, grams []float64) {
	mass, centre, ok := Weight(b)
	tabs = OutlineTabs(b)
	if !ok || len(tabs) == 0 {
		return nil, nil
	}
	points := make([]geom.Point, len(tabs))
	for i, t := range tabs {
		points[i] = t.Edge.Point(t.Position)
	}
	for _, share := range supports(points, centre) {
		grams = append(grams, math.Abs(share)*mass)
	}
	return tabs, grams
}
