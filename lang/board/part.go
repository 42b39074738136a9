package board

import (
	"hemline/lang/geom"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Part is a part whose weight the tabs carry.
type Part struct {
	Item
	Mass     Value // kg
	Centre   geom.Point
	CentreAt source.Place
}

func (m *meaning) part(r *syntax.Reading, base Item) *Part {
	p := &Part{Item: base, Mass: m.quantity(r.Get("mass"), 0, positive)}
	at := r.Get("at")
	if at == nil {
		return nil
	}
	centre, ok := m.point(at.Values[0])
	if p.Centre, p.CentreAt = centre, at.Place(); !ok || !p.Mass.Given() {
		return nil
	}
	return p
}

// Weight is a mass, kg, at a point.
type Weight struct {
	Mass float64
	At   geom.Point
}

// Weights lists the masses that the text states: of parts, and of connectors, each
// at the middle of what is stated of its body over the board and out past the
// profile.
func (b *Board) Weights() []Weight {
	var list []Weight
	for _, p := range b.Parts() {
		list = append(list, Weight{p.Mass.Value, p.Centre})
	}
	for _, c := range b.Connectors() {
		if c.Mass.Given() {
			in := c.Edge.Inward(c.Position).Scale((c.BodyReach.Value - c.Overhang.Value) / 2)
			list = append(list, Weight{c.Mass.Value, c.Edge.Point(c.Position).Add(in)})
		}
	}
	return list
}
