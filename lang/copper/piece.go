package copper

import (
	"iter"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Item is a statement's meaning: *board.Plating, *board.Hole …
type Item interface{ Base() *board.Item }

// Piece is one piece of metal, or of what metal keeps away from. It does not
// change once made. A large board has tens of thousands of them, which the
// collector of garbage looks through again and again: what its item tells is
// not kept in it.
type Piece struct {
	Kind   Kind
	Member int32 // its number in a row, from 0; -1 for what is no row
	Layers Layers
	Item   Item // nil for an edge of the outline

	number uint32 // a later piece of a map, or of one made from it, has a higher one
	// width is how wide a strip is, a disc's diameter, or how much larger an
	// opening is than its feature.
	width float64
	box   geom.Box
	site  *site  // nil where the item tells where it lies
	next  *Piece // of the same item, or of the same stretch
}

// site is where a piece lies: along a stretch, which it may share with others, or
// in a shape that is ready.
type site struct {
	stretch board.Stretch
	segs    []geom.Segment // of the stretch
	// boxes are those of the stretch's segments, where it has more than one, each
	// followed by the point at its end where strips on the board's side gape, an
	// empty box where they do not.
	boxes []geom.Box
	shape *geom.Loop
	row   *board.Castellation // that an opening lies over
	plane *board.Plane        // whose run it is
	ends  []*geom.Loop        // of an opening, past copper that ends where the profile turns
}

// Of is whose the piece is; nil for an edge of the outline.
func (p *Piece) Of() *board.Item {
	if p.Item == nil {
		return nil
	}
	return p.Item.Base()
}

// Name is the name that findings and acceptances know the piece's item by, ""
// for the outline.
func (p *Piece) Name() string {
	if p.Item == nil {
		return ""
	}
	return p.Item.Base().Name.Text
}

// Net is the net that the piece is of; not Given where it has none.
func (p *Piece) Net() board.Name {
	switch x := p.Item.(type) {
	case *board.Plating:
		return x.Net
	case *board.Feature:
		return x.Net
	case *board.Plane:
		return x.Net
	case *board.Fence:
		return x.Net
	case *board.Hole:
		if x.Plated {
			return x.Net
		}
	case *board.Connector:
		switch {
		case p.Kind == Body:
		case p.Member == none:
			return x.Net
		default: // a leg
			return p.site.stretch.Plating.Net
		}
	case *board.Castellation:
		return x.NetOf(int(p.Member))
	case *board.Relief:
		if p.site.row != nil {
			return p.site.row.NetOf(int(p.Member))
		}
		return p.site.stretch.Plating.Net
	}
	return board.Name{}
}

// Stretch is that of a wall, a wrap, a strip, a run, a tab, a bare edge, or of the
// wall that an opening lies over or a leg stands on; of a cutout its profile alone.
func (p *Piece) Stretch() board.Stretch {
	if p.Kind == Cutout {
		return board.Stretch{Profile: p.Item.(*board.Cutout).Profile}
	}
	if p.site == nil {
		return board.Stretch{}
	}
	return p.site.stretch
}

// On is the edge that a half hole, a pin, a body or a tab stands on, or what an
// opening lies over.
func (p *Piece) On() *board.Edge {
	switch x := p.Item.(type) {
	case *board.Castellation:
		return x.Edge
	case *board.Connector:
		return x.Edge
	case *board.Tab:
		if p.Kind == Tab {
			return x.Edge
		}
	case *board.Relief:
		if p.site.row != nil {
			return p.site.row.Edge
		}
	}
	return nil
}

// Row is the row of half holes that an opening lies over; nil where it lies over a
// wall, or the piece is none.
func (p *Piece) Row() *board.Castellation {
	if p.Kind != Opening || p.site == nil {
		return nil
	}
	return p.site.row
}

// Plane is the plane whose run the piece is; nil for others.
func (p *Piece) Plane() *board.Plane {
	if p.site == nil {
		return nil
	}
	return p.site.plane
}

// rectangle is what a run is cut to, as its plane is; nil for what is whole.
func (p *Piece) rectangle() *geom.Box {
	if p.Plane() == nil {
		return nil
	}
	return p.site.plane.Within
}

// Box holds the piece; it may be a little larger.
func (p *Piece) Box() geom.Box { return p.box }

// Shape is the piece's region as loops whose union it is. Those of a line are
// not closed.
func (p *Piece) Shape() []*geom.Loop {
	var list []*geom.Loop
	for i := range p.parts() {
		list = append(list, p.loops(i)...)
	}
	return list
}

// A piece has parts, each with a box: one a segment that it lies along, and one
// where a strip along two of them gapes between them; an opening's ends follow. Most
// pieces are one part.

// parts are a piece's parts: the number of each, and a box that holds it.
func (p *Piece) parts() iter.Seq2[int, geom.Box] {
	return func(yield func(int, geom.Box) bool) {
		for i := range p.count() {
			if box := p.boxOf(i); !box.Empty() && !yield(i, box) {
				return
			}
		}
	}
}

// count is how many parts a piece has, and how many places at which a strip does
// not gape.
func (p *Piece) count() int {
	if p.site == nil {
		return p.strips()
	}
	return p.strips() + len(p.site.ends)
}

// end is a part that is an opening's end; nil for others.
func (p *Piece) end(i int) *geom.Loop {
	if p.site == nil || len(p.site.ends) == 0 || i < p.strips() {
		return nil
	}
	return p.site.ends[i-p.strips()]
}

// strips is the count without ends.
func (p *Piece) strips() int {
	switch {
	case p.Kind == Plane:
		return 0
	case p.site == nil || p.site.boxes == nil:
		return 1
	case p.width == 0:
		return len(p.site.boxes) / 2
	}
	return len(p.site.boxes)
}

// boxOf holds a part; it is empty where a rectangle leaves nothing of it.
func (p *Piece) boxOf(i int) geom.Box {
	if r := p.rectangle(); r != nil {
		return p.whole(i).Intersect(*r)
	}
	return p.whole(i)
}

// whole holds a part, whatever rectangle it is cut to.
func (p *Piece) whole(i int) geom.Box {
	if end := p.end(i); end != nil {
		return end.Box()
	}
	switch {
	case p.site == nil || p.site.boxes == nil:
		return p.box
	case p.width == 0:
		return p.site.boxes[2*i]
	}
	return p.site.boxes[i].Grow(p.width)
}

// along is the segment of a profile that a part is, or lies along; nil for others.
func (p *Piece) along(i int) *geom.Segment {
	switch {
	case p.site == nil || len(p.site.segs) == 0 || p.end(i) != nil:
		return nil
	case p.width == 0:
		return &p.site.segs[i]
	case i%2 == 1:
		return nil
	}
	return &p.site.segs[i/2]
}

// loops is a part's shape. A run is cut to its plane's rectangle exactly.
func (p *Piece) loops(i int) []*geom.Loop {
	loops := p.uncut(i)
	if r := p.rectangle(); r != nil {
		return within(loops, *r)
	}
	return loops
}

func (p *Piece) uncut(i int) []*geom.Loop {
	if end := p.end(i); end != nil {
		return []*geom.Loop{end}
	}
	if p.site == nil || len(p.site.segs) == 0 {
		return []*geom.Loop{p.alone()}
	}
	left := !p.site.stretch.Profile.Cutout
	if g := p.along(i); g == nil {
		return geom.BandJoint(p.site.segs[i/2], p.site.segs[(i/2+1)%len(p.site.segs)], p.width, left)
	} else if p.width > 0 {
		return geom.Band([]geom.Segment{*g}, p.width, left)
	} else {
		return []*geom.Loop{geom.NewLoop([]geom.Segment{*g})}
	}
}

// alone is the shape of a piece that does not lie along a stretch. Most are made
// when they are needed, for of most pieces nothing is near.
func (p *Piece) alone() *geom.Loop {
	if p.site != nil {
		return p.site.shape
	}
	switch x := p.Item.(type) {
	case *board.Feature:
		if p.Kind == Opening {
			return grown(x.Shape, p.width)
		}
		return x.Shape
	case *board.Cutout:
		return x.Profile.Path
	default:
		return geom.Circle(p.centre(), p.width)
	}
}

// centre is that of a disc.
func (p *Piece) centre() geom.Point {
	switch x := p.Item.(type) {
	case *board.Hole:
		return x.Centre
	case *board.Fence:
		return x.Vias[p.Member]
	case *board.Castellation:
		return x.Edge.Point(x.Centres[p.Member])
	default:
		return p.Item.(*board.Tab).HoleAt(int(p.Member))
	}
}
