package assist

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

func profileCard(b *board.Board, p *board.Profile) string {
	w := b.Finished(p)
	return fmt.Sprintf("**%s**: perimeter %s, area %s, %.1f %% of it plated", p.Name, mm(p.Path.Perimeter()), area(p.Path.SignedArea()), w.Share*100)
}

// edgeCard tells an edge's length and what stands on it, in order.
func edgeCard(b *board.Board, name string) string {
	e := b.Edge(name)
	if e == nil {
		if name == syntax.All {
			return "`all`: every edge of the outline."
		}
		if row := b.EdgesNamed(name); len(row) > 0 {
			return fmt.Sprintf("**edge %s**: of %d cutouts in a row, %s to %s, each %s long", name, len(row), row[0].Name, row[len(row)-1].Name, mm(row[0].Length))
		}
		return ""
	}
	var s strings.Builder
	fmt.Fprintf(&s, "**edge %s**: %s long", e.Name, conversions(quantity.Nanometres(e.Length)))
	plated := board.Overlap(b.Finished(e.Profile), e.From, e.To)
	fmt.Fprintf(&s, ", %s of it plated\n", mm(plated))
	if to := e.Base + e.To - e.From; e.Base > 0 || to < e.Length-board.Tolerance {
		runs := "Straight"
		if i, _ := e.Profile.Path.SegmentAt((e.From + e.To) / 2); e.Profile.Path.Segments()[i].Arc {
			runs = "An arc"
		}
		fmt.Fprintf(&s, "\n%s from %s to %s; the rounded corners go with their neighbours.\n", runs, mm(e.Base), mm(to))
	}
	type entry struct {
		from float64
		text string
	}
	var on []entry
	add := func(from, to float64, format string, args ...any) {
		on = append(on, entry{from, fmt.Sprintf("- %s to %s: ", mm(from), mm(to)) + fmt.Sprintf(format, args...)})
	}
	b.Wall(e.Profile).PlatedIn(e.From, e.To, func(st board.Stretch) {
		from, to := math.Max(st.From, e.From), math.Min(st.To, e.To)
		if to-from > board.Tolerance {
			x, y := e.Position(from), e.Position(to)
			add(math.Min(x, y), math.Max(x, y), "plating %s", st.Plating.Name.Text)
		}
	})
	for _, g := range b.Gaps() {
		if g.Edge == e {
			add(g.From, g.To, "%s", g.Title())
		}
	}
	for _, t := range b.Tabs() {
		if t.Edge == e {
			add(t.From(), t.To(), "tab %s", t.Name.Text)
		}
	}
	for _, c := range b.Connectors() {
		if c.Edge == e {
			from, to := c.Span()
			add(from, to, "connector %s", c.Name.Text)
		}
	}
	for _, c := range b.Castellations() {
		if c.Edge == e {
			add(c.From, c.To, "castellation %s", c.Name.Text)
		}
	}
	slices.SortStableFunc(on, func(x, y entry) int { return cmp.Compare(x.from, y.from) })
	if len(on) > 0 {
		s.WriteByte('\n')
	}
	const most = 40
	for i, x := range on {
		if i == most {
			fmt.Fprintf(&s, "- and %d more\n", len(on)-most)
			break
		}
		s.WriteString(x.text + "\n")
	}
	return s.String()
}
