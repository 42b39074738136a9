package copper

import (
	"iter"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// of makes a piece of ready loops.
func piece(k Kind, of *board.Item, item any, loops ...*geom.Loop) *Piece {
	p := &Piece{Kind: k, Of: of, Item: item, Member: -1, box: geom.EmptyBox()}
	for _, l := range loops {
		p.add(part{box: l.Box(), ready: l})
	}
	return p
}

func (p *Piece) add(x part) {
	if p.parts == nil {
		p.parts = p.first[:0]
	}
	p.parts = append(p.parts, x)
	p.box = p.box.Union(x.box)
}

// round is a piece that is a disc.
func round(k Kind, of *board.Item, item any, centre geom.Point, diameter float64) *Piece {
	p := &Piece{Kind: k, Of: of, Item: item, Member: -1, box: geom.EmptyBox()}
	box := geom.Box{Min: centre, Max: centre}.Grow(diameter / 2)
	p.add(part{box: box, make: func() []*geom.Loop { return []*geom.Loop{geom.Circle(centre, diameter)} }})
	return p
}

// grown is an area with a margin all round it; a rectangle's corners stay square.
func grown(l *geom.Loop, by float64) *geom.Loop {
	if s := l.Segments(); len(s) == 1 && s[0].Arc {
		return geom.Circle(s[0].C, 2*(s[0].Radius()+by))
	}
	b := l.Box().Grow(by)
	return geom.RectangleAt(b.Min, b.Max.X-b.Min.X, b.Max.Y-b.Min.Y, 0)
}

func (m *Map) feature(x *board.Feature) []*Piece {
	p := piece(Feature, &x.Item, x, x.Shape)
	p.Net, p.Layers = x.Net, m.Layer(x.Layer.Text)
	list := append(make([]*Piece, 0, 2), p)
	for _, f := range board.Faces {
		if p.Layers&m.faces[f] != 0 {
			o := &Piece{Kind: Opening, Of: &x.Item, Item: x, Member: -1, Net: x.Net, Layers: m.faces[f], box: geom.EmptyBox()}
			o.add(part{box: x.Shape.Box().Grow(m.asked.Margin), make: func() []*geom.Loop { return []*geom.Loop{grown(x.Shape, m.asked.Margin)} }})
			list = append(list, o)
		}
	}
	return list
}

func (m *Map) hole(h *board.Hole) []*Piece {
	k := Drilled
	if h.Plated {
		k = PlatedHole
	}
	p := round(k, &h.Item, h, h.Centre, h.Diameter.Value)
	p.Layers = Through
	list := []*Piece{p}
	if !h.Plated {
		return list
	}
	p.Net = h.Net
	if !h.Land.Given() {
		return list
	}
	for _, f := range board.Faces {
		ring := round(Ring, &h.Item, h, h.Centre, h.Land.Value)
		ring.Net, ring.Layers = h.Net, m.faces[f]
		open := round(Opening, &h.Item, h, h.Centre, h.Land.Value+2*m.asked.Margin)
		open.Net, open.Layers = h.Net, m.faces[f]
		list = append(list, ring, open)
	}
	return list
}

func (m *Map) fence(x *board.Fence) []*Piece {
	var list []*Piece
	for i, at := range x.Vias {
		v := round(Via, &x.Item, x, at, x.Hole.Value)
		v.Net, v.Layers, v.Member = x.Net, Through, i
		list = append(list, v)
		if x.Land.Given() {
			pad := round(Pad, &x.Item, x, at, x.Land.Value)
			pad.Net, pad.Layers, pad.Member = x.Net, m.faces[board.Top]|m.faces[board.Bottom], i
			list = append(list, pad)
		}
	}
	return list
}

// shallow is how deep a body is that does not say how far it reaches over the
// board, nm: it stands on the edge and on nothing else.
const shallow = 2e3

func (m *Map) connector(c *board.Connector) []*Piece {
	body := piece(Body, &c.Item, c, c.Edge.Standing(c.Position, c.Body.Value, 0, max(c.BodyReach.Value, shallow)))
	body.Layers, body.On = m.faces[board.Top]|m.faces[board.Bottom], c.Edge
	list := []*Piece{body}
	for _, pin := range c.Pins {
		pad := c.Edge.Standing(c.Position, pin.Width.Value, 0, pin.Length.Value)
		p := piece(Pin, &c.Item, c, pad)
		p.Net, p.Layers, p.On = c.Net, m.faces[pin.Face], c.Edge
		o := piece(Opening, &c.Item, c, c.Edge.Standing(c.Position, pin.Width.Value+2*m.asked.Margin, 0, pin.Length.Value+m.asked.Margin))
		o.Net, o.Layers, o.On = c.Net, m.faces[pin.Face], c.Edge
		list = append(list, p, o)
	}
	return list
}

func (m *Map) castellation(c *board.Castellation) []*Piece {
	var list []*Piece
	for i, at := range c.Centres {
		b := round(Barrel, &c.Item, c, c.Edge.Point(at), c.Hole.Value)
		b.Net, b.Layers, b.Member, b.On = c.NetOf(i), Through, i, c.Edge
		land := piece(Land, &c.Item, c, c.Edge.Standing(at, c.LandWidth.Value, 0, c.LandLength.Value))
		land.Net, land.Layers, land.Member, land.On = b.Net, m.faces[board.Top]|m.faces[board.Bottom], i, c.Edge
		list = append(list, b, land)
	}
	return list
}

func (m *Map) tab(t *board.Tab) []*Piece {
	from, to := t.Edge.Range(t.From(), t.To())
	p := &Piece{Kind: Tab, Of: &t.Item, Item: t, Member: -1, Layers: Through, On: t.Edge, box: geom.EmptyBox(),
		Stretch: board.Stretch{Profile: t.Edge.Profile, From: from, To: to}}
	p.chain(p.Stretch.Segments())
	list := []*Piece{p}
	for i, at := range t.Holes() {
		h := round(Perforation, &t.Item, t, at, t.Hole.Value)
		h.Layers, h.Member = Through, i
		list = append(list, h)
	}
	return list
}

func (m *Map) cutout(c *board.Cutout) []*Piece {
	p := piece(Cutout, &c.Item, c, c.Profile.Path)
	p.Layers = Through
	p.Stretch = board.Stretch{Profile: c.Profile}
	return []*Piece{p}
}

// plane is a piece without a shape of its own, as large as the board.
func (m *Map) plane(x *board.Plane) []*Piece {
	return []*Piece{{Kind: Plane, Of: &x.Item, Item: x, Member: -1, Net: x.Net, Layers: m.Layer(x.Layer.Text), box: geom.EmptyBox()}}
}

// chain makes a piece the line along segments.
func (p *Piece) chain(segs []geom.Segment) {
	for i, g := range segs {
		p.add(part{box: g.Box(), along: &segs[i]})
	}
}

// strip makes a piece the strip of a width along segments.
func (p *Piece) strip(segs []geom.Segment, width float64, left bool) {
	signed := width
	if !left {
		signed = -width
	}
	for i, g := range segs {
		p.add(part{box: g.Box().Grow(width), along: &segs[i], width: signed})
		next := segs[(i+1)%len(segs)]
		if len(segs) == 1 || i+1 == len(segs) && next.A != g.B {
			break
		}
		if geom.BandGapes(g, next, left) {
			p.add(part{box: geom.BoxOf(g.B).Grow(width), make: func() []*geom.Loop { return geom.BandJoint(g, next, width, left) }})
		}
	}
}

// stretch makes the pieces of a plated stretch, or the one of a bare one.
func (m *Map) stretch(s board.Stretch) []*Piece {
	segs := s.Segments()
	if s.Plating == nil {
		e := &Piece{Kind: Edge, Member: -1, Layers: Through, Stretch: s, box: geom.EmptyBox()}
		if c := m.cutouts[s.Profile]; c != nil {
			e.Of, e.Item = &c.Item, c
		}
		e.chain(segs)
		return []*Piece{e}
	}
	pl := s.Plating
	plated := func(k Kind, layers Layers) *Piece {
		return &Piece{Kind: k, Of: &pl.Item, Item: pl, Member: -1, Net: pl.Net, Layers: layers, Stretch: s, box: geom.EmptyBox()}
	}
	wall := plated(Wall, Through)
	wall.chain(segs)
	list := append(make([]*Piece, 0, 3), wall)
	for _, f := range board.Faces {
		if w := pl.Wrap[f].Value; w > 0 {
			wrap := plated(Wrap, m.faces[f])
			wrap.strip(segs, w, !s.Profile.Cutout)
			list = append(list, wrap)
		}
	}
	for i, l := range m.levels {
		width, kind := m.Tie(pl, l)
		if width <= 0 {
			continue
		}
		for w := range m.Walled(s, l) {
			tie := plated(kind, bit(i))
			tie.Stretch = w
			tie.strip(w.Segments(), width, !s.Profile.Cutout)
			list = append(list, tie)
		}
	}
	return append(list, m.roots(s)...)
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
func (m *Map) roots(s board.Stretch) []*Piece {
	_, inner := m.Outer(m.all)
	if !inner || len(m.premetallised) == 0 {
		return nil
	}
	var list []*Piece
	for t, root := range m.b.Roots(s) {
		e := &Piece{Kind: Edge, Of: &t.Item, Item: t, Member: -1, Layers: m.all &^ (m.faces[board.Top] | m.faces[board.Bottom]), Stretch: root, box: geom.EmptyBox()}
		e.chain(root.Segments())
		list = append(list, e)
	}
	return list
}

// StripWidth is how far a plating's own copper reaches inward on an inner layer
// that it joins and that has no plane of its net, nm.
const StripWidth = 0.3e6

// Tie is how wide a plating's copper is on a layer that it joins, 0 for none: as
// wide as the plane of its net keeps away from the edge elsewhere, a Run of it, or
// a Strip.
func (m *Map) Tie(p *board.Plating, layer string) (float64, Kind) {
	if !p.Net.Given() && len(p.Layers) == 0 && !p.AllLayers || !m.joins(p, layer) {
		return 0, 0
	}
	width, any := 0.0, false
	for _, x := range m.planes.items {
		if p.Net.Given() && x.Net.Text == p.Net.Text && m.Layer(x.Layer.Text) == m.Layer(layer) {
			width, any = max(width, x.Pullback.Value), true
		}
	}
	if any {
		return width, Run
	}
	if outer, _ := m.Outer(m.Layer(layer)); outer {
		return 0, 0 // there the wrap is its strip
	}
	return StripWidth, Strip
}

// relief makes the openings of a relief, one a face for each stretch or land.
func (m *Map) relief(r *board.Relief) []*Piece {
	var list []*Piece
	open := func(of board.Name, f board.Face) *Piece {
		p := &Piece{Kind: Opening, Of: &r.Item, Item: r, Member: -1, Net: of, Layers: m.faces[f], box: geom.EmptyBox()}
		list = append(list, p)
		return p
	}
	pl := m.platingNamed[r.Over.Text]
	var row *board.Castellation
	if pl == nil {
		row = m.rowNamed[r.Over.Text]
	}
	for _, f := range r.Faces {
		if pl != nil {
			for _, s := range m.stretchesOf[pl] {
				o := open(pl.Net, f)
				o.Stretch = s.Widened(r.Margin.Value)
				o.strip(o.Stretch.Segments(), r.Reach.Value, !s.Profile.Cutout)
			}
		}
		if row != nil {
			for i, at := range row.Centres {
				o := open(row.NetOf(i), f)
				o.Member, o.On = i, row.Edge
				land := row.Edge.Standing(at, row.LandWidth.Value+2*r.Margin.Value, 0, r.Reach.Value)
				o.add(part{box: land.Box(), ready: land})
			}
		}
	}
	return list
}
