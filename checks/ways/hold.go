package ways

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

const (
	// costHold is that of the tabs of a board that has none.
	costHold = 3
	// mostOnEdge is how many tabs are stated on one edge.
	mostOnEdge = 6
	// leastTab is the width of such a tab, nm, where no limit asks for more: common practice, no source.
	leastTab = 3e6
)

// hold looks for the tabs that would hold a board that has none on its outline: on its two
// longest edges, on the next two, or on all, evenly apart.
func (s *seeker) hold() {
	rule := s.catalogue.Named(s.f.Rule)
	outline := s.a.Board().Outline()
	if rule == nil || rule.Group != checks.GroupTabs || outline == nil ||
		slices.ContainsFunc(s.a.Board().Tabs(), func(t *board.Tab) bool { return !t.Edge.Profile.Cutout }) {
		return
	}
	least, most := s.limits.Minimum("tab_width_solid").Value, s.limits.Maximum("tab_width_solid").Value
	width := math.Max(least, math.Min(leastTab, most))
	var edges []*board.Edge
	for _, e := range outline.Edges {
		if e.Length > 4*width {
			edges = append(edges, e)
		}
	}
	slices.SortStableFunc(edges, func(x, y *board.Edge) int { return cmp.Compare(math.Round(y.Length), math.Round(x.Length)) })
	sets := [][]*board.Edge{edges}
	if len(edges) > 2 {
		sets = [][]*board.Edge{edges[:2], edges[2:min(4, len(edges))], edges}
	}
	unit := s.textUnit()
	margin := math.Max(s.limits.Minimum("tab_gap").Value, (s.limits.Minimum("gap_width").Value-width)/2)
	var tries []Way // the fewest tabs first
	for _, set := range sets {
		for n := 1; n <= mostOnEdge && len(set) > 0; n++ {
			for _, opens := range []string{"", " opens margin " + roundedUp(margin, unit)} {
				tries = append(tries, s.holding(set, n, unit, " width "+roundedUp(width, unit)+" solid"+opens, opens))
			}
		}
	}
	slices.SortStableFunc(tries, func(x, y Way) int { return cmp.Compare(x.cost, y.cost) })
	s.least(slices.Values(tries))
}

// roundedUp is a length in a unit, rounded up to what is stated of a tab.
func roundedUp(nm float64, unit *quantity.Unit) string {
	grid := 0.05
	if unit != quantity.Millimetre {
		grid = 1
	}
	return decimal(math.Ceil(quantity.Nanometres(nm).In(unit)/grid-1e-9)*grid) + " " + unit.Name
}

// textUnit is the first unit of length in the text that is not metric; millimetres where there is none.
func (s *seeker) textUnit() *quantity.Unit {
	for _, x := range s.a.Document().Statements() {
		if r := syntax.Read(x); r != nil {
			if u := unitOf(r); u != quantity.Millimetre {
				return u
			}
		}
	}
	return quantity.Millimetre
}

// holding is the way of n tabs on each of some edges, each of which says the same of itself.
func (s *seeker) holding(edges []*board.Edge, n int, unit *quantity.Unit, says, opens string) Way {
	var lines, said []string
	for _, e := range edges {
		name := s.unused("hold")
		if len(edges) > 1 {
			name = s.unused("hold_" + e.Name)
		}
		at := evenly(e, n, unit)
		lines = append(lines, fmt.Sprintf("tab %s on %s at %s%s", syntax.Quote(name), syntax.Refer(e.Name), at, says))
		said = append(said, fmt.Sprintf("on %s at %s", e.Name, at))
	}
	what := "state a tab "
	if n*len(edges) > 1 {
		what = fmt.Sprintf("state %d tabs ", n*len(edges))
	}
	return Way{Title: what + strings.Join(said, ", ") + opens, Edits: []source.Edit{s.root.Append(strings.Join(lines, "\n"))}, cost: costHold + float64(n*len(edges))/10}
}

// evenly are n places along an edge, as far from each other as twice from its ends; round a rim, all
// as far from each other.
func evenly(e *board.Edge, n int, unit *quantity.Unit) string {
	if n == 1 && !e.Closed {
		return syntax.Middle
	}
	var list []string
	for k := range n {
		if e.Closed {
			list = append(list, strconv.Itoa(k*360/n)+" deg")
		} else {
			list = append(list, placeAt(e.Length*(float64(k)+0.5)/float64(n), unit))
		}
	}
	return strings.Join(list, ", ")
}

// placeAt is a position, nm, in a unit, rounded to what is stated of a tab.
func placeAt(nm float64, unit *quantity.Unit) string {
	grid := 0.5
	if unit != quantity.Millimetre {
		grid = 25
	}
	return decimal(math.Round(quantity.Nanometres(nm).In(unit)/grid)*grid) + " " + unit.Name
}
