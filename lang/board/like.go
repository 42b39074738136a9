package board

import (
	"slices"
	"strings"

	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Typical is what many items of one kind have in common. It is no item of the board.
type Typical struct {
	Item
	Kind  string   // the keyword of its kind
	Says  []string // its clauses, as they are written
	Likes Name     // what it is like itself
}

// pattern is what others may be like: a typical, or an item that some statement is like.
type pattern struct {
	name    Name
	reading *syntax.Reading
	kind    string
	clauses *syntax.Clause // its own and those it takes over; nil in a circle
	stmt    *syntax.Statement
	// chain are the statements that the clauses come from, its own first: the same
	// pointer as in the version before where they are the same statements.
	chain  *link
	circle string // as it goes round
	faulty bool   // it has findings of its own
	state  int
}

// readLike is a model that a meaning depended on.
type readLike struct {
	name   string
	chain  *link // nil where there was none
	circle string
	faulty bool
}

// link is one statement of a chain, and those that it takes over from.
type link struct {
	stmt  *syntax.Statement
	next  *link
	depth int
}

// linked is the chain of a pattern that takes over from another's.
func (e *env) linked(x *pattern, next *link) *link {
	if e.before != nil {
		if old := e.before.models[x.name.Text]; old != nil && old.chain.stmt == x.stmt && old.chain.next == next {
			return old.chain
		}
	}
	l := &link{stmt: x.stmt, next: next, depth: 1}
	if next != nil {
		l.depth += next.depth
	}
	return l
}

// like reads a model.
func (e *env) like(name string) (x *pattern, r readLike) {
	r.name = name
	if x = e.models[name]; x != nil {
		r.chain, r.circle, r.faulty = x.chain, x.circle, x.faulty
	}
	return x, r
}

// holds tells whether a model is the same in an env.
func (r readLike) holds(e *env) bool {
	_, now := e.like(r.name)
	return r.circle == now.circle && r.faulty == now.faulty && r.chain == now.chain
}

// Followed is what an item takes clauses over from.
type Followed struct {
	At    source.Place // the item's `like`
	Model Name
	Title string // "typical tab scar"
}

// modelsOf finds the models among statements, and which of them have findings of
// their own: those of what takes over from them need not be reported as well.
func (e *env) modelsOf(statements []*syntax.Statement, root string) {
	list := e.findModels(statements, root)
	for _, x := range list {
		e.compose(x)
	}
	slices.SortStableFunc(list, func(a, b *pattern) int { return a.chain.depth - b.chain.depth })
	for _, x := range list { // each after what it is like itself
		d := decodeReading(e, x.stmt, x.reading)
		_, name := x.reading.Like()
		x.faulty = d.isFaulty() || e.models[name] != nil && e.models[name].faulty
	}
}

// findModels lists the typicals, and the items with a name that another is like,
// in the order of the text. Of several of one name the first of the root file
// counts; where it has none, that of the file used last.
func (e *env) findModels(statements []*syntax.Statement, root string) (list []*pattern) {
	e.followed, e.models = map[string]bool{}, map[string]*pattern{}
	for _, s := range statements {
		if name := s.Following(); name != "" {
			e.followed[name] = true
		}
	}
	for _, s := range statements {
		k := kindOf(s)
		if k == nil || !k.follows || k.Word != "typical" && len(e.followed) == 0 {
			continue
		}
		_, name, named := s.NamePlace()
		if !named || !e.followed[name] && k.Word != "typical" {
			continue
		}
		if old := e.models[name]; old != nil {
			if path := old.stmt.Anchor().Path; path == root || path == s.Anchor().Path {
				continue
			}
			list = slices.DeleteFunc(list, func(x *pattern) bool { return x == old })
		}
		r := syntax.Read(s)
		x := &pattern{name: nameOf(&r.Clause, 0), reading: r, kind: r.Body().Spec.Word, stmt: s}
		e.models[name], list = x, append(list, x)
	}
	return list
}

// namesShown is how many names of a circle a message lists.
const namesShown = 10

// compose gives a model its clauses, after those that it is like itself. It
// holds the way it goes in a list: a chain may be as long as a text.
func (e *env) compose(x *pattern) {
	var way []*pattern
	for x != nil && x.state == fresh {
		x.state = busy
		way = append(way, x)
		_, next := x.reading.Like()
		x = e.models[next]
	}
	if x != nil && x.state == busy {
		i := slices.Index(way, x)
		var names []string
		for _, m := range way[i:] {
			if len(names) == namesShown {
				names = append(names, "…")
				break
			}
			names = append(names, m.name.Text)
		}
		names = append(names, x.name.Text)
		for _, m := range way {
			m.circle = strings.Join(names, " → ")
		}
	}
	for _, m := range slices.Backward(way) {
		m.state = done
		_, name := m.reading.Like()
		next := e.models[name]
		switch {
		case m.circle != "":
			m.chain = e.linked(m, nil)
		case next == nil || next.kind != m.kind || next.clauses == nil:
			m.clauses, m.chain = m.reading.Body(), e.linked(m, nil)
		default:
			m.clauses = m.reading.Inherit(next.clauses).Body()
			m.chain = e.linked(m, next.chain)
		}
	}
}

// changesModels tells whether what may be taken over changes with a statement.
func (e *env) changesModels(s *syntax.Statement) bool {
	k := kindOf(s)
	switch {
	case k == nil || !k.follows:
		return false
	case k.Word == "typical":
		return true
	}
	if name := s.Following(); name != "" && !e.followed[name] {
		return true
	}
	if len(e.followed) == 0 {
		return false
	}
	_, name, ok := s.NamePlace()
	return ok && e.followed[name]
}

// follow is the reading of a statement with what it takes over, and whom from;
// nil where the text has no such model.
func (m *meaning) follow(r *syntax.Reading) (*syntax.Reading, *Followed) {
	like, name := r.Like()
	if like == nil {
		return r, nil
	}
	kind, at := r.Body().Spec.Word, like.Values[0].Place()
	x, read := m.env.like(name)
	m.reads.likes = append(m.reads.likes, read)
	switch {
	case x == nil:
		m.unknown(at, modelNames[kind], name)
		return r, nil
	case x.kind != kind:
		m.report(RuleWrongValue, at, "%s is a %s; a %s is like a typical %s or another %s", syntax.Refer(name), x.reading.Title(), kind, kind, kind)
		return r, nil
	case x.circle != "":
		m.report(RuleCircle, at, "goes round in a circle: %s", x.circle)
		return r, nil
	}
	out := r.Inherit(x.clauses)
	if !x.faulty {
		m.findings = append(m.findings, asFindings(r.Statement, out.Problems)...)
	}
	return out, &Followed{At: like.Place(), Model: x.name, Title: x.reading.Title() + " " + syntax.Refer(name)}
}

// taken leaves out the findings on what was taken over from a model that has
// findings of its own.
func (m *meaning) taken(by *Followed) {
	if by == nil || !m.env.models[by.Model.Text].faulty {
		return
	}
	m.findings = slices.DeleteFunc(m.findings, func(f finding.Finding) bool { return f.Place == by.At })
	m.missing = slices.DeleteFunc(m.missing, func(x missing) bool { return x.at == by.At })
}

// typical reads what is typical as an item would, for what is wrong with it.
func (m *meaning) typical(r *syntax.Reading, base Item) *Typical {
	k := KindNamed(r.Body().Spec.Word)
	if k == nil || k.Word == r.Spec.Word {
		return nil
	}
	of := *r
	of.Clause = *r.Body()
	of.Clause.Values = nil
	m.ofTypical = true
	k.read(m, &of, base)
	m.ofTypical = false
	t := &Typical{Item: base, Kind: k.Word}
	var via source.Place
	if c, name := r.Like(); c != nil {
		via, t.Likes = c.Place(), Name{name, c.Values[0].Place()}
	}
	for _, c := range r.Body().Clauses {
		if at := c.Place(); !c.Broken && at != via && c.Keyword != via {
			t.Says = append(t.Says, strings.Join(strings.Fields(r.Statement.Text()[at.Start:at.End]), " "))
		}
	}
	return t
}

func (m *model) allFollowed() map[*source.Anchor]*Followed {
	list := map[*source.Anchor]*Followed{}
	for _, d := range m.decoded {
		if d.follows != nil {
			list[d.stmt.Anchor()] = d.follows
		}
	}
	return list
}
