package copper

import (
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Distance is how far something keeps away, nm, and who asks for it.
type Distance struct {
	By  float64
	Who string
}

// Room is how far copper keeps from what it gives way to: limits, which are
// handed in.
type Room struct {
	// Copper is how far a plane keeps from copper of another net, EdgeOuter and
	// EdgeInner how far from bare board: an edge, an unplated hole, a perforation.
	Copper, EdgeOuter, EdgeInner Distance
	// Wrap is how far it keeps from what another net's plating turns over the
	// face, WallInner how far an inner layer that is not joined keeps from a wall.
	Wrap, WallInner Distance
}

// Edge is how far copper keeps from bare board.
func (r Room) Edge(outer bool) Distance {
	if outer {
		return r.EdgeOuter
	}
	return r.EdgeInner
}

// Way is a piece that the copper of a layer gives way to, and by how much.
type Way struct {
	*Piece
	Distance
	in []geom.Box // the rectangles of the planes that give way; nil for all of the layer
}

// Room is what the way takes, as loops whose union it is: where planes with
// rectangles give way, what lies in these.
func (w Way) Room() []*geom.Loop {
	room := w.Grown(w.By)
	if w.in == nil {
		return room
	}
	var list []*geom.Loop
	for _, b := range w.in {
		list = append(list, within(room, b)...)
	}
	return list
}

// GivesWay calls visit with each piece that the copper of a layer gives way to,
// and by how much. Unplated holes and perforations have their room on every
// layer, plated ones on inner layers where no plane of their net lies; other copper
// has it from planes, of another net than its own, where they lie.
func (m *Map) GivesWay(layer string, r Room, visit func(Way)) {
	at := m.Layer(layer)
	outer, _ := m.Outer(at)
	planes := m.planesOn(at)
	m.Each(func(p *Piece) {
		if p.Layers&at == 0 {
			return
		}
		w := Way{Piece: p, Distance: r.Copper}
		switch p.Kind {
		case Drilled, Perforation:
			w.Distance = r.Edge(outer)
			visit(w)
			return
		case Barrel, Via, PlatedHole, Land, Pad, Ring, Pin, Feature:
		case Wrap:
			w.Distance = r.Wrap
		case Strip:
			w.Distance = r.WallInner
		default:
			return
		}
		own, others, in := besidePlanes(planes, p, w.By)
		switch drilled := p.Kind == Barrel || p.Kind == Via || p.Kind == PlatedHole; {
		case !own && drilled && !outer:
			visit(w)
		case others && (!own || in != nil):
			w.in = in
			visit(w)
		}
	})
}

// besidePlanes tells which of a layer's planes lie where a piece takes room: whether any
// of its own net does, and any of another, and of those the rectangles, nil where
// one of them is whole.
func besidePlanes(planes []*board.Plane, p *Piece, by float64) (own, others bool, in []geom.Box) {
	whole := false
	for _, x := range planes {
		switch {
		case x.Within != nil && !x.Within.Overlaps(p.box.Grow(by)):
		case ofNet([]*board.Plane{x}, p.Net()):
			own = true
		case x.Within == nil:
			others, whole = true, true
		default:
			others, in = true, append(in, *x.Within)
		}
	}
	if whole {
		in = nil
	}
	return own, others, in
}

// Bare are the stretches of a profile that have no copper on a layer: on inner
// layers the roots of premetallised tabs too.
func (m *Map) Bare(p *board.Profile, layer string) []board.Stretch {
	if outer, _ := m.Outer(m.Layer(layer)); outer {
		return m.b.Wall(p).Bare
	}
	return m.b.Finished(p).Bare
}

// AlongBare is what copper on a layer keeps from along bare edges, as loops whose
// union it is. A plane's run leaves it too: it is as wide as its plane keeps from
// the profile, and a cutout, or another edge, may lie within that.
func (m *Map) AlongBare(layer string, r Room) (loops []*geom.Loop) {
	outer, _ := m.Outer(m.Layer(layer))
	for _, p := range m.b.Profiles() {
		for _, s := range m.Bare(p, layer) {
			loops = append(loops, s.Inward(r.Edge(outer).By)...)
		}
	}
	return loops
}

// OffWall is how far the copper of a layer that a wall does not join keeps from
// that wall; ok is false where the layer has copper of the wall's. It is meant
// for copper of other nets: what is of the wall's own net may meet the wall, and
// a plane of it there keeps what it states itself, which planes says where that
// is less.
func (m *Map) OffWall(p *board.Plating, layer string, r Room) (others Distance, planes float64, ok bool) {
	at := m.Layer(layer)
	for _, f := range board.Faces {
		if m.faces[f] == at && p.Wrap[f].Value > 0 {
			return others, 0, false
		}
	}
	if m.joins(p, layer) {
		return others, 0, false
	}
	planes = r.WallInner.By
	for _, x := range m.planesOn(at) {
		if p.Net.Given() && x.Net.Text == p.Net.Text {
			planes = min(planes, x.Pullback.Value)
		}
	}
	return r.WallInner, planes, true
}

// ByRectangles tells whether a wall joins an inner layer by planes with rectangles
// alone: where these end, copper of other nets keeps from it.
func (m *Map) ByRectangles(p *board.Plating, layer string) bool {
	at := m.Layer(layer)
	if outer, _ := m.Outer(at); outer || !m.joins(p, layer) {
		return false
	}
	meets := false
	for _, x := range m.planesOn(at) {
		if !p.Net.Given() || x.Net.Text != p.Net.Text {
			continue
		}
		if x.Within == nil {
			return false
		}
		meets = meets || m.b.Meets(x, p)
	}
	return meets
}

// FreeOfWall is what of a layer copper of other nets, and planes, keep from along a
// plated stretch, as loops whose union it is: as far as OffWall says, in the
// rectangles of planes of its net as far as these keep. On an inner layer that the
// wall joins by planes with rectangles alone, it is what lies outside these.
func (m *Map) FreeOfWall(s board.Stretch, layer string, r Room) []*geom.Loop {
	_, _, off := m.OffWall(s.Plating, layer, r)
	if !off && !m.ByRectangles(s.Plating, layer) {
		return nil
	}
	far := r.WallInner.By
	var cut []*board.Plane
	for _, x := range m.planesOn(m.Layer(layer)) {
		switch {
		case !x.Net.Given() || x.Net.Text != s.Plating.Net.Text:
		case x.Within != nil:
			cut = append(cut, x)
		default:
			far = min(far, x.Pullback.Value)
		}
	}
	if !(far > 0) {
		return nil
	}
	loops := s.Inward(far)
	var in []*geom.Loop
	for _, x := range cut {
		if off {
			in = append(in, within(s.Inward(min(far, x.Pullback.Value)), *x.Within)...)
		}
		var rest []*geom.Loop
		for _, l := range loops {
			rest = append(rest, geom.Without(l, *x.Within)...)
		}
		loops = rest
	}
	return append(loops, in...)
}

func (m *Map) planesOn(at Layers) (list []*board.Plane) {
	for _, x := range m.planes.items {
		if m.Layer(x.Layer.Text) == at {
			list = append(list, x)
		}
	}
	return list
}

// ofNet tells whether any of some planes is of a net.
func ofNet(planes []*board.Plane, net board.Name) bool {
	return slices.ContainsFunc(planes, func(x *board.Plane) bool { return x.Net.Given() && x.Net.Text == net.Text })
}

// Grown is the region of all that lies no farther from the piece than a
// distance, as loops whose union it is.
func (p *Piece) Grown(by float64) []*geom.Loop {
	var list []*geom.Loop
	for _, l := range p.Shape() {
		segs := l.Segments()
		if len(segs) == 1 && segs[0].Arc {
			list = append(list, geom.Circle(segs[0].C, 2*(segs[0].Radius()+by)))
		} else if round := rounded(l, by); round != nil {
			list = append(list, round)
		} else {
			list = append(append(list, l), geom.Band(segs, by, l.Clockwise())...)
		}
	}
	return list
}

// rounded is a polygon grown, with round corners; nil for what has arcs or is
// not convex.
func rounded(l *geom.Loop, by float64) *geom.Loop {
	segs := l.Segments()
	if l.Clockwise() || !(by > 0) {
		return nil
	}
	chain := make([]geom.Segment, 0, 2*len(segs))
	for i, g := range segs {
		next := segs[(i+1)%len(segs)]
		if g.Arc || next.Arc || g.Length() == 0 || next.Length() == 0 || g.Tangent(0).Cross(next.Tangent(0)) <= 0 {
			return nil
		}
		out, then := g.Tangent(0).Left().Scale(-by), next.Tangent(0).Left().Scale(-by)
		chain = append(chain, geom.Line(g.A.Add(out), g.B.Add(out)), geom.ArcAround(g.B.Add(out), g.B.Add(then), g.B, false))
	}
	return geom.NewLoop(chain)
}
