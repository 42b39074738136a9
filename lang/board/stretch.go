package board

import (
	"math"

	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// span is a stretch as a statement gives it.
type span struct {
	from, to        float64
	at              source.Place
	position, width Value
}

// stretch reads `from A to B`.
func (m *meaning) stretch(from *syntax.Clause, e *Edge, what string) (span, bool) {
	to := from.Get("to")
	if to == nil {
		return span{}, false
	}
	a, ok := m.position(from.Values[0], e)
	b, also := m.position(to.Values[0], e)
	s := span{from: a.Value, to: b.Value, at: from.Place()}
	if e.Closed && s.to < s.from-Tolerance && s.from <= e.Length+Tolerance && s.to >= -Tolerance {
		s.to += e.Length // over the start
	}
	return s, ok && also && m.onEdge(e, s.from, s.to, s.at, what)
}

// edgeOf reads the edge of a statement that stands on one.
func (m *meaning) edgeOf(r *syntax.Reading) (*Edge, source.Place) {
	on := r.Get("on")
	if on == nil {
		return nil, source.Place{}
	}
	return m.edge(on.Values[0]), on.Values[0].Place()
}

// edges resolves an edge's name, or that of every member of a row of cutouts.
func (m *meaning) edges(v syntax.Value) []*Edge {
	word, _ := v.Word()
	if row := m.env.geo.rows[word]; len(row) > 0 {
		m.reads.shapes = true
		return row
	}
	if e := m.edge(v); e != nil {
		return []*Edge{e}
	}
	return nil
}

// middle reads `at P`.
func (m *meaning) middle(r *syntax.Reading, e *Edge) (Value, bool) {
	at := r.Get("at")
	if at == nil || e == nil {
		return Value{}, false
	}
	return m.position(at.Values[0], e)
}

// edge resolves an edge's name; `all` is the caller's.
func (m *meaning) edge(v syntax.Value) *Edge {
	m.reads.shapes = true
	word, _ := v.Word()
	g := m.env.geo
	if e := g.edges[word]; e != nil {
		return e
	}
	if row := g.rows[word]; len(row) > 0 {
		m.report(RuleWrongValue, v.Place(), "%s is an edge of each of %d cutouts; name one, such as %s", syntax.Refer(word), len(row), syntax.Refer(row[0].Name))
		return nil
	}
	switch {
	case g.broken:
		// The outline's or cutout's own fault is reported.
	case len(g.profiles) == 0:
		m.report(RuleMissing, v.Place(), "there is no edge %s: the file states no outline", syntax.Refer(word))
	default:
		m.unknown(v.Place(), edgeNames, word)
	}
	return nil
}

// position reads a position on an edge: a length, in which `middle` is half of
// the edge's, or on a circle's rim an angle from its east point.
func (m *meaning) position(v syntax.Value, e *Edge) (Value, bool) {
	m.on = e
	defer func() { m.on = nil }()
	q, ok := m.eval(v)
	if !ok {
		return Value{}, false
	}
	if q.Dim == quantity.Angle {
		if e.Profile.Kind != "circle" {
			m.report(RuleWrongValue, v.Place(), "a position on edge %s is a length, found %s; only a circle's rim takes angles", e.Name, q)
			return Value{}, false
		}
		q = quantity.Nanometres(q.Value / 360 * e.Length)
	}
	return m.as(q, v, quantity.Length)
}

// onEdge holds a stretch to its edge. A closed edge has no ends to leave; a
// stretch on it only may not be longer than it.
func (m *meaning) onEdge(e *Edge, from, to float64, at source.Place, what string) bool {
	show := func(nm float64) string { return quantity.Nanometres(nm).String() }
	switch {
	case to < from-Tolerance:
		m.report(RuleOffEdge, at, "%s ends at %s, before it starts at %s", what, show(to), show(from))
	case e.Closed && to-from <= e.Length+Tolerance && math.Abs(from) <= MaxLength:
		return true
	case from < -Tolerance || to > e.Length+Tolerance:
		m.report(RuleOffEdge, at, "%s reaches from %s to %s, past the edge %s, which runs from 0.00 mm to %s", what, show(from), show(to), e.Name, show(e.Length))
	default:
		return true
	}
	return false
}
