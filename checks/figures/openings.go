// Package figures works out what a board comes to: its openings, walls, tabs
// and waves, each in one place for the rules, the report, notes and drawings.
// Lengths are in nm as the board has them, what the formulas of checks/physics
// give in SI units.
package figures

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// GapRange is where a gap lies along its profile's path.
type GapRange struct {
	Gap      *board.Gap
	From, To float64 // nm along the path; To may lie beyond its end
}

// GapRanges lists the gaps on each profile by where they start along its path.
func GapRanges(b *board.Board) map[*board.Profile][]GapRange {
	ranges := map[*board.Profile][]GapRange{}
	for _, g := range b.Gaps() {
		from, to := g.Edge.Range(g.From, g.To)
		ranges[g.Edge.Profile] = append(ranges[g.Edge.Profile], GapRange{g, from, to})
	}
	for _, list := range ranges {
		slices.SortStableFunc(list, func(a, b GapRange) int { return cmp.Compare(a.From, b.From) })
	}
	return ranges
}

// Opening is a place where a wall is open.
type Opening struct {
	// Stretch is what is open, after a connector's body closed its part; of what is
	// open at worst alone, that.
	Stretch board.Stretch
	// Gap makes it, or the root of the premetallised Tab, bare once that is cut;
	// both are nil where the plating just does not go on.
	Gap *board.Gap
	Tab *board.Tab
	// Size is its longest dimension: along the edge, or the wall's height where
	// that is more and known. It is 0 as drawn where it is open at worst alone.
	Size
	// Behind is the row of vias that closes it in part; nil for none.
	Behind *Row

	ends    [2]*board.Plating // the platings that end there, before it and after it
	atWorst geom.Interval     // where it is open at worst, nm along the path
	height  Size
}

// Made tells whether something in the text makes the opening: an edge that no
// plating runs on is open too, but no statement opened it.
func (o Opening) Made() bool { return o.Gap != nil || o.Tab != nil }

// Maker is what makes the opening, in words, the items that it is on, and where the
// text says so. One that nothing makes is on the platings that end there; where none
// does, ok is false.
func (o Opening) Maker() (words string, items []string, at source.Place, ok bool) {
	switch {
	case o.Gap != nil:
		return o.Gap.Title(), []string{o.Gap.Name.Text}, o.Gap.Stretch, true
	case o.Tab != nil:
		return "the root of tab " + o.Tab.Name.Text, []string{o.Tab.Name.Text}, o.Tab.PositionAt, true
	}
	for _, p := range o.ends {
		if p != nil && !slices.Contains(items, p.Name.Text) {
			items = append(items, p.Name.Text)
			at = p.Name.At
		}
	}
	return "the bare edge", items, at, len(items) > 0
}

// In tells whether an opening is one of a plating's wall.
func (o Opening) In(b *board.Board, p *board.Plating) (in bool) {
	switch {
	case o.Gap != nil:
		return o.Gap.Of.Text == p.Name.Text
	case o.Tab != nil:
		from, to := o.Tab.Range()
		b.Wall(o.Stretch.Profile).PlatedIn(from, to, func(s board.Stretch) { in = in || s.Plating == p })
	}
	return in
}

// Openings lists where the plated profiles are open, in order along each, and where
// an outline that fences alone wall in is. A gap that is `bridged` is open only
// beside the body of its connector. At worst each end of a plated stretch is farther
// off; what a root or a body ends is not.
func Openings(b *board.Board, tolerances Tolerances) []Opening {
	height := heightOf(b, tolerances)
	ends := tolerances("gaps")
	gaps := GapRanges(b)
	var list []Opening
	for _, p := range b.Profiles() {
		vias := viasAlong(b, p, tolerances)
		if len(b.Wall(p).Plated) == 0 && len(vias) == 0 {
			continue
		}
		plated := endsOf(b, p)
		for _, s := range b.Finished(p).Bare {
			list = append(list, opened(b, s, gaps[p], plated, ends, height, vias)...)
		}
	}
	return list
}

// opened are the openings of one bare stretch.
func opened(b *board.Board, s board.Stretch, gaps []GapRange, plated func(at float64) bool, ends Tolerance, height Size, vias []via) (list []Opening) {
	before, after := 0.0, 0.0
	if !s.Round() && plated(s.From) {
		before = ends.Value
	}
	if !s.Round() && plated(s.To) {
		after = ends.Value
	}
	gap, open := openPart(b, gaps, s, before, after)
	var tab *board.Tab
	if gap == nil {
		if roots := b.RootsIn(s); len(roots) > 0 {
			tab = roots[0]
		}
	}
	for _, worst := range open {
		o := Opening{Stretch: board.Stretch{Profile: s.Profile, From: math.Max(worst.From, s.From), To: math.Min(worst.To, s.To)}, Gap: gap, Tab: tab, ends: endsAt(b, s), atWorst: worst, height: height}
		o.Size = Size{Nominal: math.Max(o.Stretch.Length(), height.Nominal), Worst: worst.Length(), By: ends}
		if o.Stretch.Length() <= board.Tolerance {
			o.Stretch.From, o.Stretch.To, o.Nominal = worst.From, worst.To, 0
		}
		switch before, after := s.From-worst.From > board.Tolerance, worst.To-s.To > board.Tolerance; {
		case before && after:
			o.Each = " at each end"
		case before || after:
			o.Each = " at one end"
		}
		if o.Worst < height.Worst {
			o.Worst, o.By, o.Each = height.Worst, height.By, ""
		}
		o.Behind = rowBehind(o, vias)
		list = append(list, o)
	}
	return list
}

// endsAt are the platings that end before and after a bare stretch.
func endsAt(b *board.Board, s board.Stretch) (ends [2]*board.Plating) {
	if s.Round() {
		return ends
	}
	for i, at := range [...]float64{s.From, s.To} {
		b.Wall(s.Profile).PlatedIn(at, at, func(w board.Stretch) { ends[i] = w.Plating })
	}
	return ends
}

// heightOf is how high the walls are, 0 where the thickness is not known.
func heightOf(b *board.Board, tolerances Tolerances) Size {
	t, ok := b.Thickness()
	if !ok {
		return Size{}
	}
	by := tolerances("thickness")
	s := Size{Nominal: t.Value, Worst: t.Value + by.Value, By: by}
	if by.Dim == quantity.None {
		s.Worst = t.Value * (1 + by.Value)
	}
	return s
}

// endsOf tells of a place along a profile's path, where the finished wall ends,
// whether the plating ends there, rather than the root of a tab.
func endsOf(b *board.Board, p *board.Profile) func(at float64) bool {
	drawn := b.Wall(p)
	if drawn == b.Finished(p) {
		return func(float64) bool { return true }
	}
	l := p.Path.Perimeter()
	var ends []float64
	for _, s := range drawn.Bare {
		for _, at := range [...]float64{s.From, s.To} {
			ends = append(ends, at-l, at, at+l)
		}
	}
	slices.Sort(ends)
	return func(at float64) bool {
		i := sort.SearchFloat64s(ends, at-board.Tolerance)
		return i < len(ends) && ends[i] <= at+board.Tolerance
	}
}

// openPart is what of a bare stretch stays open where its plated ends are farther
// off by before and after, and the first gap in it.
func openPart(b *board.Board, gaps []GapRange, s board.Stretch, before, after float64) (*board.Gap, geom.Intervals) {
	l := s.Profile.Path.Perimeter()
	open := geom.Intervals{{From: s.From - before, To: s.To + after}}
	var first *board.Gap
	for _, shift := range [...]float64{-l, 0, l} {
		// In order of their starts; one that starts before the stretch makes a
		// part of it only if the plating does not go on before it.
		i := max(sort.Search(len(gaps), func(i int) bool { return gaps[i].From+shift >= s.From })-1, 0)
		for ; i < len(gaps) && gaps[i].From+shift < s.To; i++ {
			g := gaps[i]
			part := geom.Interval{From: math.Max(g.From+shift, s.From), To: math.Min(g.To+shift, s.To)}
			if part.Length() <= board.Tolerance {
				continue
			}
			if first == nil {
				first = g.Gap
			}
			if part.From <= s.From+board.Tolerance {
				part.From -= before
			}
			if part.To >= s.To-board.Tolerance {
				part.To += after
			}
			open = geom.Subtract(open, closed(b, g.Gap, part), board.Tolerance)
		}
	}
	return first, open
}

// closed is what of a part of a gap its connector's body closes: what the body
// covers of it, where the gap says that it is bridged.
func closed(b *board.Board, g *board.Gap, part geom.Interval) (list geom.Intervals) {
	c := g.BridgedBy(b)
	if c == nil || c.Edge != g.Edge {
		return nil
	}
	l := g.Edge.Profile.Path.Perimeter()
	from, to := c.Edge.Range(c.BodyAt(g))
	for _, shift := range [...]float64{-l, 0, l} {
		list = append(list, geom.Interval{From: math.Max(part.From, from+shift), To: math.Min(part.To, to+shift)})
	}
	return geom.Union(list, board.Tolerance)
}
