package board

import (
	"hemline/lang/geom"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Pin is a connector's signal pin on one face.
type Pin struct {
	Face          Face
	Width, Length Value
	At            source.Place
}

// Legs are a connector's ground legs, two on each of its faces.
type Legs struct {
	Faces         []Face
	Width, Length Value
	Spacing       Value // from middle to middle along the edge
	At            source.Place
}

// Connector launches over an edge.
type Connector struct {
	Item
	Edge       *Edge
	Position   float64 // of its middle, nm along the edge
	PositionAt source.Place
	Body       Value
	// BodyReach is how far the body's metal stands over the board, inward from
	// the profile; not Given where the text does not say.
	BodyReach Value
	// Overhang is how far the body stands out past the profile; not Given where the
	// text does not say.
	Overhang  Value
	Pins      []Pin
	Legs      *Legs // nil for none
	Clearance Value
	Mass      Value // kg
	Net       Name
	// Opens is the gap that it makes for itself; nil for none.
	Opens *Opens
}

func (m *meaning) connector(r *syntax.Reading, base Item) *Connector {
	c := &Connector{Item: base, Net: nameOf(r.Get("net"), 0)}
	c.Edge, _ = m.edgeOf(r)
	at, ok := m.middle(r, c.Edge)
	if body := r.Get("body"); body != nil {
		c.Body, c.BodyReach = m.quantity(body, 0, positive), m.quantity(body.Get("reach"), 0, notNegative)
		c.Overhang = m.quantity(body.Get("overhang"), 0, positive)
	}
	c.Clearance = m.quantity(r.Get("clearance"), 0, notNegative)
	for _, p := range r.All("pin") {
		f, good := m.face(p.Values[0])
		pin := Pin{Face: f, Width: m.quantity(p.Get("width"), 0, positive), Length: m.quantity(p.Get("length"), 0, positive), At: p.Place()}
		if good && pin.Width.Given() && pin.Length.Given() {
			c.Pins = append(c.Pins, pin)
		}
	}
	c.Legs = m.legs(r)
	c.Mass = m.quantity(r.Get("mass"), 0, positive)
	if !ok || !c.Body.Given() {
		return nil
	}
	c.Position, c.PositionAt = at.Value, r.Get("at").Place()
	if !m.onEdge(c.Edge, c.Position, c.Position, c.PositionAt, "the connector's middle") {
		return nil
	}
	widest := 0.0
	for _, p := range c.Pins {
		widest = max(widest, p.Width.Value)
	}
	if margin := r.Get("opens").Get("margin"); margin != nil && !r.Stands("pin") {
		m.report(RuleMissing, margin.Place(), "expected a pin: the margin of a connector's gap is on each side of its widest one")
	} else if margin == nil || widest > 0 {
		c.Opens = m.opens(r, c.Edge, c.Position, widest)
	}
	return c
}

// legs reads a connector's ground legs; nil where it states none that can be read.
func (m *meaning) legs(r *syntax.Reading) *Legs {
	k := r.Get("legs")
	if k == nil {
		return nil
	}
	l := &Legs{Width: m.quantity(k.Get("width"), 0, positive), Length: m.quantity(k.Get("length"), 0, positive),
		Spacing: m.quantity(k.Get("spacing"), 0, positive), At: k.Place()}
	for _, v := range k.Values {
		if f, ok := m.face(v); ok {
			l.Faces = append(l.Faces, f)
		}
	}
	if !l.Width.Given() || !l.Length.Given() || !l.Spacing.Given() || len(l.Faces) == 0 {
		return nil
	}
	if l.Spacing.Value < l.Width.Value {
		m.report(RuleWrongValue, l.Spacing.At, "the legs, %s wide, overlap where their middles are %s apart", l.Width, l.Spacing)
		return nil
	}
	return l
}

// Pad is a pin's pad: its width along the edge, its length inward.
func (c *Connector) Pad(p Pin) *geom.Loop {
	return c.Edge.Standing(c.Position, p.Width.Value, 0, p.Length.Value)
}

// LegsAt are the positions of the middles of its two legs along its edge.
func (c *Connector) LegsAt() [2]float64 {
	half := c.Legs.Spacing.Value / 2
	return [2]float64{c.Position - half, c.Position + half}
}

// Leg is the pad of one of its legs, on each face that has legs.
func (c *Connector) Leg(i int) *geom.Loop {
	return c.Edge.Standing(c.LegsAt()[i], c.Legs.Width.Value, 0, c.Legs.Length.Value)
}

// Footing is the plated stretch that a leg of a connector stands on, the one that
// it stands on most, and how much of it that is, nm; 0 where none is plated.
func (b *Board) Footing(c *Connector, leg int) (on Stretch, width float64) {
	at, half := c.LegsAt()[leg], c.Legs.Width.Value/2
	from, to := c.Edge.Range(at-half, at+half)
	b.Wall(c.Edge.Profile).PlatedIn(from, to, func(s Stretch) {
		for part := range s.Parts(from, to) {
			if d := part.Length(); d > max(width, Tolerance) {
				on, width = s, d
			}
		}
	})
	return on, width
}

func (c *Connector) refers(t *tying) { c.Opens.refers(t) }

func (c *Connector) nets() []Name { return []Name{c.Net} }

// Span is where the body stands, positions on the edge.
func (c *Connector) Span() (from, to float64) {
	return c.Position - c.Body.Value/2, c.Position + c.Body.Value/2
}

// BodyAt is Span beside a gap: on a rim, where one place has many positions, they
// are those nearest to the gap's middle.
func (c *Connector) BodyAt(g *Gap) (from, to float64) {
	from, to = c.Span()
	turns := g.turns(c.Edge, c.Position)
	return from + turns, to + turns
}
