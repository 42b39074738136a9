package assist

import (
	"fmt"
	"slices"
	"strings"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Action is a change that an author may ask for at a place.
type Action struct {
	Title   string
	Rewrite bool     // says the same in other words
	Rules   []string // findings that it is meant to end
	Edits   []source.Edit
}

// Actions lists what may be done at a span of the root text. The limits are
// those the board is held to; nil for those of its text.
func Actions(a *lang.Analysis, at source.Span, limits *checks.Limits) []Action {
	s, rel := a.Document().At(at.Start)
	if s == nil || rel < 0 || rel > len(s.Text()) {
		return nil
	}
	r := syntax.Read(s)
	if r == nil {
		return nil
	}
	if limits == nil {
		limits = checks.LimitsFor(a)
	}
	statement, _ := a.Document().Locate(s.Whole())
	x := actor{a: a, limits: limits, at: at, statement: statement, reading: r}
	x.gap()
	x.extract()
	x.convert()
	x.ask()
	return x.list
}

type actor struct {
	a         *lang.Analysis
	limits    *checks.Limits
	at        source.Span
	statement source.Span
	reading   *syntax.Reading
	list      []Action
}

// gap offers the gap that a connector's pin or a tab needs: one that is for it and stands
// elsewhere, or not wide enough, is moved; a further one is offered where there is none.
func (x *actor) gap() {
	if len(x.reading.Values) == 0 {
		return
	}
	name, _ := x.reading.Values[0].Word()
	b := x.a.Board()
	var (
		p     Proposal
		ok    bool
		word  = x.reading.Spec.Word
		rest  string
		rules []string
		edge  *board.Edge
	)
	switch word {
	case "connector":
		if c, found := find(b.Connectors(), name); found {
			p, ok = GapForConnector(x.a, x.limits, c)
			edge, rest, rules = c.Edge, " for "+syntax.Quote(name), []string{"launch_blocked"}
		}
	case "tab":
		if t, found := find(b.Tabs(), name); found {
			p, ok = GapForTab(x.a, x.limits, t)
			edge, rules = t.Edge, []string{"tab_on_plating"}
			if itemNamed(b, "connector", name) == nil { // which it would be for instead
				rest = " for " + syntax.Quote(name)
			}
		}
	}
	position := x.reading.Get("at")
	if !ok || position == nil || len(position.Values) == 0 {
		return
	}
	width, exact := quantity.Nanometres(p.Width).Exact(quantity.Millimetre, 6)
	if !exact {
		return
	}
	if g, other := x.gapThere(name, p, edge); other {
		return // which is for something else
	} else if g != nil {
		x.moveGap(g, edge, position.Values[0].Source(), width, word, rules)
		return
	}
	text := fmt.Sprintf("gap %s of %s on %s at %s width %s%s", x.unused("gap", name+"_gap"), syntax.Quote(p.Of.Name.Text),
		syntax.Refer(edge.Name), position.Values[0].Source(), width, rest)
	x.list = append(x.list, Action{Title: "make a gap for this " + word, Rules: rules, Edits: []source.Edit{x.after(text)}})
}

// gapThere is the gap that is for an item, or that lies in the stretch which one for it would
// take; other tells that such a one is for something else.
func (x *actor) gapThere(name string, p Proposal, edge *board.Edge) (found *board.Gap, other bool) {
	for _, g := range x.a.Board().Gaps() {
		switch over := g.Edge == edge && g.From < p.To && p.From < g.To; {
		case g.Opened():
			other = other || over
		case g.For.Given() && g.For.Text == name:
			return g, false
		case over && g.For.Given():
			other = true
		case over && found == nil:
			found = g
		}
	}
	return found, other
}

// moveGap offers to move a gap to where an item stands, at least as wide as it needs.
func (x *actor) moveGap(g *board.Gap, edge *board.Edge, position, width, word string, rules []string) {
	stretch, ok := x.a.Document().Locate(g.Stretch)
	on, also := x.a.Document().Locate(g.EdgeAt)
	if !ok || !also || g.Whole.Anchor.Path != x.a.Root().Path() {
		return
	}
	if q, err := quantity.Parse(strings.TrimSuffix(width, " mm"), quantity.Millimetre); err == nil && g.To-g.From > q.Value {
		if now, exact := quantity.Nanometres(g.To-g.From).Exact(quantity.Millimetre, 6); exact {
			width = now
		}
	}
	edits := []source.Edit{{Span: stretch, Text: "at " + position + " width " + width}}
	if g.Edge != edge {
		edits = append([]source.Edit{{Span: on, Text: syntax.Refer(edge.Name)}}, edits...)
	}
	x.list = append(x.list, Action{Title: fmt.Sprintf("move gap %s to this %s: at %s width %s", syntax.Quote(g.Name.Text), word, position, width), Rules: rules, Edits: edits})
}

// unused is a name that no statement with a keyword has yet, plain where it can be.
func (x *actor) unused(word, name string) string {
	taken := func(n string) bool {
		return itemNamed(x.a.Board(), word, n) != nil || slices.ContainsFunc(board.Kinds(), func(k *board.Kind) bool { return k.SharesNames() && k.Find(x.a.Board(), n) != nil })
	}
	free := name
	for n := 2; taken(free); n++ {
		free = fmt.Sprintf("%s_%d", name, n)
	}
	return syntax.Quote(free)
}

// after is the edit that puts a statement on a line of its own behind this one.
func (x *actor) after(text string) source.Edit {
	f := x.a.Root()
	at := f.Line(f.LineOf(x.statement.End)).End
	return source.Edit{Span: source.Span{Start: at, End: at}, Text: x.ending() + x.indent() + text}
}

// before is the edit that puts a statement in front of this one.
func (x *actor) before(text string) source.Edit {
	f := x.a.Root()
	line := f.Line(f.LineOf(x.statement.Start))
	at := source.Span{Start: x.statement.Start, End: x.statement.Start}
	if strings.TrimSpace(f.Slice(source.Span{Start: line.Start, End: at.Start})) != "" {
		return source.Edit{Span: at, Text: text + "; "}
	}
	return source.Edit{Span: at, Text: text + x.ending() + x.indent()}
}

func (x *actor) ending() string {
	if strings.Contains(x.a.Root().Text(), "\r\n") {
		return "\r\n"
	}
	return "\n"
}

func (x *actor) indent() string {
	f := x.a.Root()
	line := f.Slice(f.Line(f.LineOf(x.statement.Start)))
	return line[:len(line)-len(strings.TrimLeft(line, " \t"))]
}

// extract offers to name a value: the one that is selected, or the number at
// the cursor.
func (x *actor) extract() {
	value, clause := x.selected()
	if value == nil || x.reading.Spec.Word == "let" && value.Expr == x.reading.Assign.Expr {
		return
	}
	name := x.reading.Spec.Word + "_" + clause
	if clause == x.reading.Spec.Word {
		name = clause + "_value"
	}
	name = x.unused("let", name)
	place, _ := x.a.Document().Locate(value.Place())
	x.list = append(x.list, Action{Title: "extract to let " + name, Rewrite: true, Edits: []source.Edit{
		x.before("let " + name + " = " + value.Source()),
		{Span: place, Text: name},
	}})
}

// selected is the value that the span covers and the keyword of its clause;
// nil for what can have no name: a word, a name, a plain number.
func (x *actor) selected() (*syntax.Value, string) {
	want := x.at
	text := x.a.Root().Slice(want)
	want.Start += len(text) - len(strings.TrimLeft(text, " \t"))
	want.End -= len(text) - len(strings.TrimRight(text, " \t"))
	var found *syntax.Value
	clause := ""
	x.reading.Spots(func(s syntax.Spot) bool {
		if s.Arg != nil && s.Arg.Kind != syntax.VQuantity && s.Arg.Kind != syntax.VPosition && s.Arg.Kind != syntax.VPoint && s.Arg.Kind != syntax.VExpr {
			return true
		}
		v := s.Value
		if want.Len() > 0 {
			v = x.covered(*s.Whole, want)
		} else if p, _ := x.a.Document().Locate(s.Place); !p.Contains(x.at.Start) {
			return true
		}
		if v == nil || v.Expr.Op == syntax.OpName || v.Expr.Op == syntax.OpText || v.Expr.Op == syntax.OpNumber && v.Unit() == "" {
			return true
		}
		found, clause = v, s.Clause().Spec.Word
		return false
	})
	return found, clause
}

// covered is the part of a value that lies exactly under a span.
func (x *actor) covered(v syntax.Value, want source.Span) *syntax.Value {
	if p, _ := x.a.Document().Locate(v.Place()); p == want {
		if v.Expr.Op == syntax.OpPoint {
			return nil
		}
		return &v
	}
	for _, e := range v.Expr.Args {
		if found := x.covered(v.Of(e), want); found != nil {
			return found
		}
	}
	return nil
}

// convert offers to write the length at the cursor in another unit, where it
// comes out exactly the same.
func (x *actor) convert() {
	spot, ok := x.reading.Find(x.at.Start - x.statement.Start)
	if !ok || spot.Value == nil || spot.Value.Expr.Op != syntax.OpNumber {
		return
	}
	unit, ok := quantity.UnitNamed(spot.Value.Unit())
	if !ok || unit.Dim != quantity.Length {
		return
	}
	q, err := quantity.Parse(spot.Value.Token(), unit)
	place, located := x.a.Document().Locate(spot.Place)
	if err != nil || !located {
		return
	}
	for _, name := range []string{"mm", "mil"} {
		to, _ := quantity.UnitNamed(name)
		if to == unit {
			continue
		}
		if text, exact := q.Exact(to, 6); exact {
			x.list = append(x.list, Action{Title: "write as " + text, Rewrite: true, Edits: []source.Edit{{Span: place, Text: text}}})
		}
	}
}
