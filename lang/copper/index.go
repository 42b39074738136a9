package copper

import (
	"hemline/lang/geom"
)

// index finds the parts of pieces near a place, kind by kind. Most of it is shared
// by one version after another; what a version took away and added is kept beside.
type index struct {
	of   *[Kinds]ofKind
	gone map[*Piece]bool
	come []*Piece
}

type ofKind struct {
	atoms []atom
	boxes *geom.Index
}

type atom struct {
	piece *Piece
	part  int32
}

// patches is how many pieces may have come and gone before an index is made anew.
const patches = 1000

// since is the index after a change; each visits all pieces there are then.
func (x *index) since(c *change, each func(func(*Piece))) *index {
	if x == nil || len(x.gone)+len(c.gone)+len(x.come)+len(c.come) > patches {
		return newIndex(each)
	}
	if len(c.gone)+len(c.come) == 0 {
		return x
	}
	next := &index{of: x.of, gone: make(map[*Piece]bool, len(x.gone)+len(c.gone))}
	for p := range x.gone {
		next.gone[p] = true
	}
	for _, p := range c.gone {
		next.gone[p] = true
	}
	for _, p := range x.come {
		if !next.gone[p] {
			next.come = append(next.come, p)
		}
	}
	next.come = append(next.come, c.come...)
	return next
}

func newIndex(each func(func(*Piece))) *index {
	x := &index{of: &[Kinds]ofKind{}}
	var boxes [Kinds][]geom.Box
	var n [Kinds]int
	each(func(p *Piece) { n[p.Kind] += p.count() })
	for k, n := range n {
		x.of[k].atoms, boxes[k] = make([]atom, 0, n), make([]geom.Box, 0, n)
	}
	each(func(p *Piece) {
		for i, box := range p.parts() {
			x.of[p.Kind].atoms = append(x.of[p.Kind].atoms, atom{p, int32(i)})
			boxes[p.Kind] = append(boxes[p.Kind], box)
		}
	})
	for k := range x.of {
		x.of[k].boxes = geom.NewIndex(boxes[k])
	}
	return x
}

// search calls visit with the parts of pieces of a kind whose boxes overlap a box.
func (x *index) search(k Kind, b geom.Box, visit func(p *Piece, part int)) {
	atoms := x.of[k].atoms
	x.of[k].boxes.Search(b, func(i int) bool {
		if a := atoms[i]; len(x.gone) == 0 || !x.gone[a.piece] {
			visit(a.piece, int(a.part))
		}
		return true
	})
	for _, p := range x.come {
		if p.Kind != k || !p.box.Overlaps(b) {
			continue
		}
		for i, box := range p.parts() {
			if box.Overlaps(b) {
				visit(p, i)
			}
		}
	}
}
