package copper

import (
	"math"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// isOff tells whether any part of a piece is not on the board. Only one that
// comes to a profile is measured; one that just touches it is on the board. Of
// a pad that stands on a curved edge the corners that the edge leaves do not
// count; of a half hole half is off.
func (m *Map) isOff(p *Piece) bool {
	if m.outline == nil {
		return false
	}
	shapes := p.Shape()
	switch {
	case p.Kind == Barrel:
		return m.barrelOff(p)
	case p.On() != nil:
		shapes = m.onCurve(p, shapes)
	}
	near := false
	var holes []*geom.Loop
	m.b.ProfilesNear(p.box, 0, func(x *board.Profile) {
		if x.Cutout {
			holes = append(holes, x.Path)
		}
		x.Near(p.box, 0, func(float64, float64) { near = true })
	})
	if !near {
		return !m.b.OnBoard(p.box.Center())
	}
	off := geom.AreaCovered([][]*geom.Loop{shapes, {m.outline.Path}, holes}, func(c []int) bool { return c[0] > 0 && (c[1] == 0 || c[2] > 0) })
	long := 0.0
	for _, s := range shapes {
		long += s.Perimeter()
	}
	return off > long*0.1 // a tenth of a nanometre all along
}

// barrelOff tells whether a half hole's centre stands on no straight or drawn
// piece of its edge: on a rounded corner, which has no position.
func (m *Map) barrelOff(p *Piece) bool {
	c := p.Item.(*board.Castellation)
	at, e := c.Centres[p.Member], c.Edge
	return !e.Closed && (at < e.Base-board.Tolerance || at > e.Base+e.To-e.From+board.Tolerance)
}

// onCurve is a pad that stands on an edge, from as deep as a curved edge leaves
// its tangent within the pad's width.
func (m *Map) onCurve(p *Piece, shapes []*geom.Loop) []*geom.Loop {
	position, width, length := m.stands(p)
	if width == 0 {
		return shapes
	}
	on := p.On()
	along := on.Along(position)
	i, _ := on.Profile.Path.SegmentAt(along)
	if i < 0 {
		return shapes
	}
	g := on.Profile.Path.Segments()[i]
	if !g.Arc {
		return shapes
	}
	deep := length
	if r := g.Radius(); width/2 < r {
		deep = r - math.Sqrt(r*r-width*width/4)
	}
	if deep >= length {
		return nil
	}
	return []*geom.Loop{on.Standing(position, width, -deep, length)}
}

// stands is where on its edge a pad stands, how wide and how deep.
func (m *Map) stands(p *Piece) (position, width, length float64) {
	switch x := p.Item.(type) {
	case *board.Castellation:
		return x.Centres[p.Member], x.LandWidth.Value, x.LandLength.Value
	case *board.Connector:
		if p.Member != none {
			return x.LegsAt()[p.Member], x.Legs.Width.Value, x.Legs.Length.Value
		}
		for _, pin := range x.Pins {
			if m.faces[pin.Face] == p.Layers {
				return x.Position, pin.Width.Value, pin.Length.Value
			}
		}
	}
	return 0, 0, 0
}
