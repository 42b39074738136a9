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
	least, most := s.limits().Minimum("tab_width_solid").Value, s.limits().Maximum("tab_width_solid").Value
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
	var tries []Way // the fewest tabs first
	for _, set := range sets {
		for n := 1; n <= mostOnEdge && len(set) > 0; n++ {
			for _, opens := range s.openings(width) {
				tries = append(tries, s.holding(set, n, width, opens))
			}
		}
	}
	slices.SortStableFunc(tries, func(x, y Way) int { return cmp.Compare(x.cost, y.cost) })
	var best *Way
	for _, w := range tries {
		if s.ctx.Err() != nil || best != nil && len(best.Brings) == 0 {
			break
		}
		if !s.gone(w.Edits) {
			continue
		}
		if w, ok := s.tried(w); ok && (best == nil || len(w.Brings) < len(best.Brings)) {
			best = &w
		}
	}
	if best != nil {
		s.statement = nil
		s.keep(*best)
	}
}

// openings are what such a tab says of the plating that it stands on: nothing, or what it keeps off.
func (s *seeker) openings(width float64) []string {
	margin := math.Max(s.limits().Minimum("tab_gap").Value, (s.limits().Minimum("gap_width").Value-width)/2)
	return []string{"", " opens margin " + s.written(margin)}
}

// written is a length in the text's unit, rounded up to what is readily stated.
func (s *seeker) written(nm float64) string {
	unit, grid := s.textUnit(), 0.05
	if unit != quantity.Millimetre {
		grid = 1
	}
	return decimal(math.Ceil(quantity.Nanometres(nm).In(unit)/grid-1e-9)*grid) + " " + unit.Name
}

// textUnit is the first unit of length in the text that is not metric; millimetres where there is none.
func (s *seeker) textUnit() *quantity.Unit {
	for _, x := range s.a.Document().Statements() {
		if s.reading = syntax.Read(x); s.reading != nil {
			if u := s.unit(); u != quantity.Millimetre {
				return u
			}
		}
	}
	return quantity.Millimetre
}

// holding is the way of n tabs on each of some edges.
func (s *seeker) holding(edges []*board.Edge, n int, width float64, opens string) Way {
	var text strings.Builder
	var said []string
	for _, e := range edges {
		name := s.unused("hold")
		if len(edges) > 1 {
			name = s.unused("hold_" + e.Name)
		}
		at := s.evenly(e, n)
		fmt.Fprintf(&text, "tab %s on %s at %s width %s solid%s\n", syntax.Quote(name), syntax.Refer(e.Name), at, s.written(width), opens)
		said = append(said, fmt.Sprintf("on %s at %s", e.Name, at))
	}
	end := s.root.Len()
	insert := text.String()
	if whole := s.root.Text(); whole != "" && !strings.HasSuffix(whole, "\n") {
		insert = "\n" + insert
	}
	what := "state a tab "
	if n*len(edges) > 1 {
		what = fmt.Sprintf("state %d tabs ", n*len(edges))
	}
	return Way{Title: what + strings.Join(said, ", ") + opens, Edits: change(source.Span{Start: end, End: end}, insert), cost: costHold + float64(n*len(edges))/10}
}

// evenly are n places along an edge, as far from each other as twice from its ends; round a rim, all
// as far from each other.
func (s *seeker) evenly(e *board.Edge, n int) string {
	if n == 1 && !e.Closed {
		return syntax.Middle
	}
	var list []string
	unit, grid := s.textUnit(), 0.5
	if unit != quantity.Millimetre {
		grid = 25
	}
	for k := range n {
		if e.Closed {
			list = append(list, strconv.Itoa(k*360/n)+" deg")
			continue
		}
		p := quantity.Nanometres(e.Length * (float64(k) + 0.5) / float64(n))
		list = append(list, decimal(math.Round(p.In(unit)/grid)*grid)+" "+unit.Name)
	}
	return strings.Join(list, ", ")
}
