package copper

import (
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/source"
)

// Map is the map of one board. It does not change once made, and several
// goroutines may read it.
type Map struct {
	asked *Look

	levels  []string
	byName  map[string]Layers
	faces   [2]Layers // by Face
	all     Layers
	outline *board.Profile
	region  geom.Region
	b       *board.Board // as it was when the map was made: items' names, profiles

	cutouts map[*board.Profile]*board.Cutout

	features      column[*board.Feature]
	holes         column[*board.Hole]
	fences        column[*board.Fence]
	connectors    column[*board.Connector]
	legged        column[*board.Connector] // the legs of those that have any
	castellations column[*board.Castellation]
	tabs          column[*board.Tab]
	openings      column[*board.Cutout]
	planes        column[*board.Plane]
	reliefs       column[*board.Relief]
	walls         []column[board.Stretch] // two a profile: what is plated, what is bare
	premetallised []*board.Tab            // of the tabs

	index  *index
	number uint32 // of the last piece that was made
	near   []Near
	off    []*Piece

	borders borders
}

// column is a list of the board's and the first piece of each of its items; the
// others follow it.
type column[T comparable] struct {
	items  []T
	pieces []*Piece
}

// linked makes each piece of an item the next of the one before, and gives the
// first; nil where there is none.
func linked(list []Piece) (first *Piece) {
	for i := range slices.Backward(list) {
		list[i].next, first = first, &list[i]
	}
	return first
}

// Of makes the map of a board.
func Of(b *board.Board, look *Look) *Map { return Since(nil, b, look) }

// Since makes the map of a board of which an earlier version has one, which may
// be nil: what both share is taken over, if they are asked for the same.
func Since(old *Map, b *board.Board, look *Look) *Map {
	m := &Map{asked: look, b: b, levels: levels(b), outline: b.Outline()}
	m.region, _ = b.Region()
	if old == nil || !m.like(old) {
		old = &Map{}
	}
	if old.byName != nil {
		m.byName, m.faces, m.all, m.cutouts = old.byName, old.faces, old.all, old.cutouts
	} else {
		m.name()
	}
	diff := &change{number: old.number}
	update(diff, &m.features, old.features, b.Features(), m.feature)
	update(diff, &m.holes, old.holes, b.Holes(), m.hole)
	update(diff, &m.connectors, old.connectors, b.Connectors(), m.connector)
	update(diff, &m.castellations, old.castellations, b.Castellations(), m.castellation)
	update(diff, &m.tabs, old.tabs, b.Tabs(), m.tab)
	update(diff, &m.openings, old.openings, b.Cutouts(), m.cutout)
	update(diff, &m.planes, old.planes, b.Planes(), m.plane)
	m.updateFences(diff, old)
	m.updateWalls(diff, old)
	m.updateReliefs(diff, old)
	m.updateLegs(diff, old)
	m.number = diff.number
	m.index = old.index.since(diff, m.Each)
	m.b = b.Whole() // what is read from here on is known of the lists above
	if m.asked == old.asked || old.b == nil {
		m.look(diff, old)
	} else { // every piece is new to what is asked for
		all := &change{}
		m.Each(func(p *Piece) { all.come = append(all.come, p) })
		m.look(all, &Map{})
	}
	return m
}

// PlanesAlone makes the map of a board's planes and walls, with nothing else on it.
func PlanesAlone(b *board.Board) *Map {
	m := &Map{asked: PiecesAlone(), b: b, levels: levels(b), outline: b.Outline()}
	m.region, _ = b.Region()
	m.name()
	diff := &change{}
	update(diff, &m.tabs, column[*board.Tab]{}, b.Tabs(), m.tab)
	update(diff, &m.planes, column[*board.Plane]{}, b.Planes(), m.plane)
	m.updateWalls(diff, &Map{})
	m.b = b.Whole() // as Since
	return m
}

// like tells whether two maps have the same layers and profiles, so that what
// both boards share has the same pieces.
func (m *Map) like(old *Map) bool {
	if m.asked.Margin != old.asked.Margin || len(m.levels) != len(old.levels) || !m.b.SameShapes(old.b) {
		return false
	}
	for i, l := range m.levels {
		if old.levels[i] != l {
			return false
		}
	}
	return true
}

// levels are the board's copper layers, top first; a bottom is added to a stack
// of one, for a wrap turns over that face all the same.
func levels(b *board.Board) []string {
	names := b.Layers()
	if len(names) == 1 {
		names = append(names, board.Bottom.String())
	}
	return names
}

func (m *Map) name() {
	m.byName = map[string]Layers{}
	for i, l := range m.levels {
		m.byName[l] = bit(i)
		m.all |= bit(i)
	}
	m.faces = [2]Layers{board.Top: bit(0), board.Bottom: bit(len(m.levels) - 1)}
	for _, f := range board.Faces {
		if _, ok := m.byName[f.String()]; !ok {
			m.byName[f.String()] = m.faces[f]
		}
	}
	m.cutouts = map[*board.Profile]*board.Cutout{}
	for _, c := range m.b.Cutouts() {
		m.cutouts[c.Profile] = c
	}
}

// change is what a map has that the one before had not, and the other way round.
type change struct {
	gone, come []*Piece
	number     uint32 // of the last piece that was made
}

// lose notes that the pieces of items are gone.
func (c *change) lose(firsts []*Piece) {
	for _, p := range firsts {
		for ; p != nil; p = p.next {
			c.gone = append(c.gone, p)
		}
	}
}

// update fills a column, and takes over what it shares with the one before.
func update[T comparable](c *change, to *column[T], old column[T], items []T, piecesOf func(T) []Piece) {
	front, back := source.Common(old.items, items)
	if front == len(items) && front == len(old.items) {
		*to = old
		to.items = items
		return
	}
	pieces := append(make([]*Piece, 0, len(items)), old.pieces[:front]...)
	for _, x := range items[front : len(items)-back] {
		first := linked(piecesOf(x))
		for p := first; p != nil; p = p.next {
			c.number++
			p.number = c.number
			c.come = append(c.come, p)
		}
		pieces = append(pieces, first)
	}
	c.lose(old.pieces[front : len(old.pieces)-back])
	to.items, to.pieces = items, append(pieces, old.pieces[len(old.pieces)-back:]...)
}

// updateFences makes the vias of fences. Those that are to be added have pads where
// planes of their net lie.
func (m *Map) updateFences(c *change, old *Map) {
	before := old.fences
	if len(before.items) > 0 && !sameItems(m.planes.items, old.planes.items) {
		c.lose(before.pieces)
		before = column[*board.Fence]{}
	}
	update(c, &m.fences, before, m.b.Fences(), m.fence)
}

// updateWalls makes the pieces of the profiles' stretches. How a plating joins
// a layer hangs on the planes, on the roots of premetallised tabs and on what it
// says itself, which is in its stretch; where a plane has a rectangle, on whether
// any other of its stretches comes to that.
func (m *Map) updateWalls(c *change, old *Map) {
	for _, t := range m.tabs.items {
		if t.Premetallised {
			m.premetallised = append(m.premetallised, t)
		}
	}
	same := old.walls != nil && slices.Equal(old.planes.items, m.planes.items) && slices.Equal(old.premetallised, m.premetallised)
	if same && m.b.SameWalls(old.b) {
		m.walls = old.walls
		return
	}
	same = same && !slices.ContainsFunc(m.planes.items, func(x *board.Plane) bool { return x.Within != nil })
	profiles := m.b.Profiles()
	m.walls = make([]column[board.Stretch], 2*len(profiles))
	for i, p := range profiles {
		w := m.b.Wall(p)
		var plated, bare column[board.Stretch]
		if old.walls != nil {
			plated, bare = old.walls[2*i], old.walls[2*i+1]
		}
		if !same {
			c.lose(plated.pieces)
			plated = column[board.Stretch]{}
		}
		update(c, &m.walls[2*i], plated, w.Plated, m.stretch)
		update(c, &m.walls[2*i+1], bare, w.Bare, m.stretch)
	}
}

// updateReliefs makes the openings of reliefs, which lie over what stretches
// and half holes there are.
func (m *Map) updateReliefs(c *change, old *Map) {
	reliefs := m.b.Reliefs()
	if len(reliefs) == 0 && len(old.reliefs.items) == 0 {
		return
	}
	before := old.reliefs
	if old.b == nil || !m.b.SameWalls(old.b) || !sameItems(m.castellations.items, old.castellations.items) {
		c.lose(before.pieces)
		before = column[*board.Relief]{}
	}
	update(c, &m.reliefs, before, reliefs, m.relief)
}

// updateLegs makes the legs of connectors, which are of the net of the wall that
// they stand on.
func (m *Map) updateLegs(c *change, old *Map) {
	var legged []*board.Connector
	for _, x := range m.connectors.items {
		if x.Legs != nil {
			legged = append(legged, x)
		}
	}
	before := old.legged
	if len(legged) == 0 && len(before.items) == 0 {
		return
	}
	if old.b == nil || !m.b.SameWalls(old.b) {
		c.lose(before.pieces)
		before = column[*board.Connector]{}
	}
	update(c, &m.legged, before, legged, m.legs)
}

func sameItems[T comparable](a, b []T) bool {
	front, _ := source.Common(a, b)
	return front == len(a) && front == len(b)
}

// joins tells whether a plating connects to a layer.
func (m *Map) joins(p *board.Plating, layer string) bool { return m.b.Joins(p, layer) }

// Each calls visit with every piece, kind by kind, those of a kind in the order
// of the text.
func (m *Map) Each(visit func(*Piece)) {
	each := func(firsts []*Piece) {
		for _, p := range firsts {
			for ; p != nil; p = p.next {
				visit(p)
			}
		}
	}
	for _, firsts := range [...][]*Piece{m.features.pieces, m.holes.pieces, m.fences.pieces, m.connectors.pieces, m.legged.pieces, m.castellations.pieces,
		m.tabs.pieces, m.openings.pieces, m.planes.pieces, m.reliefs.pieces} {
		each(firsts)
	}
	for _, w := range m.walls {
		each(w.pieces)
	}
}

// Pieces lists the pieces for which want holds, kind by kind.
func (m *Map) Pieces(want func(*Piece) bool) []*Piece {
	var list []*Piece
	m.Each(func(p *Piece) {
		if want(p) {
			list = append(list, p)
		}
	})
	return list
}
