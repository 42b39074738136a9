package board

import (
	"fmt"

	"hemline/lang/geom"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Plane is a copper area that follows the profile.
type Plane struct {
	Item
	Layer    Name
	Net      Name
	Pullback Value
	// Within is the rectangle that the plane is cut to, nil for a whole one, and
	// WithinAt where the text says so.
	Within   *geom.Box
	WithinAt source.Place
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
	within := r.Get("within")
	if on == nil || r.Stands("within") && !m.within(within, &p) {
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

// within reads the rectangle that a plane is cut to.
func (m *meaning) within(c *syntax.Clause, p *Plane) bool {
	to := c.Get("to")
	if c == nil || to == nil {
		return false // what cannot be read is reported, and a whole plane is not meant
	}
	a, ok := m.point(c.Values[0])
	b, also := m.point(to.Values[0])
	if !ok || !also {
		return false
	}
	box := geom.BoxOf(a, b)
	if box.Max.X-box.Min.X <= Tolerance || box.Max.Y-box.Min.Y <= Tolerance {
		m.report(RuleWrongValue, c.Place(), "the rectangle encloses no area; `within` needs two opposite corners that differ in x and in y")
		return false
	}
	p.Within, p.WithinAt = &box, c.Place()
	return true
}

// Rectangle says which rectangle the plane is cut to: " within (0.00 mm, 0.00 mm)
// to (9.00 mm, 9.00 mm)"; "" for a whole one.
func (p *Plane) Rectangle() string {
	if p.Within == nil {
		return ""
	}
	return fmt.Sprintf(" within %s to %s", Coordinates(p.Within.Min), Coordinates(p.Within.Max))
}

// numberPlanes names the planes of a layer that has several by its name and a
// number, in the order of the text. A plane that had the same number in the version
// before stays the same item.
func (m *model) numberPlanes(before *model) {
	m.statedPlanes = m.planes.items
	if same(m.statedPlanes, before.statedPlanes) && same(m.stacks.items, before.stacks.items) {
		m.planes.items = before.planes.items
		return
	}
	b := &Board{model: m}
	layer := func(p *Plane) string {
		if f, ok := b.FaceOf(p.Layer.Text); ok {
			return b.OuterLayer(f)
		}
		return p.Layer.Text
	}
	on, n := map[string]int{}, map[string]int{}
	for _, p := range m.statedPlanes {
		on[layer(p)]++
	}
	if len(on) == len(m.statedPlanes) {
		return
	}
	m.planes.items = restated(m.statedPlanes, before.statedPlanes, before.planes.items, func(p, stood *Plane) *Plane {
		if on[layer(p)] == 1 {
			return p
		}
		n[layer(p)]++
		x := *p
		x.Row, x.Name.Text = p.Layer, fmt.Sprint(p.Layer.Text, ".", n[layer(p)])
		if stood != nil && stood.Name.Text == x.Name.Text {
			return stood
		}
		return &x
	})
}

// RunsTo tells whether a plane runs up to the stretches of a plating, within its
// rectangle: one of its net that joins its layer, and that the rectangle touches.
// From every other one, of its net or not, it keeps as far as from a bare edge.
func (b *Board) RunsTo(plane *Plane, p *Plating) bool {
	return b.Meets(plane, p) && b.Joins(p, plane.Layer.Text)
}

// Meets tells whether a plane is of a plating's net and comes to its wall, as far
// as their nets and the plane's rectangle say.
func (b *Board) Meets(plane *Plane, p *Plating) bool {
	return plane.Net.Given() && plane.Net.Text == p.Net.Text && b.Borders(plane, p)
}

// Borders tells whether a plane comes to a plating's wall, whatever their nets.
func (b *Board) Borders(plane *Plane, p *Plating) bool {
	if plane.Within == nil {
		return true
	}
	for s := range b.PlatedBy(p) {
		if plane.Touches(s) {
			return true
		}
	}
	return false
}

// Touches tells whether a stretch borders on what of the board the plane is cut to.
func (p *Plane) Touches(s Stretch) bool {
	if p.Within == nil {
		return true
	}
	const inward = 2 // nm: a side of the rectangle may lie along the profile
	for _, g := range s.Segments() {
		if x, ok := geom.Parallel(g, inward, !s.Profile.Cutout); ok && len(x.ClipIn(*p.Within, 1)) > 0 {
			return true
		}
	}
	return false
}

func (p *Plane) nets() []Name { return []Name{p.Net} }
