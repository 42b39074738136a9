package copper

import (
	"iter"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// round is a piece that is a disc.
func round(k Kind, of Item, l Layers, member int, centre geom.Point, diameter float64) Piece {
	return Piece{Kind: k, Item: of, Member: int32(member), Layers: l, width: diameter, box: geom.Box{Min: centre, Max: centre}.Grow(diameter / 2)}
}

// ready is a piece of a shape that nothing else keeps.
func ready(k Kind, of Item, l Layers, member int, shape *geom.Loop) Piece {
	return Piece{Kind: k, Item: of, Member: int32(member), Layers: l, box: shape.Box(), site: &site{shape: shape}}
}

// none is the member of what is no row.
const none = -1

// grown is an area with a margin all round it; a rectangle's corners stay square.
func grown(l *geom.Loop, by float64) *geom.Loop {
	if s := l.Segments(); len(s) == 1 && s[0].Arc {
		return geom.Circle(s[0].C, 2*(s[0].Radius()+by))
	}
	b := l.Box().Grow(by)
	return geom.RectangleAt(b.Min, b.Max.X-b.Min.X, b.Max.Y-b.Min.Y, 0)
}

func (m *Map) feature(x *board.Feature) []Piece {
	l := m.Layer(x.Layer.Text)
	list := append(make([]Piece, 0, 2), Piece{Kind: Feature, Item: x, Member: none, Layers: l, box: x.Shape.Box()})
	for _, f := range board.Faces {
		if l&m.faces[f] != 0 {
			list = append(list, Piece{Kind: Opening, Item: x, Member: none, Layers: m.faces[f], width: m.asked.Margin, box: x.Shape.Box().Grow(m.asked.Margin)})
		}
	}
	return list
}

func (m *Map) hole(h *board.Hole) []Piece {
	k := Drilled
	if h.Plated {
		k = PlatedHole
	}
	list := []Piece{round(k, h, Through, none, h.Centre, h.Diameter.Value)}
	if !h.Plated || !h.Land.Given() {
		return list
	}
	for _, f := range board.Faces {
		list = append(list, round(Ring, h, m.faces[f], none, h.Centre, h.Land.Value),
			round(Opening, h, m.faces[f], none, h.Centre, h.Land.Value+2*m.asked.Margin))
	}
	return list
}

func (m *Map) fence(x *board.Fence) []Piece {
	list := make([]Piece, 0, 2*len(x.Vias))
	for i, at := range x.Vias {
		list = append(list, round(Via, x, Through, i, at, x.Hole.Value))
		if x.Land.Given() {
			list = append(list, round(Pad, x, m.faces[board.Top]|m.faces[board.Bottom]|m.planed(x, at), i, at, x.Land.Value))
		}
	}
	return slices.Clip(list)
}

// shallow is how deep a body is that does not say how far it reaches over the
// board, nm: it stands on the edge and on nothing else.
const shallow = 2e3

// planed are the inner layers on which a plane of its net lies where a via that is to
// be added stands, so that it has a pad there. What pads the artwork's own vias have
// inside is not known.
func (m *Map) planed(x *board.Fence, at geom.Point) (l Layers) {
	if !x.Added || !x.Net.Given() {
		return 0
	}
	for _, p := range m.planes.items {
		if p.Net.Text == x.Net.Text && (p.Within == nil || p.Within.Overlaps(geom.BoxOf(at))) {
			l |= m.Layer(p.Layer.Text)
		}
	}
	return l
}

func (m *Map) connector(c *board.Connector) []Piece {
	list := []Piece{ready(Body, c, m.faces[board.Top]|m.faces[board.Bottom], none, c.Edge.Standing(c.Position, c.Body.Value, c.Overhang.Value, max(c.BodyReach.Value, shallow)))}
	for _, pin := range c.Pins {
		list = append(list, ready(Pin, c, m.faces[pin.Face], none, c.Pad(pin)),
			ready(Opening, c, m.faces[pin.Face], none, c.Edge.Standing(c.Position, pin.Width.Value+2*m.asked.Margin, 0, pin.Length.Value+m.asked.Margin)))
	}
	return list
}

// legs are a connector's ground legs: pins of the net of the wall that each
// stands on.
func (m *Map) legs(c *board.Connector) []Piece {
	var list []Piece
	for i, at := range c.LegsAt() {
		on, width := m.b.Footing(c, i)
		if width == 0 {
			continue // it has no net, which is found
		}
		for _, f := range c.Legs.Faces {
			leg := ready(Pin, c, m.faces[f], i, c.Leg(i))
			open := ready(Opening, c, m.faces[f], i, c.Edge.Standing(at, c.Legs.Width.Value+2*m.asked.Margin, 0, c.Legs.Length.Value+m.asked.Margin))
			leg.site.stretch, open.site.stretch = on, on
			list = append(list, leg, open)
		}
	}
	return list
}

func (m *Map) castellation(c *board.Castellation) []Piece {
	lands := m.faces[board.Top] | m.faces[board.Bottom]
	if len(c.Layers) > 0 {
		lands = 0
		for _, l := range c.Layers {
			lands |= m.Layer(l.Text)
		}
	}
	list := make([]Piece, 0, 2*len(c.Centres))
	for i, at := range c.Centres {
		list = append(list, round(Barrel, c, Through, i, c.Edge.Point(at), c.Hole.Value),
			ready(Land, c, lands, i, c.Land(i)))
	}
	return list
}

func (m *Map) tab(t *board.Tab) []Piece {
	from, to := t.Range()
	list := []Piece{siteOf(board.Stretch{Profile: t.Edge.Profile, From: from, To: to}).piece(Tab, t, Through, 0)}
	for i, at := range t.Holes() {
		list = append(list, round(Perforation, t, Through, i, at, t.Hole.Value))
	}
	return list
}

func (m *Map) cutout(c *board.Cutout) []Piece {
	return []Piece{{Kind: Cutout, Item: c, Member: none, Layers: Through, box: c.Profile.Path.Box()}}
}

// plane is a piece without a shape of its own, as large as the board.
func (m *Map) plane(x *board.Plane) []Piece {
	return []Piece{{Kind: Plane, Item: x, Member: none, Layers: m.Layer(x.Layer.Text), box: geom.EmptyBox()}}
}

// siteOf is the site of what lies along a stretch.
func siteOf(s board.Stretch) *site {
	w := &site{stretch: s, segs: s.Segments()}
	if len(w.segs) == 1 {
		return w
	}
	w.boxes = make([]geom.Box, 0, 2*len(w.segs))
	for i, g := range w.segs {
		next, gape := w.segs[(i+1)%len(w.segs)], geom.EmptyBox()
		if (i+1 < len(w.segs) || next.A == g.B) && geom.BandGapes(g, next, !s.Profile.Cutout) {
			gape = geom.BoxOf(g.B)
		}
		w.boxes = append(w.boxes, g.Box(), gape)
	}
	return w
}

// piece is a piece that lies along a stretch: a line, or a strip of a width on the
// board's side.
func (w *site) piece(k Kind, of Item, l Layers, width float64) Piece {
	p := Piece{Kind: k, Item: of, Member: none, Layers: l, width: width, box: geom.EmptyBox(), site: w}
	if w.boxes == nil {
		p.box = w.segs[0].Box().Grow(width)
	}
	for _, b := range p.parts() {
		p.box = p.box.Union(b)
	}
	return p
}

// stretch makes the pieces of a plated stretch, or the one of a bare one.
func (m *Map) stretch(s board.Stretch) []Piece {
	at := siteOf(s)
	if s.Plating == nil {
		var of Item
		if c := m.cutouts[s.Profile]; c != nil {
			of = c
		}
		return []Piece{at.piece(Edge, of, Through, 0)}
	}
	pl := s.Plating
	list := append(make([]Piece, 0, 3), at.piece(Wall, pl, Through, 0))
	for _, f := range board.Faces {
		if w := pl.Wrap[f].Value; w > 0 {
			list = append(list, at.piece(Wrap, pl, m.faces[f], w))
		}
	}
	for i, l := range m.levels {
		for _, tie := range m.Ties(pl, l) {
			for w := range m.Walled(s, l) {
				tied := at
				if w != s {
					tied = siteOf(w)
				}
				if tie.Plane != nil {
					tied = tied.of(tie.Plane)
				}
				if p := tied.piece(tie.Kind, pl, bit(i), tie.Width); p.there() {
					list = append(list, p)
				}
			}
		}
	}
	return append(list, m.roots(s)...)
}

// of is a site of a plane's run.
func (w *site) of(p *board.Plane) *site {
	x := *w
	x.plane = p
	return &x
}

// there tells whether anything of a piece lies in the rectangle that it is cut to.
func (p *Piece) there() bool {
	if p.rectangle() == nil {
		return true
	}
	for i := range p.parts() {
		if len(p.loops(i)) > 0 {
			return true
		}
	}
	return false
}

// Walled are the parts of a plated stretch that have copper on a layer: on the
// faces it runs on over premetallised tabs, on inner layers it ends at their roots.
func (m *Map) Walled(s board.Stretch, layer string) iter.Seq[board.Stretch] {
	if outer, _ := m.Outer(m.Layer(layer)); outer {
		return slices.Values([]board.Stretch{s})
	}
	return m.b.Walled(s)
}

// roots are the bare edges that premetallised tabs leave of a plated stretch on
// inner layers, once they are cut.
func (m *Map) roots(s board.Stretch) (list []Piece) {
	_, inner := m.Outer(m.all)
	if !inner || len(m.premetallised) == 0 {
		return nil
	}
	for t, root := range m.b.Roots(s) {
		list = append(list, siteOf(root).piece(Edge, t, m.all&^(m.faces[board.Top]|m.faces[board.Bottom]), 0))
	}
	return list
}

// StripWidth is how far a plating's own copper reaches inward on an inner layer
// that it joins and on which no plane of its net comes to it, nm.
const StripWidth = 0.3e6

// Tie is copper of a plating on a layer that it joins: how wide it is, and the
// plane whose Run it is, in that plane's rectangle alone; a Strip is no plane's.
type Tie struct {
	Width float64
	Kind  Kind
	Plane *board.Plane
}

// Loops is what of the tie lies along a stretch.
func (t Tie) Loops(s board.Stretch) []*geom.Loop {
	loops := s.Inward(t.Width)
	if t.Plane == nil || t.Plane.Within == nil {
		return loops
	}
	return within(loops, *t.Plane.Within)
}

func within(loops []*geom.Loop, b geom.Box) (in []*geom.Loop) {
	for _, l := range loops {
		in = append(in, geom.Within(l, b)...)
	}
	return in
}

// Ties are a plating's copper on a layer: a Run of each plane of its net there, as
// wide as that keeps away from the edge elsewhere, or where none of them comes to
// its wall, on an inner layer, a Strip.
func (m *Map) Ties(p *board.Plating, layer string) (list []Tie) {
	if !p.Net.Given() && len(p.Layers) == 0 && !p.AllLayers || !m.joins(p, layer) {
		return nil
	}
	any := false
	for _, x := range m.planes.items {
		if m.Layer(x.Layer.Text) != m.Layer(layer) || !m.b.Meets(x, p) {
			continue
		}
		if any = true; x.Pullback.Value > 0 {
			list = append(list, Tie{x.Pullback.Value, Run, x})
		}
	}
	if any {
		return list
	}
	if outer, _ := m.Outer(m.Layer(layer)); outer {
		return nil // there the wrap is its strip
	}
	return []Tie{{Width: StripWidth, Kind: Strip}}
}

// relief makes the openings of a relief, one a face for each stretch or land.
func (m *Map) relief(r *board.Relief) (list []Piece) {
	for _, o := range m.b.Openings(r, m.asked.Margin) {
		if o.Row == nil {
			x := siteOf(o.Stretch).piece(Opening, r, m.faces[o.Face], o.Reach)
			for _, l := range o.Ends() {
				x.site.ends, x.box = append(x.site.ends, l), x.box.Union(l.Box())
			}
			list = append(list, x)
			continue
		}
		x := ready(Opening, r, m.faces[o.Face], o.Hole, o.Loops()[0])
		x.site.row = o.Row
		list = append(list, x)
	}
	return list
}
