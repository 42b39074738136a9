package board

import (
	"strings"

	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Along is one stretch that a plating or fence follows: all of an edge, or a part.
type Along struct {
	Edge     *Edge
	From, To float64 // positions on the edge, nm
	At       source.Place
	All      bool // by the word, which names no edge
}

// Plating is a plated edge.
type Plating struct {
	Item
	Along     []Along
	Net       Name
	Wrap      [2]Value // by Face; not Given where the text states none
	Copper    Value
	Least     Value // of the copper, at its thinnest spot
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
	m.wraps(r, p)
	p.Copper = m.quantity(r.Get("copper"), 0, positive)
	if c := r.Get("copper"); c != nil {
		p.Least = m.quantity(c.Get("least"), 0, positive)
		if p.Copper.Given() && p.Least.Value > p.Copper.Value {
			m.report(RuleWrongValue, p.Least.At, "the thinnest spot, %s, is thicker than the copper is on average, %s", p.Least.Quantity, p.Copper.Quantity)
			p.Least = Value{}
		}
	}
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

// wraps reads how far a plating turns over the faces. A face's value stands where
// its clause does, which may be several faces' one.
func (m *meaning) wraps(r *syntax.Reading, p *Plating) {
	for _, w := range r.All("wrap") {
		last := len(w.Values) - 1
		width := m.quantityOf(w, last, 1, notNegative)
		if width.Given() {
			width.At = w.Place()
		}
		for _, v := range w.Values[:last] {
			f, ok := m.face(v)
			if !ok {
				continue
			}
			if p.Wrap[f].Given() {
				m.report(syntax.RuleRepeated, w.Place(), "the wrap on %s is stated twice", f)
				continue
			}
			p.Wrap[f] = width
		}
	}
}

// Wrapped is a wrap as it is stated: of one face, or of both.
type Wrapped struct {
	Faces []Face
	Width Value
}

// On lists the faces as an author writes them.
func (w Wrapped) On() string {
	list := make([]string, len(w.Faces))
	for i, f := range w.Faces {
		list[i] = f.String()
	}
	return strings.Join(list, " and ")
}

// Wraps lists the wraps that a plating states, those of one clause as one.
func (p *Plating) Wraps() []Wrapped {
	var list []Wrapped
	for _, f := range Faces {
		w := p.Wrap[f]
		switch n := len(list); {
		case !w.Given():
		case n > 0 && list[n-1].Width.At == w.At:
			list[n-1].Faces = append(list[n-1].Faces, f)
		default:
			list = append(list, Wrapped{[]Face{f}, w})
		}
	}
	return list
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
			for _, e := range m.edges(v) {
				a := Along{Edge: e, To: e.Length, At: v.Place()}
				// from and to belong to the edge named last.
				if from != nil && i == len(c.Values)-1 {
					s, ok := m.stretch(from, e, what)
					if !ok {
						break
					}
					a.From, a.To, a.At = s.from, s.to, c.Place()
				}
				list = append(list, a)
			}
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
			list = append(list, Along{Edge: e, To: e.Length, At: v.Place(), All: true})
		}
	}
	if len(list) == 0 && !g.broken {
		m.report(RuleMissing, v.Place(), "there are no edges: the file states no outline")
	}
	return list
}

// Joins tells whether a plating connects to a copper layer: the layers it
// names, or without a word every layer with a plane of its net that comes to it.
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
		if b.SameLayer(plane.Layer.Text, layer) && b.Meets(plane, p) {
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
