package board

import (
	"slices"

	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Opens is the gap that a tab or a connector makes for itself, as its statement
// says it; the gaps that come of it are among Board.Gaps.
type Opens struct {
	// Platings are those that are interrupted; none for all that run there.
	Platings []Name
	// Margin, where it is given, is left free on each side of what stands there,
	// which is Around wide; else Span is all of it.
	Margin, Span Value
	Around       float64 // nm
	Bridged      bool
	BridgedAt    source.Place
	From, To     float64 // positions on the edge, nm
	At           source.Place
}

// opens reads the gap of what stands at a position on an edge, so wide along it;
// nil where none is stated, or where it cannot be read.
func (m *meaning) opens(r *syntax.Reading, e *Edge, position, around float64) *Opens {
	c := r.Get("opens")
	if c == nil {
		return nil
	}
	o := &Opens{Platings: namesOf(c), Margin: m.quantity(c.Get("margin"), 0, notNegative), Span: m.quantity(c.Get("span"), 0, positive),
		Around: around, Bridged: c.Get("bridged") != nil, At: c.Place()}
	if o.Bridged {
		o.BridgedAt = c.Get("bridged").Place()
	}
	if o.Margin.Given() == o.Span.Given() {
		return nil
	}
	half := o.Span.Value / 2
	if o.Margin.Given() {
		half = around/2 + o.Margin.Value
	}
	o.From, o.To = position-half, position+half
	if !m.onEdge(e, o.From, o.To, o.At, "the gap that "+r.Spec.Word+" "+nameOf(&r.Clause, 0).Text+" opens") {
		return nil
	}
	return o
}

func (o *Opens) refers(t *tying) {
	if o != nil {
		for _, p := range o.Platings {
			t.to(p, platingNames)
		}
	}
}

// opener is a tab or a connector that opens a gap.
type opener interface {
	item
	gap() (*Gap, *Opens)
}

// gap is the gap that a tab opens, of no plating yet; nil for one that opens
// none, and for one over which the copper runs on.
func (t *Tab) gap() (*Gap, *Opens) {
	if t.Opens == nil || t.Premetallised {
		return nil, nil
	}
	g := t.Opens.gap(t.Base(), t.Edge)
	g.Tab = t
	return g, t.Opens
}

func (c *Connector) gap() (*Gap, *Opens) {
	if c.Opens == nil {
		return nil, nil
	}
	g := c.Opens.gap(c.Base(), c.Edge)
	g.Connector = c
	return g, c.Opens
}

func (o *Opens) gap(by *Item, e *Edge) *Gap {
	item := *by
	item.Unlikely = nil
	return &Gap{Item: item, Edge: e, From: o.From, To: o.To, Stretch: o.At, Width: o.Span, Margin: o.Margin, Around: o.Around, For: by.Name, Bridged: o.Bridged, BridgedAt: o.BridgedAt}
}

// openedBy are the gaps of one opener.
type openedBy struct {
	opener opener
	gaps   []*Gap
}

// opened are what a board's openers come to, and what it was worked out of.
type opened struct {
	by   []openedBy
	gaps list[*Gap] // of the connectors and then of the tabs, in the order of the text
	all  []*Gap     // the stated ones before them
}

// openGaps works out the gaps that connectors and tabs open: one in each plating
// that they name, or that runs there. Those of a statement that did not change,
// where no plating did, stand.
func (m *model) openGaps(before *model) {
	m.opened.gaps.reads = readsOpened
	kept := m.geometry == before.geometry && same(m.contents.platings.items, before.contents.platings.items)
	if kept && same(m.connectors.items, before.connectors.items) && same(m.tabs.items, before.tabs.items) {
		m.opened.by, m.opened.gaps.items = before.opened.by, before.opened.gaps.items
		m.opened.join(m, before)
		return
	}
	var then map[opener][]*Gap
	if n := len(before.opened.by); n > 0 {
		then = make(map[opener][]*Gap, n)
		for _, x := range before.opened.by {
			then[x.opener] = x.gaps
		}
	}
	add := func(x opener) {
		gaps, known := then[x]
		if !known || !kept {
			gaps = m.gapsOf(x, gaps)
		}
		if len(gaps) > 0 {
			m.opened.by = append(m.opened.by, openedBy{x, gaps})
			m.opened.gaps.items = append(m.opened.gaps.items, gaps...)
		}
	}
	for _, c := range m.connectors.items {
		add(c)
	}
	for _, t := range m.tabs.items {
		add(t)
	}
	m.opened.join(m, before)
}

// join puts the stated gaps before those that are opened.
func (o *opened) join(m, before *model) {
	switch {
	case len(o.gaps.items) == 0:
		o.all = m.gaps.items
	case same(m.gaps.items, before.gaps.items) && same(o.gaps.items, before.opened.gaps.items):
		o.all = before.opened.all
	default:
		o.all = slices.Concat(m.gaps.items, o.gaps.items)
	}
}

// gapsOf makes the gaps of one opener; where they are what they were, those are kept.
func (m *model) gapsOf(x opener, old []*Gap) (list []*Gap) {
	first, opens := x.gap()
	if first == nil {
		return nil
	}
	var of []Name
	for _, name := range opens.Platings {
		if m.platings[name.Text] != nil && !slices.ContainsFunc(of, func(n Name) bool { return n.Text == name.Text }) {
			of = append(of, name)
		}
	}
	if len(opens.Platings) == 0 {
		for _, p := range m.contents.platings.items {
			if m.platings[p.Name.Text] == p && interrupts(m.contents.platings.items, p, first) {
				of = append(of, Name{Text: p.Name.Text, At: first.Stretch})
			}
		}
	}
	for _, name := range of {
		g := *first
		g.Of = name
		list = append(list, &g)
	}
	if slices.EqualFunc(list, old, func(a, b *Gap) bool { return a.Of == b.Of }) {
		return old
	}
	return list
}
