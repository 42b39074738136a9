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
	Stretch board.Stretch // what is open, after a connector's body closed its part
	// Gap makes it, or the root of the premetallised Tab, bare once that is cut;
	// both are nil where the plating just does not go on.
	Gap *board.Gap
	Tab *board.Tab
	// Longest is its longest dimension, nm: along the edge, or the wall's
	// height where that is more and known.
	Longest float64
}

// Made tells whether something in the text makes the opening: an edge that no
// plating runs on is no part of the wall.
func (o Opening) Made() bool { return o.Gap != nil || o.Tab != nil }

// Maker is what makes the opening, in words, its name, and where it says so.
func (o Opening) Maker() (words, name string, at source.Place) {
	if o.Gap != nil {
		return o.Gap.Title(), o.Gap.Name.Text, o.Gap.Stretch
	}
	return "the root of tab " + o.Tab.Name.Text, o.Tab.Name.Text, o.Tab.PositionAt
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

// Openings lists where the plated profiles are open, in order along each. A
// gap that is `bridged` is open only beside the body of its connector.
func Openings(b *board.Board) []Opening {
	height := 0.0
	if t, ok := b.Thickness(); ok {
		height = t.Value
	}
	gaps := GapRanges(b)
	var list []Opening
	for _, p := range b.Profiles() {
		wall := b.Finished(p)
		if len(b.Wall(p).Plated) == 0 {
			continue
		}
		for _, s := range wall.Bare {
			gap, open := openPart(b, gaps[p], s)
			var tab *board.Tab
			if gap == nil {
				if roots := b.RootsIn(s); len(roots) > 0 {
					tab = roots[0]
				}
			}
			for _, o := range open {
				list = append(list, Opening{o, gap, tab, math.Max(o.Length(), height)})
			}
		}
	}
	return list
}

// openPart is what of a bare stretch stays open, and the first gap in it.
func openPart(b *board.Board, gaps []GapRange, s board.Stretch) (*board.Gap, []board.Stretch) {
	l := s.Profile.Path.Perimeter()
	open := geom.Intervals{{From: s.From, To: s.To}}
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
			open = geom.Subtract(open, closed(b, g.Gap, part), board.Tolerance)
		}
	}
	var list []board.Stretch
	for _, o := range open {
		list = append(list, board.Stretch{Profile: s.Profile, From: o.From, To: o.To})
	}
	return first, list
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
