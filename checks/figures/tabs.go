package figures

import (
	"math"

	"hemline/checks/physics"
	"hemline/lang/board"
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

// Section is a tab where it is weakest: along its row of holes, which takes its
// holes out of the root, or halfway along the slots beside it.
type Section struct {
	Root  float64 // width on the profile, nm
	Net   float64 // width that is left, nm
	Waist float64 // width halfway along slots as wide as the bit, nm
	Bit   float64 // diameter of the bit that cuts them, nm
}

// AtWaist tells whether the tab is weakest at its waist.
func (s Section) AtWaist() bool { return s.Net == s.Waist }

// WeakestSection is a tab's, cut free by a board's bits.
func WeakestSection(t *board.Tab, bits *rout.Bits) Section {
	cut := bits.Tab(t)
	s := Section{Root: cut.Root, Waist: cut.Waist, Bit: cut.Bit}
	s.Net = s.Waist
	if t.Perforated {
		taken := float64(t.HoleCount())*t.Hole.Value + 2*math.Min(0, t.EndWeb(s.Root))
		s.Net = math.Max(0, math.Min(s.Waist, s.Root-taken))
	}
	return s
}

// BreakMoment is the moment at which a tab's net section breaks, N·mm, for a
// width and thickness in nm and a bending strength in Pa; 0 where nothing is left.
func BreakMoment(netWidth, thickness, strength float64) float64 {
	m, _ := physics.BreakMoment(quantity.InMetres(netWidth), quantity.InMetres(thickness), strength)
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

// TabFigure is what is computed of a tab. The moments are bounds for
// glass-epoxy sheet, not measurements.
type TabFigure struct {
	Holes   int
	Section Section
	// Known tells that the board's thickness is, without which the rest is 0.
	Known  bool
	Holds  float64 // N·mm, at the least strength of the laminate's standard
	Breaks float64 // N·mm, at the strength of typical sheets
	// Carries is what it bears of the weight of the board and of the parts whose mass
	// is stated; Untold is why that is not told, or "".
	Carries Support
	Untold  string
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
	carried, ok := Carried(b), false
	if f.Carries, ok = carried.Of(t); !ok {
		if f.Untold = carried.Unknown; f.Untold == "" {
			f.Untold = "it does not stand on the outline"
		}
	}
	return f
}
