package board

import (
	"hemline/lang/geom"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Hole is a drilled hole.
type Hole struct {
	Item
	Diameter Value // finished
	Centre   geom.Point
	CentreAt source.Place
	Plated   bool
	Net      Name
	Land     Value // its diameter; not Given for a hole without land
}

func (m *meaning) hole(r *syntax.Reading, base Item) *Hole {
	h := &Hole{Item: base, Plated: r.Get("plated") != nil, Net: nameOf(r.Get("net"), 0)}
	h.Diameter = m.quantity(r.Get("diameter"), 0, positive)
	h.Land = m.quantity(r.Get("land"), 0, positive)
	at := r.Get("at")
	if at == nil {
		return nil
	}
	centre, ok := m.point(at.Values[0])
	if h.Centre, h.CentreAt = centre, at.Place(); !ok || !h.Diameter.Given() {
		return nil
	}
	m.landHolds(h.Land, h.Diameter)
	if unplated := r.Get("unplated"); unplated != nil && h.Net.Given() {
		m.report(RuleWrongValue, h.Net.At, "an unplated hole has no net")
	}
	return h
}

// landHolds reports a land that is smaller than the hole in it.
func (m *meaning) landHolds(land, hole Value) {
	if land.Given() && hole.Given() && land.Value < hole.Value {
		m.report(RuleWrongValue, land.At, "the land, %s, is smaller than the hole, %s", land.Quantity, hole.Quantity)
	}
}

func (h *Hole) nets() []Name { return []Name{h.Net} }

// State says whether the hole is plated.
func (h *Hole) State() string {
	if h.Plated {
		return "plated"
	}
	return "unplated"
}

// Wall says whether the hole is plated, and of which net.
func (h *Hole) Wall() string {
	if !h.Plated {
		return h.State()
	}
	return h.State() + ", " + h.Net.AsNet()
}

// Path is the hole's edge.
func (h *Hole) Path() *geom.Loop { return geom.Circle(h.Centre, h.Diameter.Value) }

// LandPath is the edge of its land on either face, nil where it has none.
func (h *Hole) LandPath() *geom.Loop {
	if !h.Land.Given() {
		return nil
	}
	return geom.Circle(h.Centre, h.Land.Value)
}
