package assist

import (
	"fmt"
	"slices"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// HintOptions say which hints are wanted.
type HintOptions struct {
	Coordinates bool           // the point of a position along an edge
	Values      bool           // what a let's expression comes to
	Units       bool           // lengths in another unit than Unit, in it
	Unit        *quantity.Unit // of lengths in hints: millimetres or mils
	// Margins are those of the text, to be shown behind the values that they are of.
	Margins []checks.Margin
}

// Hint is a few words behind a place of the text.
type Hint struct {
	Offset int
	Text   string
	Why    string // what it is, for people
}

// Hints lists what is not written but follows, in a span of the root text, in
// order.
func Hints(a *lang.Analysis, within source.Span, o HintOptions) []Hint {
	h := hinter{a: a, o: o}
	for _, s := range statementsIn(a.Document(), within) {
		r := syntax.Read(s)
		if r == nil {
			continue
		}
		if o.Values && r.Spec.Word == "let" {
			h.let(r)
		}
		if o.Units {
			h.units(r)
		}
	}
	if o.Coordinates {
		h.coordinates(within)
	}
	h.margins(within)
	slices.SortStableFunc(h.list, func(x, y Hint) int { return x.Offset - y.Offset })
	return slices.DeleteFunc(h.list, func(x Hint) bool { return !within.Contains(x.Offset) })
}

// statementsIn lists the statements that touch a span.
func statementsIn(d *syntax.Document, within source.Span) []*syntax.Statement {
	list := d.Statements()
	first, last := indexAt(d, within.Start), indexAt(d, within.End)
	return list[max(first, 0) : last+1]
}

// indexAt is the number of the last statement that begins at or before an offset; -1 for none.
func indexAt(d *syntax.Document, offset int) int {
	list := d.Statements()
	n, _ := slices.BinarySearchFunc(list, offset, func(s *syntax.Statement, offset int) int {
		span, _ := d.Locate(s.Whole())
		if span.Start <= offset {
			return -1
		}
		return 1
	})
	return n - 1
}

type hinter struct {
	a    *lang.Analysis
	o    HintOptions
	list []Hint
	told map[*syntax.Statement]int // of how many items of a statement the place is told
}

func (h *hinter) add(at source.Place, text, why string) {
	if file, span, ok := h.a.Locate(at); ok && file == h.a.Root() {
		h.list = append(h.list, Hint{span.End, text, why})
	}
}

// length shows a length in the unit of hints.
func (h *hinter) length(q quantity.Quantity) string {
	if q.Dim == quantity.Length {
		q = q.As(h.o.Unit)
	}
	return q.String()
}

func (h *hinter) let(r *syntax.Reading) {
	if r.Assign == nil || r.Assign.Expr.Op == syntax.OpNumber || len(r.Values) == 0 {
		return
	}
	name, _ := r.Values[0].Word()
	if l, ok := find(h.a.Board().Lets(), name); ok && l.OK {
		h.add(r.Assign.Place(), "= "+h.length(l.Value), "what the expression comes to")
	}
}

func (h *hinter) units(r *syntax.Reading) {
	r.Spots(func(s syntax.Spot) bool {
		if s.Value.Expr.Op != syntax.OpNumber {
			return true
		}
		unit, ok := quantity.UnitNamed(s.Value.Unit())
		if !ok || unit.Dim != quantity.Length || !interchanged[unit.Name] || unit == h.o.Unit {
			return true
		}
		if q, err := quantity.Parse(s.Value.Token(), unit); err == nil {
			h.add(s.Place, "= "+q.As(h.o.Unit).Text(1), "the same length in "+h.o.Unit.Name)
		}
		return true
	})
}

// interchanged are the units of length that people convert between; copper in
// micrometres or ounces stays as it is.
var interchanged = map[string]bool{"mm": true, "mil": true, "in": true, "cm": true}

// coordinates are those of the items whose statements touch the span.
func (h *hinter) coordinates(within source.Span) {
	d, b := h.a.Document(), h.a.Board()
	list := statementsIn(d, within)
	if len(list) == 0 {
		return
	}
	first, last := list[0].Anchor(), list[len(list)-1].Anchor()
	inside := func(i *board.Item) bool {
		at := i.Whole.Anchor
		return at != nil && at.Path == first.Path && first.Order <= at.Order && at.Order <= last.Order
	}
	for _, g := range b.Gaps() {
		// One that a connector or a tab opens is where that is, which is told there.
		if s, ok := d.Holding(g.Base().Whole); ok && s.Word() == "gap" && inside(g.Base()) {
			h.positions(g.Base(), g.Edge, (g.From+g.To)/2, g.From, g.To)
		}
	}
	for _, c := range b.Connectors() {
		if inside(c.Base()) {
			h.positions(c.Base(), c.Edge, c.Position, 0, 0)
		}
	}
	for _, t := range b.Tabs() {
		if inside(t.Base()) {
			h.positions(t.Base(), t.Edge, t.Position, 0, 0)
		}
	}
	for _, c := range b.Castellations() {
		if inside(c.Base()) {
			h.positions(c.Base(), c.Edge, c.Row[0], c.Row[0], c.Row[1])
		}
	}
}

// positions puts a point behind each position that an item's statement gives: of
// several items, each behind its own.
func (h *hinter) positions(i *board.Item, e *board.Edge, at, from, to float64) {
	s, ok := h.a.Document().Holding(i.Whole)
	if !ok || e == nil {
		return
	}
	r := syntax.Read(s)
	if h.told == nil {
		h.told = map[*syntax.Statement]int{}
	}
	n := h.told[s]
	h.told[s]++
	say := func(c *syntax.Clause, position float64) {
		if c != nil && len(c.Values) > n {
			p := e.Point(position)
			x, y := h.length(quantity.Nanometres(p.X)), h.length(quantity.Nanometres(p.Y))
			h.add(c.Values[n].Place(), fmt.Sprintf("(%s, %s)", x, y), "the point of the board's edge")
		}
	}
	say(r.Get("at"), at)
	if c := r.Get("from"); c != nil {
		say(c, from)
		say(c.Get("to"), to)
	}
}
