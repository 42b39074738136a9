package layers

import (
	"fmt"
	"iter"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// profile is the outline as one region. Cutouts are in the rout files, as the
// format's specification asks.
func (m *maker) profile() image {
	flag := "NP"
	if m.b.Plated() {
		flag = "P"
	}
	i := image{name: "profile", function: "Profile," + flag, about: "the board's outline; cutouts are in the rout files"}
	i.dark("Profile", board.Name{}, m.b.Outline().Path)
	return i
}

// add is the copper that the spec puts at the edge of a layer: wraps, ties and
// the lands of half holes, and past the profile the extension.
func (m *maker) add(l level) (image, error) {
	i := image{name: l.file("add"), function: fmt.Sprintf("Other,Edge copper to add on L%d %s", l.number, l.place()),
		about: fmt.Sprintf("copper to add to layer %d (%s): %s", l.number, l.name, m.adds(l))}
	for _, p := range m.b.Platings() {
		var loops []*geom.Loop
		for s := range m.b.PlatedBy(p) {
			for _, f := range l.faces {
				loops = append(loops, s.Band(f)...)
			}
			if tie := m.tie(p, l); tie > 0 {
				for w := range m.walled(s, l) {
					loops = append(loops, w.Inward(tie)...)
				}
			}
		}
		i.dark("Conductor", p.Net, loops...)
	}
	if l.outer() {
		for _, c := range m.b.Castellations() {
			for n, position := range c.Centres {
				if c.LandWidth.Value > 0 && c.LandLength.Value > 0 {
					i.dark("CastellatedPad", c.NetOf(n), c.Edge.Standing(position, c.LandWidth.Value, 0, c.LandLength.Value))
				}
			}
		}
	}
	if l.outer() {
		for _, h := range m.b.Holes() {
			if land := h.LandPath(); land != nil {
				i.dark("Conductor", h.Net, land)
			}
		}
	}
	m.trim(&i)
	var astray strays
	for _, p := range m.b.Platings() {
		if !m.reaches(p, l) || p.Extend.Value <= 0 {
			continue
		}
		var past []*geom.Loop
		for s := range m.b.PlatedBy(p) {
			for w := range m.walled(s, l) {
				past = append(past, w.Outward(p.Extend.Value)...)
			}
		}
		if m.strays(&i, past) > speck {
			astray = append(astray, Stray{Plating: p})
			continue
		}
		i.dark("Conductor", p.Net, past...)
	}
	return i, astray.asError()
}

// walled are the parts of a stretch that have copper on a layer: the faces' runs
// on over premetallised tabs, inner layers end at their roots.
func (m *maker) walled(s board.Stretch, l level) iter.Seq[board.Stretch] {
	if l.outer() {
		return slices.Values([]board.Stretch{s})
	}
	return m.b.Walled(s)
}

func (m *maker) adds(l level) string {
	if l.outer() {
		lands := "half holes"
		if slices.ContainsFunc(m.b.Holes(), func(h *board.Hole) bool { return h.Land.Given() }) {
			lands = "holes and half holes"
		}
		return "wraps, lands of " + lands + ", and what is drawn past the profile to be routed away"
	}
	return "ties to the wall, and what is drawn past the profile to be routed away"
}

// tie is how wide a plating's copper is on a layer that it joins: as wide as
// the plane of its net keeps away from the edge elsewhere. 0 for none.
func (m *maker) tie(p *board.Plating, l level) float64 {
	tie := 0.0
	for _, plane := range m.b.Planes() {
		if m.b.SameLayer(plane.Layer.Text, l.name) && m.b.RunsTo(plane, p) {
			tie = max(tie, plane.Pullback.Value)
		}
	}
	return tie
}

// reaches tells whether a plating has copper on a layer: a wrap, or a tie.
func (m *maker) reaches(p *board.Plating, l level) bool {
	for _, f := range l.faces {
		if p.Wrap[f].Value > 0 {
			return true
		}
	}
	return m.b.Joins(p, l.name)
}

// free is the area of a layer in which no copper of the artwork may lie: along
// bare stretches, in gaps as deep as the wrap beside them, at tabs and holes, at walls
// that the layer is not joined to. The copper to add and connectors' pins are
// taken out of it.
func (m *maker) free(l level, add image) image {
	i := image{name: l.file("free"), function: fmt.Sprintf("Other,Keep free of copper on L%d %s", l.number, l.place()),
		about: fmt.Sprintf("area of layer %d (%s) to keep free of copper: bare stretches, gaps, launches, tabs%s", l.number, l.name, m.frees(l))}
	clearance := m.o.EdgeInner
	if l.outer() {
		clearance = m.o.EdgeOuter
	}
	var loops []*geom.Loop
	for _, p := range m.b.Profiles() {
		past := 0.0
		for _, s := range m.b.Wall(p).Plated {
			past = max(past, s.Plating.Extend.Value)
			if !m.reaches(s.Plating, l) {
				if apart := m.apart(s.Plating, l); apart > 0 {
					loops = append(loops, s.Inward(apart)...)
				}
			}
		}
		wall := m.b.Wall(p)
		if !l.outer() {
			wall = m.b.Finished(p) // on the faces copper runs on over premetallised tabs
		}
		for _, s := range wall.Bare {
			loops = append(loops, s.Inward(clearance)...)
			if out := s.Outward(past); m.strays(&i, out) <= speck {
				loops = append(loops, out...)
			}
		}
	}
	loops = append(loops, m.gaps(l, clearance)...)
	loops = append(loops, m.tabs(clearance)...)
	loops = append(loops, m.barrels(l)...)
	loops = append(loops, m.drilled(l, clearance)...)
	i.dark("", board.Name{}, loops...)
	i.erase(add.shapes(false)...)
	if l.outer() {
		var pins []*geom.Loop
		for _, c := range m.b.Connectors() {
			for _, pin := range c.Pins {
				if pin.Face == l.faces[0] {
					pins = append(pins, c.Edge.Standing(c.Position, pin.Width.Value, 0, pin.Length.Value))
				}
			}
		}
		i.erase(pins...)
	}
	return i
}

// apart is how far copper keeps from a wall that a layer is not joined to: as
// far as other nets' must, or where a plane of the wall's own net lies there as
// far as that is stated to, if that is less.
func (m *maker) apart(p *board.Plating, l level) float64 {
	least := m.o.WallInner
	for _, plane := range m.b.Planes() {
		if p.Net.Given() && plane.Net.Text == p.Net.Text && m.b.SameLayer(plane.Layer.Text, l.name) {
			least = min(least, plane.Pullback.Value)
		}
	}
	return least
}

func (m *maker) frees(l level) string {
	list := ""
	if len(m.drilled(l, 0)) > 0 {
		list = ", holes"
	}
	if !l.outer() {
		list += ", plated stretches that the layer is not joined to"
	}
	return list
}

// gaps are as deep as the wrap of their plating: that is where it stops.
func (m *maker) gaps(l level, clearance float64) (loops []*geom.Loop) {
	for _, g := range m.b.Gaps() {
		p := m.b.PlatingNamed(g.Of.Text)
		if p == nil || !l.outer() || p.Wrap[l.faces[0]].Value <= clearance {
			continue
		}
		if s, ok := between(g.Edge, g.From, g.To, 0); ok {
			loops = append(loops, s.Inward(p.Wrap[l.faces[0]].Value)...)
		}
	}
	return loops
}

// tabs are free of metal on every layer, to the inner side of their holes.
func (m *maker) tabs(clearance float64) (loops []*geom.Loop) {
	for _, t := range m.b.Tabs() {
		s, ok := between(t.Edge, t.From(), t.To(), m.o.TabGap)
		if t.Premetallised || !ok {
			continue
		}
		deep := clearance
		if t.Perforated {
			deep = max(deep, t.Inset.Value+t.Hole.Value/2+clearance)
		}
		loops = append(loops, s.Inward(deep)...)
	}
	return loops
}

// barrels are the surroundings of half holes on an inner layer without a plane
// of their net.
func (m *maker) barrels(l level) (loops []*geom.Loop) {
	if l.outer() {
		return nil
	}
	for _, c := range m.b.Castellations() {
		for n, position := range c.Centres {
			if !m.planeOf(c.NetOf(n), l) {
				loops = append(loops, geom.Circle(c.Edge.Point(position), c.Hole.Value+2*m.o.WallInner))
			}
		}
	}
	return loops
}

// drilled are the surroundings of holes: of an unplated one on every layer, as
// far as copper keeps from a bare edge; of a plated one on an inner layer without
// a plane of its net, and on an outer one with a plane of another, round its land.
func (m *maker) drilled(l level, clearance float64) (loops []*geom.Loop) {
	for _, h := range m.b.Holes() {
		switch {
		case !h.Plated:
			loops = append(loops, geom.Circle(h.Centre, h.Diameter.Value+2*clearance))
		case !l.outer() && !m.planeOf(h.Net, l):
			loops = append(loops, geom.Circle(h.Centre, h.Diameter.Value+2*m.o.WallInner))
		case l.outer() && m.anyPlane(l) && !m.planeOf(h.Net, l):
			loops = append(loops, geom.Circle(h.Centre, max(h.Diameter.Value, h.Land.Value)+2*m.o.WallInner))
		}
	}
	return loops
}

func (m *maker) anyPlane(l level) bool {
	return slices.ContainsFunc(m.b.Planes(), func(p *board.Plane) bool { return m.b.SameLayer(p.Layer.Text, l.name) })
}

func (m *maker) planeOf(net board.Name, l level) bool {
	for _, p := range m.b.Planes() {
		if net.Given() && p.Net.Text == net.Text && m.b.SameLayer(p.Layer.Text, l.name) {
			return true
		}
	}
	return false
}
