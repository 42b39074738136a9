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
	on := r.Get("on")
	p := &Plane{Item: base, Layer: nameOf(on, 0), Net: nameOf(r.Get("net"), 0), Pullback: m.quantity(r.Get("pullback"), 0, notNegative)}
	if on == nil || !m.layer(on.Values[0]) || !p.Pullback.Given() {
		return nil
	}
	// A plane has no name of its own; findings on it are accepted by its layer's.
	p.Item.Name = p.Layer
	return p
}

// RunsTo tells whether a plane runs up to the stretches of a plating: one of its
// net that joins its layer. From every other one, of its net or not, it keeps as
// far as from a bare edge.
func (b *Board) RunsTo(plane *Plane, p *Plating) bool {
	return plane.Net.Given() && plane.Net.Text == p.Net.Text && b.Joins(p, plane.Layer.Text)
}

func (p *Plane) nets() []Name { return []Name{p.Net} }
