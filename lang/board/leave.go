package board

import (
	"slices"

	"hemline/lang/geom"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Leave leaves queries to the shop to decide.
type Leave struct {
	Item
	Queries []Name
	Along   []Along // where alone it does; none for the whole board
	Because Name
}

// Delivery is how boards are handed over.
type Delivery struct {
	Item
	Single bool
	Panels []Name // the panels' files
}

// Marking is a mark that the shop adds.
type Marking struct {
	Item
	Text   Choice
	Face   Face
	Centre geom.Point
	At     source.Place // of its place; nowhere where the text gives none
}

// Placed tells whether the text says where the mark may stand.
func (x *Marking) Placed() bool { return x.At.Anchor != nil }

func (m *meaning) leave(r *syntax.Reading, base Item) *Leave {
	l := &Leave{Item: base.keyed(r), Queries: namesOf(&r.Clause), Along: m.along(r, "what is left to the shop"), Because: nameOf(r.Get("because"), 0)}
	if !l.Because.Given() || r.Get("to") == nil || r.Stands("along") && len(l.Along) == 0 || r.Broken {
		return nil
	}
	if !l.Because.Answers() {
		m.report(RuleWrongValue, l.Because.At, "because gives no reason; %s", syntax.AsksWhy("leave"))
		return nil
	}
	return l
}

// Names tells whether the statement leaves a query, by its name.
func (l *Leave) Names(query string) bool {
	return slices.ContainsFunc(l.Queries, func(n Name) bool { return n.Text == query })
}

// Edges lists the edges that the statement is about, each once; none for the whole board.
func (l *Leave) Edges() []string { return edgeNamesOf(l.Along) }

// edgeNamesOf lists the edges of some stretches, each once.
func edgeNamesOf(along []Along) []string {
	var list []string
	for _, a := range along {
		if !slices.Contains(list, a.Edge.Name) {
			list = append(list, a.Edge.Name)
		}
	}
	return list
}

// Edges lists the edges that the plating is stated along, each once.
func (p *Plating) Edges() []string { return edgeNamesOf(p.Along) }

func (m *meaning) delivery(r *syntax.Reading, base Item) *Delivery {
	return &Delivery{Item: base.keyed(r), Single: r.Get("single") != nil, Panels: namesOf(r.Get("panel"))}
}

func (m *meaning) marking(r *syntax.Reading, base Item) *Marking {
	x := &Marking{Item: base.keyed(r), Text: choiceOf(&r.Clause)}
	on, at := r.Get("on"), r.Get("at")
	if on != nil && at != nil {
		f, known := m.face(on.Values[0])
		p, ok := m.point(at.Values[0])
		if known && ok {
			x.Face, x.Centre, x.At = f, p, on.Place().Cover(at.Place())
		}
	}
	switch {
	case x.Text.Is("none") && (r.Stands("on") || r.Stands("at")):
		m.report(syntax.RuleRepeated, r.Keyword, "marking none forbids any mark; it takes no place")
		return nil
	case r.Stands("on") != r.Stands("at"):
		m.report(RuleMissing, r.Keyword, "expected on and at beside each other: the face, and the mark's centre on it")
		return nil
	}
	return x
}
