package board

import (
	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// decoded is the meaning of one statement, kept for as long as the statement
// and what it read stay the same.
type decoded struct {
	stmt     *syntax.Statement
	word     string
	name     Name
	item     any // a pointer to the item, nil where the text gives none
	findings []finding.Finding
	reads    reads
	missing  []missing         // names that nothing has
	dropped  bool              // the board has too much without it, see MaxAllItems
	circles  []finding.Finding // that run through it
}

// holds tells whether everything the meaning depended on is the same in an env.
func (d *decoded) holds(e *env) bool {
	for _, r := range d.reads.names {
		q, f := e.value(r.name)
		if f == circular {
			f = bad // in either case the reader has nothing to say
		}
		if r.found != f || f == good && q != r.value {
			return false
		}
	}
	if d.reads.shapes && e.geo != e.before.geo {
		return false
	}
	return !d.reads.stack || e.stack() == e.before.stack()
}

// stack is the stack that is in force, or nil.
func (e *env) stack() *Stack {
	if e.stackEntry == nil {
		return nil
	}
	s, _ := e.stackEntry.item.(*Stack)
	return s
}

// asFindings turns faults of form into findings.
func asFindings(s *syntax.Statement, problems []syntax.Problem) []finding.Finding {
	var list []finding.Finding
	for _, p := range problems {
		f := finding.Finding{Rule: p.Rule, Category: finding.Language, Place: p.Place, Message: p.Message}
		if p.Append != "" {
			end := source.Place{Anchor: s.Anchor(), Start: s.Whole().End, End: s.Whole().End}
			f.Fix = &finding.Fix{Title: "add" + p.Append, Edits: []finding.Edit{{Place: end, Text: p.Append}}}
		}
		if p.Replace != "" {
			f.Fix = &finding.Fix{Title: "write " + p.Replace, Edits: []finding.Edit{{Place: p.Place, Text: p.Replace}}}
		}
		list = append(list, f)
	}
	return list
}

// decode reads any statement.
func decode(e *env, s *syntax.Statement) *decoded {
	if r := syntax.Read(s); r != nil {
		d := decodeReading(e, s, r)
		return &d
	}
	d := &decoded{stmt: s, word: s.Word(), findings: asFindings(s, s.Problems())}
	if len(d.findings) == 0 || s.Word() != "" {
		d.findings = append(d.findings, asFindings(s, []syntax.Problem{syntax.Unknown(s)})...)
	}
	return d
}

func decodeReading(e *env, s *syntax.Statement, r *syntax.Reading) decoded {
	d := decoded{stmt: s, word: r.Spec.Word, findings: append(asFindings(s, s.Problems()), asFindings(s, r.Problems)...)}
	base := Item{Keyword: r.Keyword, Whole: s.Whole()}
	if len(r.Spec.Args) > 0 && r.Spec.Args[0].Kind == syntax.VNew {
		base.Name = nameOf(&r.Clause, 0)
		d.name = base.Name
	}
	m := &meaning{env: e}
	d.item = m.item(r, base)
	d.findings = append(d.findings, m.findings...)
	d.reads, d.missing = m.reads, m.missing
	if x, ok := d.item.(item); ok && len(d.findings)+len(d.missing) > 0 {
		x.Base().Faulty = true
	}
	return d
}

// item makes the statement's item; nil where too little of it could be read.
func (m *meaning) item(r *syntax.Reading, base Item) any {
	switch r.Spec.Word {
	case "hem":
		if v := m.quantity(&r.Clause, 0, anySign); v.Given() && v.Value != 1 {
			m.report(RuleWrongValue, v.At, "this is hemline for version 1 of the language; the file asks for version %s", v.Quantity)
		}
	case "let":
		return m.let(r, base)
	case "board":
		return m.info(r, base)
	case "stack":
		return m.stack(r, base)
	case "outline", "cutout":
		if s := m.shape(r, base); s != nil {
			return s
		}
	case "plating":
		return m.plating(r, base)
	case "gap":
		if g := m.gap(r, base); g != nil {
			return g
		}
	case "connector":
		if c := m.connector(r, base); c != nil {
			return c
		}
	case "relief":
		if x := m.relief(r, base); x != nil {
			return x
		}
	case "tab":
		if t := m.tab(r, base); t != nil {
			return t
		}
	case "castellation":
		if c := m.castellation(r, base); c != nil {
			return c
		}
	case "plane":
		if p := m.plane(r, base); p != nil {
			return p
		}
	case "feature":
		if f := m.feature(r, base); f != nil {
			return f
		}
	case "fence":
		if f := m.fence(r, base); f != nil {
			return f
		}
	case "fabricator":
		return m.fabricator(r, base)
	case "accept":
		if a := m.acceptance(r, base); a != nil {
			return a
		}
	case "note":
		return &Note{base, nameOf(&r.Clause, 0)}
	}
	return nil
}

func (m *meaning) let(r *syntax.Reading, base Item) *Let {
	l := &Let{Item: base}
	if r.Assign != nil {
		l.Value, l.OK = m.eval(*r.Assign)
	}
	return l
}

func (m *meaning) info(r *syntax.Reading, base Item) *Info {
	i := &Info{Item: base, Title: nameOf(r.Get("title"), 0), Revision: nameOf(r.Get("revision"), 0)}
	if f := r.Get("frequency"); f != nil {
		i.Frequency = m.quantity(f, 0, positive)
		if to := f.Get("to"); to != nil {
			i.FrequencyLow, i.Frequency = i.Frequency, m.quantity(to, 0, positive)
			if i.Frequency.Given() && i.FrequencyLow.Given() && i.FrequencyLow.Value > i.Frequency.Value {
				m.report(RuleWrongValue, f.Place(), "the band ends at %s, below its start at %s", i.Frequency, i.FrequencyLow)
			}
		}
	}
	i.Shielding = m.quantity(r.Get("shielding"), 0, positive)
	i.Class = m.quantity(r.Get("class"), 0, positive)
	if c := i.Class; c.Given() && c.Value != 1 && c.Value != 2 && c.Value != 3 {
		m.report(RuleWrongValue, c.At, "class must be 1, 2 or 3, found %s", c.Quantity)
		i.Class = Value{}
	}
	i.Thickness = m.quantity(r.Get("thickness"), 0, positive)
	i.Current = m.quantity(r.Get("current"), 0, positive)
	i.Rise = m.quantity(r.Get("rise"), 0, positive)
	return i
}

func (m *meaning) stack(r *syntax.Reading, base Item) *Stack {
	s := &Stack{Item: base}
	seen := map[string]bool{}
	for _, c := range r.Clauses {
		if c.Broken {
			continue
		}
		l := Layer{Name: nameOf(c, 0), Copper: c.Spec.Word == "copper", Thickness: m.quantity(c, 1, positive)}
		l.Permittivity = m.quantity(c.Get("permittivity"), 0, positive)
		if e := l.Permittivity; e.Given() && e.Value < 1 {
			m.report(RuleWrongValue, e.At, "relative permittivity is 1 or more, found %s", e.Quantity)
			l.Permittivity = Value{}
		}
		l.Loss = m.quantity(c.Get("loss"), 0, notNegative)
		if seen[l.Name.Text] {
			m.report(RuleDuplicate, l.Name.At, "the stack has a layer named %s already", syntax.Quote(l.Name.Text))
			continue
		}
		seen[l.Name.Text] = true
		s.Layers = append(s.Layers, l)
	}
	return s
}

// along reads the edges of a plating or fence.
func (m *meaning) along(r *syntax.Reading, what string) []Along {
	var list []Along
	for _, c := range r.All("along") {
		from := c.Get("from")
		for i, v := range c.Values {
			if word, _ := v.Word(); word == syntax.All && v.Expr.Op == syntax.OpName && m.env.geo.edges[syntax.All] == nil {
				list = append(list, m.allEdges(v, from)...)
				continue
			}
			e := m.edge(v)
			if e == nil {
				continue
			}
			a := Along{Edge: e, To: e.Length, At: v.Place()}
			// from and to belong to the edge named last.
			if from != nil && i == len(c.Values)-1 {
				s, ok := m.stretch(from, e, what)
				if !ok {
					continue
				}
				a.From, a.To, a.At = s.from, s.to, c.Place()
			}
			list = append(list, a)
		}
	}
	return list
}

func (m *meaning) allEdges(v syntax.Value, from *syntax.Clause) []Along {
	m.reads.shapes = true
	g := m.env.geo
	if from != nil {
		m.report(RuleWrongValue, from.Place(), "from and to need an edge of their own, not all")
		return nil
	}
	var list []Along
	for _, p := range g.profiles {
		if p.Cutout {
			continue
		}
		for _, e := range p.Edges {
			list = append(list, Along{Edge: e, To: e.Length, At: v.Place()})
		}
	}
	if len(list) == 0 && !g.broken {
		m.report(RuleMissing, v.Place(), "there are no edges: the file states no outline")
	}
	return list
}

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

// middle reads `at P`.
func (m *meaning) middle(r *syntax.Reading, e *Edge) (Value, bool) {
	at := r.Get("at")
	if at == nil || e == nil {
		return Value{}, false
	}
	return m.position(at.Values[0], e)
}
