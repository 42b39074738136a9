package board

import (
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Along is one stretch that a plating or fence follows: all of an edge, or a part.
type Along struct {
	Edge     *Edge
	From, To float64 // positions on the edge, nm
	At       source.Place
}

// Plating is a plated edge.
type Plating struct {
	Item
	Along     []Along
	Net       Name
	Wrap      [2]Value // by Face; not Given where the text states none
	Copper    Value
	Extend    Value
	Layers    []Name // layers as stated; none given means those with a plane of its net
	LayersAt  source.Place
	AllLayers bool
	Finish    Name
	// FinishLayers are the thicknesses of the finish's metals, from the copper outward.
	FinishLayers []Value
}

func (m *meaning) plating(r *syntax.Reading, base Item) *Plating {
	p := &Plating{Item: base, Along: m.along(r, "the plating"), Net: nameOf(r.Get("net"), 0), Finish: nameOf(r.Get("finish"), 0)}
	for _, w := range r.All("wrap") {
		f, ok := m.face(w.Values[0])
		if !ok {
			continue
		}
		if p.Wrap[f].Given() {
			m.report(syntax.RuleRepeated, w.Place(), "the wrap on %s is stated twice", f)
			continue
		}
		p.Wrap[f] = m.quantity(w, 1, notNegative)
		if p.Wrap[f].Given() {
			p.Wrap[f].At = w.Place()
		}
	}
	p.Copper = m.quantity(r.Get("copper"), 0, positive)
	p.Extend = m.quantity(r.Get("extend"), 0, notNegative)
	if f := r.Get("finish"); f != nil {
		p.FinishLayers = m.quantities(f.Get("thickness"))
	}
	if layers := r.Get("layers"); layers != nil {
		p.LayersAt = layers.Place()
		for i, v := range layers.Values {
			if word, _ := v.Word(); word == syntax.All && v.Expr.Op == syntax.OpName {
				p.AllLayers = true
				continue
			}
			if m.layer(v) {
				p.Layers = append(p.Layers, nameOf(layers, i))
			}
		}
	}
	return p
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

// Joins tells whether a plating connects to a copper layer: the layers it
// names, or without a word every layer with a plane of its net.
func (b *Board) Joins(p *Plating, layer string) bool {
	if p.AllLayers {
		return true
	}
	if len(p.Layers) > 0 {
		for _, l := range p.Layers {
			if b.SameLayer(l.Text, layer) {
				return true
			}
		}
		return false
	}
	for _, plane := range b.Planes() {
		if plane.Net.Text == p.Net.Text && plane.Net.Given() && b.SameLayer(plane.Layer.Text, layer) {
			return true
		}
	}
	return false
}

// Joined lists the copper layers that a plating joins, top first.
func (b *Board) Joined(p *Plating) []string {
	var list []string
	for _, l := range b.Layers() {
		if b.Joins(p, l) {
			list = append(list, l)
		}
	}
	return list
}

func (p *Plating) nets() []Name { return []Name{p.Net} }
