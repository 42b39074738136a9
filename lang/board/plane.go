package board

import "hemline/lang/syntax"

// Plane is a copper area that follows the profile.
type Plane struct {
	Item
	Layer    Name
	Net      Name
	Pullback Value

	// others are the planes that its statement lays on further layers.
	others []*Plane
}

func (m *meaning) plane(r *syntax.Reading, base Item) *Plane {
	on := r.Get("on")
	p := &Plane{Item: base, Net: nameOf(r.Get("net"), 0), Pullback: m.quantity(r.Get("pullback"), 0, notNegative)}
	if on == nil {
		return nil
	}
	var list []*Plane
	for i, v := range on.Values {
		if !m.layer(v) {
			continue
		}
		x := *p
		x.Layer = nameOf(on, i)
		// A plane has no name of its own; findings on it are accepted by its layer's.
		x.Item.Name = x.Layer
		list = append(list, &x)
	}
	if len(list) == 0 || !p.Pullback.Given() {
		return nil
	}
	list[0].others = list[1:]
	return list[0]
}

// RunsTo tells whether a plane runs up to the stretches of a plating: one of its
// net that joins its layer. From every other one, of its net or not, it keeps as
// far as from a bare edge.
func (b *Board) RunsTo(plane *Plane, p *Plating) bool {
	return plane.Net.Given() && plane.Net.Text == p.Net.Text && b.Joins(p, plane.Layer.Text)
}

func (p *Plane) nets() []Name { return []Name{p.Net} }

// planes keeps the planes, of a statement on several layers each as one of its own.
type planes struct{ lists[Plane] }

func (f planes) add(c *contents, item any, geo *geometry) {
	for _, p := range planesOf(item) {
		f.lists.add(c, p, geo)
	}
}

func (f planes) exchange(c *contents, gone, come, before []*decoded) {
	l := f.lists(c)
	l.items = exchange(l.items, gone, come, before, func(d *decoded) []*Plane { return planesOf(d.item) })
}

func planesOf(item any) []*Plane {
	p, ok := item.(*Plane)
	if !ok {
		return nil
	}
	if len(p.others) == 0 {
		return []*Plane{p}
	}
	return append([]*Plane{p}, p.others...)
}
