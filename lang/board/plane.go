package board

import "hemline/lang/syntax"

// Plane is a copper area that follows the profile.
type Plane struct {
	Item
	Layer    Name
	Net      Name
	Pullback Value
}

func (m *meaning) plane(r *syntax.Reading, base Item) *Plane {
	if list := m.planes(r, base); len(list) > 0 {
		return list[0]
	}
	return nil
}

// planes are the planes of a statement, one on each of its layers.
func (m *meaning) planes(r *syntax.Reading, base Item) []*Plane {
	on := r.Get("on")
	p := Plane{Item: base, Net: nameOf(r.Get("net"), 0), Pullback: m.quantity(r.Get("pullback"), 0, notNegative)}
	if on == nil {
		return nil
	}
	var list []*Plane
	for i, v := range on.Values {
		if !m.layer(v) {
			continue
		}
		x := p
		x.Layer = nameOf(on, i)
		// A plane has no name of its own; findings on it are accepted by its layer's.
		x.Item.Name = x.Layer
		list = append(list, &x)
	}
	if !p.Pullback.Given() {
		return nil
	}
	return list
}

// RunsTo tells whether a plane runs up to the stretches of a plating: one of its
// net that joins its layer. From every other one, of its net or not, it keeps as
// far as from a bare edge.
func (b *Board) RunsTo(plane *Plane, p *Plating) bool {
	return plane.Net.Given() && plane.Net.Text == p.Net.Text && b.Joins(p, plane.Layer.Text)
}

func (p *Plane) nets() []Name { return []Name{p.Net} }
