package board

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"hemline/lang/geom"
	"hemline/lang/source"
)

// Profile is a closed path that bounds the board: its outline, or a cutout.
// It runs counterclockwise, so that the board lies to the left along an
// outline and to the right along a cutout.
type Profile struct {
	Index   int
	Name    string // "outline" or the cutout's name
	Cutout  bool
	Path    *geom.Loop
	Edges   []*Edge
	Corners []Corner
	At      source.Place // the keyword
	// Kind is the shape's keyword: rectangle, circle, slot, or start for a drawn path.
	Kind string

	index *geom.Index
	kept  *sync.Map
}

// Keep is what make works out from the profile's shape alone, worked out once
// and kept as long as the profile; key has a type of its maker's own.
func (p *Profile) Keep(key any, make func() any) any {
	if v, ok := p.kept.Load(key); ok {
		return v
	}
	v, _ := p.kept.LoadOrStore(key, make())
	return v
}

// Edge is a piece of a profile with a name.
//
// A position on it is a distance along it in nm, from 0 to Length. On a
// rectangle 0 is the corner's sharp point at the west end (south, north) or
// the south end (east, west), even where the corner is rounded; on a drawn
// path it is where the piece starts, its sharp point too; on a rim the point that
// the path starts from.
type Edge struct {
	Name     string
	Profile  *Profile
	Length   float64
	From, To float64 // the piece along the profile's path, From <= To
	Reversed bool    // positions run against the path
	Base     float64 // the position of the end of the piece where positions start
	Closed   bool    // the edge is all of the profile
	// Piece is a drawn path's piece as it is drawn, between its sharp points; the zero
	// segment on other profiles.
	Piece geom.Segment
	At    source.Place
}

// Straight is the turn between two pieces, in radians, up to which their joint
// counts as smooth: half a degree, what rounded coordinates bring about.
const Straight = math.Pi / 360

// Corner is the rounded corner between two edges of a rectangle or a drawn path.
// It has no name of its own and is plated where both its neighbours are plated
// up to it.
type Corner struct {
	From, To      float64 // along the path
	Before, After *Edge
	At            source.Place // of a drawn path's, its radius in the text
}

// CornerAt is the rounded corner that a distance along the path lies on, or nil.
func (p *Profile) CornerAt(along float64) *Corner {
	along = p.wrap(along)
	for i, c := range p.Corners {
		if c.From <= along && along <= c.To {
			return &p.Corners[i]
		}
	}
	return nil
}

// Turn is by how many radians the profile turns from a segment of its path into the
// next: over 0 at an outside corner of the board, under it at an inside one.
func (p *Profile) Turn(segment int) float64 {
	segs := p.Path.Segments()
	turn := segs[segment].Turn(segs[(segment+1)%len(segs)])
	if p.Cutout {
		return -turn
	}
	return turn
}

// Hollow tells whether a segment of the profile's path is an arc that a bit beside the
// board runs inside of.
func (p *Profile) Hollow(g geom.Segment) bool { return g.Arc && g.Clockwise != p.Cutout }

// Along turns a position into a distance along the profile's path. A position
// on a rounded corner counts as the end of the straight piece beside it.
func (e *Edge) Along(position float64) float64 {
	at := position - e.Base
	if e.Closed {
		if e.Reversed {
			at = e.To - at
		}
		return at
	}
	at = math.Min(math.Max(at, 0), e.To-e.From)
	if e.Reversed {
		return e.To - at
	}
	return e.From + at
}

// Range turns a stretch between two positions into one along the path, From <= To.
func (e *Edge) Range(from, to float64) (float64, float64) {
	a, b := e.Along(from), e.Along(to)
	return math.Min(a, b), math.Max(a, b)
}

// Point is the point of the profile at a position.
func (e *Edge) Point(position float64) geom.Point { return e.Profile.Path.At(e.Along(position)) }

// Position turns a distance along the path into a position on the edge.
func (e *Edge) Position(along float64) float64 {
	if e.Reversed {
		return e.To - along + e.Base
	}
	return along - e.From + e.Base
}

// Inward is the unit direction from the edge into the board at a position.
func (e *Edge) Inward(position float64) geom.Point {
	if e.Closed {
		return e.Profile.Outward(e.Along(position)).Scale(-1)
	}
	// At its very end it is still this edge's direction that counts.
	i, _ := e.Profile.Path.SegmentAt((e.From + e.To) / 2)
	left := e.Profile.Path.Segments()[i].Tangent(e.Along(position) - e.From).Left()
	if e.Profile.Cutout {
		return left.Scale(-1)
	}
	return left
}

// Outward is the unit direction out of the board at a distance along the path.
func (p *Profile) Outward(along float64) geom.Point {
	left := p.Path.Tangent(along).Left()
	if p.Cutout {
		return left
	}
	return left.Scale(-1)
}

// Standing is the rectangle on an edge: width along it, centred on a position,
// from a distance out of the board to one into it, nm.
func (e *Edge) Standing(position, width, out, in float64) *geom.Loop {
	foot, way := e.Point(position), e.Inward(position)
	half := way.Left().Scale(width / 2)
	a, b := foot.Sub(way.Scale(out)), foot.Add(way.Scale(in))
	return geom.Polygon(a.Add(half), b.Add(half), b.Sub(half), a.Sub(half))
}

// InOrder lists the edges as the path runs through them.
func (p *Profile) InOrder() []*Edge {
	return slices.SortedFunc(slices.Values(p.Edges), func(a, b *Edge) int { return cmp.Compare(a.From, b.From) })
}

// EdgeAt is the edge that a distance along the path lies on; nil on a rounded corner.
func (p *Profile) EdgeAt(along float64) *Edge {
	along = p.wrap(along)
	for _, e := range p.Edges {
		if e.From-Tolerance <= along && along <= e.To+Tolerance {
			return e
		}
	}
	return nil
}

func (p *Profile) wrap(along float64) float64 {
	l := p.Path.Perimeter()
	along = math.Mod(along, l)
	if along < 0 {
		along += l
	}
	return along
}

// Near calls visit with ranges along the path that hold every point of it
// within reach of a box; they may hold a little more.
func (p *Profile) Near(b geom.Box, reach float64, visit func(from, to float64)) {
	segs := p.Path.Segments()
	p.index.Search(b.Grow(reach), func(i int) bool {
		start, long := p.Path.Start(i), segs[i].Length()
		from, to := near(segs[i], b, reach)
		if from = math.Max(from, 0); from <= math.Min(to, long) {
			visit(start+from, start+math.Min(to, long))
		}
		return true
	})
}

// near is the range along a segment outside which no point is within reach of a box.
func near(s geom.Segment, b geom.Box, reach float64) (from, to float64) {
	middle := b.Center()
	half := middle.Dist(b.Max)
	if !s.Arc {
		t := s.Tangent(0)
		at := middle.Sub(s.A).Dot(t)
		return at - half - reach, at + half + reach
	}
	// A point of the arc within reach of the box is at most half+reach from
	// its middle, and the arc between two points is at most π/2 times their
	// distance where they are within half a turn; else all of it may be near.
	_, at, d := s.Nearest(middle)
	apart := d + half + reach
	if apart >= 2*s.Radius() || math.Abs(s.Sweep()) >= 2*math.Pi-1e-9 {
		return 0, s.Length()
	}
	return at - apart*math.Pi/2, at + apart*math.Pi/2
}

func newProfile(path *geom.Loop, kind string) *Profile {
	segs := path.Segments()
	boxes := make([]geom.Box, len(segs))
	for i, s := range segs {
		boxes[i] = s.Box()
	}
	return &Profile{Path: path, Kind: kind, index: geom.NewIndex(boxes), kept: &sync.Map{}}
}

// rectangleProfile is a rectangle with four named edges.
func rectangleProfile(min geom.Point, w, h, r float64) *Profile {
	p := newProfile(geom.RectangleAt(min, w, h, r), "rectangle")
	arc := math.Pi / 2 * r
	at := 0.0
	for i, name := range []string{"south", "east", "north", "west"} {
		long := w
		if i%2 == 1 {
			long = h
		}
		p.Edges = append(p.Edges, &Edge{Name: name, Profile: p, Length: long, From: at, To: at + long - 2*r, Base: r, Reversed: i >= 2})
		at += long - 2*r + arc
	}
	if r > 0 {
		for i, e := range p.Edges {
			p.Corners = append(p.Corners, Corner{From: e.To, To: e.To + arc, Before: e, After: p.Edges[(i+1)%4]})
		}
	}
	return p
}

// rimProfile is a circle or slot, with one edge.
func rimProfile(path *geom.Loop, kind string) *Profile {
	p := newProfile(path, kind)
	l := path.Perimeter()
	p.Edges = []*Edge{{Name: "rim", Profile: p, Length: l, To: l, Closed: true}}
	return p
}
