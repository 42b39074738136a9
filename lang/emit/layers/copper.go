package layers

import (
	"fmt"
	"slices"

	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/geom"
)

// profile is the outline as one region. Cutouts are in the rout files, as the
// format's specification asks. Its flag is of the contour that it shows: a board
// with metal in its cutouts alone has no plated edge.
func (m *maker) profile() image {
	flag := "NP"
	if len(m.b.Wall(m.b.Outline()).Plated) > 0 {
		flag = "P"
	}
	i := image{name: "profile", function: "Profile," + flag, about: "the board's outline; cutouts are in the rout files"}
	i.dark("Profile", board.Name{}, m.b.Outline().Path)
	return i
}

// add is the copper that the spec puts at the edge of a layer: what joins it to
// walls, wraps, the lands of half holes and of plated holes, and past the profile
// the extension. A plane's run to a wall gives way as the plane does.
func (m *maker) add(l level) (image, error) {
	i := image{name: l.file("add"), function: fmt.Sprintf("Other,Edge copper to add on L%d %s", l.number, l.place()),
		about: fmt.Sprintf("copper to add to layer %d (%s): %s", l.number, l.name, m.adds(l))}
	m.runsTo(&i, l)
	for _, p := range m.b.Platings() {
		var loops []*geom.Loop
		ties := m.ties(p, l, copper.Strip)
		for s := range m.b.PlatedBy(p) {
			for _, f := range l.faces {
				loops = append(loops, s.Band(f)...)
			}
			loops = append(loops, m.tie(s, l, ties)...)
		}
		i.dark("Conductor", p.Net, loops...)
	}
	for _, p := range m.on(l, copper.Land) {
		i.dark("CastellatedPad", p.Net(), p.Shape()...)
	}
	for _, p := range m.on(l, copper.Pad) {
		// The pads of vias that are in the artwork are its own copper.
		if p.Item.(*board.Fence).Added {
			i.dark("ViaPad", p.Net(), p.Shape()...)
		}
	}
	for _, p := range m.on(l, copper.Ring) {
		i.dark("Conductor", p.Net(), p.Shape()...)
	}
	m.trim(&i)
	drawn := geom.NewShapes(i.shapes(false)...)
	var astray strays
	for _, p := range m.b.Platings() {
		if !m.reaches(p, l) || p.Extend.Value <= 0 {
			continue
		}
		var past []*geom.Loop
		for s := range m.b.PlatedBy(p) {
			for w := range m.metal.Walled(s, l.name) {
				past = append(past, w.Outward(p.Extend.Value)...)
			}
		}
		if m.strays(drawn, past) > speck {
			astray = append(astray, Stray{Plating: p})
			continue
		}
		i.dark("Conductor", p.Net, past...)
	}
	return i, astray.asError()
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

// runsTo lays the copper by which a layer's planes run to walls.
func (m *maker) runsTo(i *image, l level) {
	var boxes []geom.Box
	for _, p := range m.b.Platings() {
		var loops []*geom.Loop
		if ties := m.ties(p, l, copper.Run); len(ties) > 0 {
			for s := range m.b.PlatedBy(p) {
				loops = append(loops, m.tie(s, l, ties)...)
			}
		}
		if len(loops) == 0 {
			continue
		}
		i.dark("Conductor", p.Net, loops...)
		i.ops[len(i.ops)-1].yields = true
		for _, x := range loops {
			boxes = append(boxes, x.Box())
		}
	}
	index := geom.NewIndex(boxes)
	var room []*geom.Loop
	for _, x := range append(m.givesWay(l), m.metal.AlongBare(l.name, m.o.Room)...) {
		near := false
		index.Search(x.Box(), func(int) bool { near = true; return false })
		if near {
			room = append(room, x)
		}
	}
	i.erase(room...)
}

// ties are those of a plating on a layer that are of a kind.
func (m *maker) ties(p *board.Plating, l level, k copper.Kind) []copper.Tie {
	return slices.DeleteFunc(m.metal.Ties(p, l.name), func(t copper.Tie) bool { return t.Kind != k })
}

// tie is the copper of a stretch on a layer that it joins.
func (m *maker) tie(s board.Stretch, l level, ties []copper.Tie) (loops []*geom.Loop) {
	if len(ties) == 0 {
		return nil
	}
	for w := range m.metal.Walled(s, l.name) {
		for _, t := range ties {
			loops = append(loops, t.Loops(w)...)
		}
	}
	return loops
}

// on lists the pieces of some kinds on a layer.
func (m *maker) on(l level, kinds ...copper.Kind) []*copper.Piece {
	at := m.metal.Layer(l.name)
	return m.metal.Pieces(func(p *copper.Piece) bool { return p.Layers&at != 0 && slices.Contains(kinds, p.Kind) })
}

// givesWay is the room that the copper of a layer gives what it gives way to.
func (m *maker) givesWay(l level) (loops []*geom.Loop) {
	m.metal.GivesWay(l.name, m.o.Room, func(w copper.Way) { loops = append(loops, w.Room()...) })
	return loops
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
// bare stretches, in gaps as deep as the wrap beside them, at tabs, at walls
// that the layer is not joined to, and round what planes give way to. The copper
// to add, pins, features and the pads of vias are taken out of it.
func (m *maker) free(l level, add image) image {
	room, bare := m.givesWay(l), m.metal.AlongBare(l.name, m.o.Room)
	i := image{name: l.file("free"), function: fmt.Sprintf("Other,Keep free of copper on L%d %s", l.number, l.place()),
		about: fmt.Sprintf("area of layer %d (%s) to keep free of copper: bare stretches, gaps, launches, tabs%s", l.number, l.name, m.frees(l, len(room) > 0))}
	clearance := m.o.Edge(l.outer()).By
	loops := slices.Clone(bare)
	none := geom.NewShapes()
	for _, p := range m.b.Profiles() {
		past := 0.0
		for _, s := range m.b.Wall(p).Plated {
			past = max(past, s.Plating.Extend.Value)
			loops = append(loops, m.metal.FreeOfWall(s, l.name, m.o.Room)...)
		}
		for _, s := range m.metal.Bare(p, l.name) {
			if out := s.Outward(past); m.strays(none, out) <= speck {
				loops = append(loops, out...)
			}
		}
	}
	loops = append(loops, m.gaps(l, clearance)...)
	loops = append(loops, m.tabs(clearance)...)
	i.dark("", board.Name{}, loops...)
	if runs := add.yielding(); len(runs) > 0 {
		i.erase(runs...)
		room = append(room, bare...)
	}
	i.dark("", board.Name{}, room...)
	i.erase(add.fast()...)
	var own []*geom.Loop
	for _, p := range m.on(l, copper.Pin, copper.Feature, copper.Pad) {
		own = append(own, p.Shape()...)
	}
	i.erase(own...)
	return i
}

func (m *maker) frees(l level, room bool) string {
	list := ""
	if room {
		list = ", what its copper gives way to"
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
