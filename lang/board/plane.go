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

func (p *Plane) nets() []Name { return []Name{p.Net} }
