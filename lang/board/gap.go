package board

import (
	"math"

	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Gap interrupts a plating.
type Gap struct {
	Item
	Of       Name
	Edge     *Edge
	EdgeAt   source.Place
	From, To float64      // positions on the edge, nm
	Stretch  source.Place // the clauses that say where
	Position Value        // of `at`; absent with `from`
	Width    Value        // of `at`; absent with `from`
	For      Name         // a connector's or a tab's; see ForConnector and ForTab
	Bridged  bool
	// Tab or Connector opens the gap, whose name is then its own: the gap has none.
	Tab       *Tab
	Connector *Connector
	// Margin, where the gap is opened by one, is free on each side of a tab or a
	// pin that is Around wide, nm.
	Margin Value
	Around float64
	// BridgedAt is the word that says so.
	BridgedAt source.Place
}

func (m *meaning) gap(r *syntax.Reading, base Item) *Gap {
	g := &Gap{Item: base, Of: nameOf(r.Get("of"), 0), For: nameOf(r.Get("for"), 0), Bridged: r.Get("bridged") != nil}
	if g.Bridged {
		g.BridgedAt = r.Get("bridged").Place()
	}
	if g.Edge, g.EdgeAt = m.edgeOf(r); g.Edge == nil || !g.Of.Given() {
		return nil
	}
	s, ok := m.place(r, g.Edge, "the gap")
	if !ok {
		return nil
	}
	g.From, g.To, g.Stretch, g.Position, g.Width = s.from, s.to, s.at, s.position, s.width
	return g
}

// Opened tells whether a tab or a connector opens the gap, and no statement of its own.
func (g *Gap) Opened() bool { return g.Tab != nil || g.Connector != nil }

// Title names the gap: "gap launch", or by what opens it, "the gap of tab t1".
func (g *Gap) Title() string {
	switch {
	case g.Tab != nil:
		return "the gap of tab " + g.Name.Text
	case g.Connector != nil:
		return "the gap of connector " + g.Name.Text
	}
	return "gap " + g.Name.Text
}

// With is what a finding between the gap and an item is on: the two, or the item
// alone that opens the gap.
func (g *Gap) With(other string) []string {
	if g.Opened() && other == g.Name.Text {
		return []string{other}
	}
	return []string{g.Name.Text, other}
}

// place reads where a gap stands: `at P width W`, or `from A to B`.
func (m *meaning) place(r *syntax.Reading, e *Edge, what string) (span, bool) {
	if from := r.Get("from"); from != nil {
		if w := r.Get("width"); w != nil {
			m.report(syntax.RuleRepeated, w.Place(), "from and to say how wide %s is; leave out width", what)
		}
		return m.stretch(from, e, what)
	}
	width := r.Get("width")
	if width == nil {
		if r.Get("at") != nil && !r.Stands("width") {
			m.report(RuleMissing, r.Get("at").Place(), "expected width beside at: how wide %s is", what)
		}
		return span{}, false
	}
	w := m.quantity(width, 0, positive)
	p, ok := m.middle(r, e)
	if !ok || !w.Given() {
		return span{}, false
	}
	s := span{from: p.Value - w.Value/2, to: p.Value + w.Value/2, at: r.Get("at").Place().Cover(width.Place()), position: p, width: w}
	return s, m.onEdge(e, s.from, s.to, s.at, what)
}

// turns are what to add to positions on an edge so that one of them comes nearest
// to the gap's middle: whole turns of the gap's rim, on which one place has many
// positions; 0 on any other edge.
func (g *Gap) turns(e *Edge, position float64) float64 {
	if !e.Closed || e != g.Edge {
		return 0
	}
	return math.Round(((g.From+g.To)/2-position)/e.Length) * e.Length
}

// Holds tells whether a position on an edge lies in the gap.
func (g *Gap) Holds(e *Edge, position float64) bool {
	at := position + g.turns(e, position)
	return e == g.Edge && at >= g.From-Tolerance && at <= g.To+Tolerance
}

// BridgedBy is the connector whose metal bridges the gap; nil where it does not
// say that it is bridged, or is for no connector.
func (g *Gap) BridgedBy(b *Board) *Connector {
	if !g.Bridged {
		return nil
	}
	return g.ForConnector(b)
}

// ForConnector is the connector that the gap makes room for; nil where it is for
// none.
func (g *Gap) ForConnector(b *Board) *Connector {
	if g.Opened() {
		return g.Connector
	}
	if !g.For.Given() {
		return nil
	}
	return b.ConnectorNamed(g.For.Text)
}

// ForTab is the tab that the gap makes room for; nil where it is for none.
func (g *Gap) ForTab(b *Board) *Tab {
	if g.Opened() {
		return g.Tab
	}
	if !g.For.Given() || g.ForConnector(b) != nil {
		return nil
	}
	return named(b.Tabs(), g.For.Text)
}

func (g *Gap) refers(t *tying) {
	t.to(g.Of, platingNames)
	if g.For.Given() {
		t.to(g.For, roomNames)
	}
}
