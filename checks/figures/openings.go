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
	Gap     *board.Gap    // the gap that makes it; nil where the plating just does not go on
	// Longest is its longest dimension, nm: along the edge, or the wall's
	// height where that is more and known.
	Longest float64
}

// Openings lists where the plated profiles are open, in order along each. A
// gap that is `closed` is open only beside its connector's body.
func Openings(b *board.Board) []Opening {
	height := 0.0
	if t, ok := b.Thickness(); ok {
		height = t.Value
	}
	gaps := GapRanges(b)
	var list []Opening
	for _, p := range b.Profiles() {
		wall := b.Wall(p)
		if len(wall.Plated) == 0 {
			continue
		}
		for _, s := range wall.Bare {
			gap, open := openPart(b, gaps[p], s)
			for _, o := range open {
				list = append(list, Opening{o, gap, math.Max(o.Length(), height)})
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
			from, to := math.Max(g.From+shift, s.From), math.Min(g.To+shift, s.To)
			if to-from <= board.Tolerance {
				continue
			}
			if first == nil {
				first = g.Gap
			}
			if !g.Gap.Bridged {
				continue
			}
			if c := g.Gap.ForConnector(b); c != nil && c.Edge == g.Gap.Edge {
				a, z := c.Edge.Range(c.BodyAt(g.Gap))
				from, to = math.Max(from, a+shift), math.Min(to, z+shift)
			}
			if to-from > board.Tolerance {
				open = geom.Subtract(open, geom.Intervals{{From: from, To: to}}, board.Tolerance)
			}
		}
	}
	var list []board.Stretch
	for _, o := range open {
		if o.Length() > board.Tolerance {
			list = append(list, board.Stretch{Profile: s.Profile, From: o.From, To: o.To})
		}
	}
	return first, list
}
