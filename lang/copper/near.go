package copper

import (
	"cmp"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Look is what a map is asked for, by distances in nm that are not its own.
type Look struct {
	// Margin is how much larger than the copper the mask openings of pins,
	// features and holes' lands are, all round, and those of reliefs that state
	// no margin.
	Margin float64
	// Reach is how near two kinds must come to be told of, the same either way
	// round; under 0 for kinds that are not held against each other.
	Reach [Kinds][Kinds]float64
	// Needs is how near two pieces of such kinds must come, which is no farther;
	// under 0 for two that are not held against each other. It goes by Bounds
	// alone and by what the pieces are.
	Needs  func(m *Map, a, b *Piece) float64
	Bounds []float64
	// Past is how far from the end of its own stretch a wrap is held against the
	// bare edge that goes on there, and how far a strip on an inner layer.
	Past [2]float64
	// Inside are the kinds that must lie on the board.
	Inside [Kinds]bool
}

// PiecesAlone is a look that asks for no pair: what lies where, and no more.
func PiecesAlone() *Look {
	l := &Look{}
	for a := range l.Reach {
		for b := range l.Reach[a] {
			l.Reach[a][b] = -1
		}
	}
	return l
}

// Same tells whether two looks ask for the same.
func (l *Look) Same(other *Look) bool {
	return l.Margin == other.Margin && slices.Equal(l.Bounds, other.Bounds) && l.Reach == other.Reach && l.Past == other.Past && l.Inside == other.Inside
}

// Near is two pieces that come near each other: how near, and where. A's kind
// is not after B's.
type Near struct {
	A, B   *Piece
	D      float64
	PA, PB geom.Point
}

// most is how many pairs of pieces are told of: whoever has more has drawn
// everything in one place, and is told of more than enough.
const most = 200_000

// look finds what has come near what with the pieces that are new.
func (m *Map) look(c *change, old *Map) {
	gone := map[*Piece]bool{}
	for _, p := range c.gone {
		gone[p] = true
	}
	for _, n := range old.near {
		if !gone[n.A] && !gone[n.B] {
			m.near = append(m.near, n)
		}
	}
	for _, p := range old.off {
		if !gone[p] {
			m.off = append(m.off, p)
		}
	}
	const chunk = 1000
	found := make([][]Near, (len(c.come)+chunk-1)/chunk)
	off := make([][]*Piece, len(found))
	var next atomic.Int64
	var enough atomic.Bool // one chunk has all that is told of: those begun after it need not look
	var work sync.WaitGroup
	some := func() {
		for k := int(next.Add(1)) - 1; k < len(found); k = int(next.Add(1)) - 1 { // in order: what is early in it counts
			looks := !enough.Load()
			for _, p := range c.come[k*chunk : min((k+1)*chunk, len(c.come))] {
				if looks && len(found[k]) < most {
					found[k] = m.around(found[k], p, old.number)
				}
				if m.asked.Inside[p.Kind] && m.isOff(p) {
					off[k] = append(off[k], p)
				}
			}
			if len(found[k]) >= most {
				enough.Store(true)
			}
		}
	}
	for range min(runtime.GOMAXPROCS(0), len(found)) - 1 {
		work.Go(some)
	}
	some()
	work.Wait()
	for k := range found {
		m.near = append(m.near, found[k]...)
		m.off = append(m.off, off[k]...)
	}
	if len(m.near) > most {
		m.near = m.near[:most]
	}
}

// around finds the pieces near a new one; those that were known have numbers up to
// a given one. Of two new ones that which goes before by its kind, and of one
// kind by its number, finds the other.
func (m *Map) around(to []Near, p *Piece, known uint32) []Near {
	start := len(to)
	for i, box := range p.parts() {
		for k, reach := range m.asked.Reach[p.Kind] {
			if reach < 0 || known == 0 && Kind(k) < p.Kind { // all are new
				continue
			}
			m.index.search(Kind(k), box.Grow(reach), func(q *Piece, part int) {
				if q == p || p.Layers&q.Layers == 0 || q.number > known && (q.Kind < p.Kind || q.Kind == p.Kind && q.number < p.number) {
					return
				}
				apart := box.DistanceTo(q.boxOf(part))
				if apart > reach {
					return
				}
				need := m.asked.Needs(m, p, q)
				if apart > need {
					return
				}
				if near, ok := m.measure(p, i, q, part, need); ok {
					to = nearest(to, start, near)
				}
			})
		}
	}
	return to
}

// nearest adds what parts of two pieces come near each other by to a list, in
// which what is from a start on is of one of the two: the nearest counts.
func nearest(list []Near, start int, near Near) []Near {
	if near.A.count()+near.B.count() > 2 { // two of one part each meet once
		for k := start; k < len(list); k++ {
			if list[k].A == near.A && list[k].B == near.B {
				if nearer(near, list[k]) {
					list[k] = near
				}
				return list
			}
		}
	}
	return append(list, near)
}

// measure is how near a part of a piece comes to a part of another, if within reach.
func (m *Map) measure(p *Piece, i int, q *Piece, j int, reach float64) (Near, bool) {
	if before(q, p) {
		p, i, q, j = q, j, p, i
	}
	n := Near{A: p, B: q, D: math.Inf(1)}
	if q.Kind == Edge && (p.Kind == Wrap || p.Kind == Strip) && goesOn(p.along(i), q.along(j)) {
		return n, false // what is beyond the stretch's end is as far as is asked for
	}
	of, others := p.loops(i), q.loops(j)
	if on := p.On(); q.Kind == Edge && on != nil && on.Profile == q.site.stretch.Profile {
		others = m.besides(on, q, j)
	}
	if q.Kind == Edge && (p.Kind == Wrap || p.Kind == Strip) {
		past := m.asked.Past[0]
		if p.Kind == Strip {
			past = m.asked.Past[1]
		}
		others = m.beyond(others, p.site.stretch, q.site.stretch, past)
	}
	for _, a := range of {
		for _, b := range others {
			if d, pa, pb := distance(a, p.Kind.line(), b, q.Kind.line()); d < n.D {
				n.D, n.PA, n.PB = d, pa, pb
			}
		}
	}
	return n, n.D <= reach
}

// before orders two pieces, by what they are and by where they stand in the text:
// which of them is new makes no difference to what is told of them.
func before(p, q *Piece) bool {
	c := cmp.Or(cmp.Compare(p.Kind, q.Kind), Order(p, q), cmp.Compare(p.Layers, q.Layers), cmp.Compare(p.Stretch().From, q.Stretch().From),
		cmp.Compare(p.box.Min.X, q.box.Min.X), cmp.Compare(p.box.Min.Y, q.box.Min.Y))
	return c < 0
}

// Order compares two pieces by where their statements stand in the text, and
// members of one by their number. The outline's edges come last.
func Order(a, b *Piece) int {
	switch {
	case a.Item == b.Item:
		return cmp.Compare(a.Member, b.Member)
	case a.Item == nil:
		return 1
	case b.Item == nil:
		return -1
	}
	x, y := a.Of(), b.Of()
	if x.Keyword.Anchor == nil || y.Keyword.Anchor == nil {
		return 0
	}
	return cmp.Or(cmp.Compare(x.Keyword.Anchor.Order, y.Keyword.Anchor.Order), cmp.Compare(x.Keyword.Start, y.Keyword.Start))
}

// nearer orders how near parts of two pieces come: of equally near ones it is
// always the same that counts.
func nearer(a, b Near) bool {
	return cmp.Or(cmp.Compare(a.D, b.D), cmp.Compare(a.PA.X, b.PA.X), cmp.Compare(a.PA.Y, b.PA.Y), cmp.Compare(a.PB.X, b.PB.X), cmp.Compare(a.PB.Y, b.PB.Y)) < 0
}

// distance is the least distance between two regions, either of which may be a line.
func distance(a *geom.Loop, aLine bool, b *geom.Loop, bLine bool) (float64, geom.Point, geom.Point) {
	if !aLine && !bLine {
		return geom.ShapeDistance(a, b)
	}
	d, pa, pb := geom.LoopDistance(a, b)
	if d == 0 || aLine && bLine {
		return d, pa, pb
	}
	if aLine && b.Contains(a.At(0)) {
		return 0, a.At(0), a.At(0)
	}
	if bLine && a.Contains(b.At(0)) {
		return 0, b.At(0), b.At(0)
	}
	return d, pa, pb
}

// besides is what of a piece of a bare edge is not the edge that a pad stands on,
// and is not near an end at which it goes on from that.
func (m *Map) besides(own *board.Edge, edge *Piece, part int) []*geom.Loop {
	if own.Closed {
		return nil
	}
	from, along := edge.site.stretch.From, edge.site.segs[part]
	for _, g := range edge.site.segs[:part] {
		from += g.Length()
	}
	bare := geom.Interval{From: from, To: from + along.Length()}
	l := own.Profile.Path.Perimeter()
	left := geom.Intervals{bare}
	for _, shift := range [...]float64{-l, 0, l} {
		left = geom.Subtract(left, geom.Intervals{{From: own.From + shift, To: own.To + shift}}, board.Tolerance)
	}
	var lines []*geom.Loop
	for _, x := range left {
		if x.To-x.From > board.Tolerance {
			lines = append(lines, geom.NewLoop([]geom.Segment{along.Sub(x.From-from, x.To-from)}))
		}
	}
	for _, end := range [...]float64{own.From, own.To} {
		lines = outside(lines, own.Profile.Path.At(end), m.asked.Past[0])
	}
	return lines
}

// goesOn tells whether one straight piece of a profile goes straight on from another.
func goesOn(a, b *geom.Segment) bool {
	if a == nil || b == nil || a.Arc || b.Arc {
		return false
	}
	u, v := a.B.Sub(a.A), b.B.Sub(b.A)
	if u.Dot(v) <= 0 || math.Abs(u.Cross(v)) > 1e-9*u.Norm()*v.Norm() {
		return false
	}
	return a.B.Dist(b.A) <= board.Tolerance || b.B.Dist(a.A) <= board.Tolerance
}

// ToLine is the distance from a piece to a line, nm, and a point of each.
func ToLine(p *Piece, line geom.Segment) (least float64, at, on geom.Point) {
	least = math.Inf(1)
	way := geom.NewLoop([]geom.Segment{line})
	for _, x := range p.Shape() {
		if d, a, b := distance(x, p.Kind.line(), way, true); d < least {
			least, at, on = d, a, b
		}
	}
	return least, at, on
}

// Apart is the distance between two pieces, whatever layers they are on, nm.
func Apart(a, b *Piece) float64 {
	d, _ := closest(a, b)
	return d
}

// closest is how near two pieces come, and where on the first.
func closest(a, b *Piece) (least float64, at geom.Point) {
	least = math.Inf(1)
	for _, x := range a.Shape() {
		for _, y := range b.Shape() {
			if d, p, _ := distance(x, a.Kind.line(), y, b.Kind.line()); d < least {
				least, at = d, p
			}
		}
	}
	return least, at
}

// beyond is what is left of a bare edge farther than a distance from the ends at
// which it goes on from a plated stretch.
func (m *Map) beyond(lines []*geom.Loop, own, edge board.Stretch, past float64) []*geom.Loop {
	for _, at := range meets(own, edge) {
		lines = outside(lines, own.Profile.Path.At(at), past)
	}
	return lines
}

// meets are the places along the path at which a bare stretch goes on from a
// plated one.
func meets(own, edge board.Stretch) []float64 {
	if own.Profile == nil || own.Profile != edge.Profile {
		return nil
	}
	l := own.Profile.Path.Perimeter()
	same := func(a, b float64) bool { return math.Abs(math.Remainder(a-b, l)) <= board.Tolerance }
	var list []float64
	if same(own.To, edge.From) {
		list = append(list, own.To)
	}
	if same(own.From, edge.To) {
		list = append(list, own.From)
	}
	return list
}

// Asked is what the map was asked for.
func (m *Map) Asked() *Look { return m.asked }

// Touches tells whether a piece meets any other for which want holds on a layer.
func (m *Map) Touches(p *Piece, want func(*Piece) bool) bool { return len(m.touching(p, want)) > 0 }

// touching lists the pieces that one meets on a layer, of those that are wanted.
func (m *Map) touching(p *Piece, want func(*Piece) bool) []*Piece {
	var list []*Piece
	for i, box := range p.parts() {
		meet := func(q *Piece, part int) {
			if q == p || p.Layers&q.Layers == 0 || slices.Contains(list, q) || !want(q) {
				return
			}
			for _, a := range p.loops(i) {
				for _, b := range q.loops(part) {
					if d, _, _ := distance(a, p.Kind.line(), b, q.Kind.line()); d <= board.Tolerance {
						list = append(list, q)
						return
					}
				}
			}
		}
		for k := range Kinds {
			m.index.search(k, box, meet)
		}
	}
	return list
}

// Near lists what comes nearer to what than it was asked for, in no order.
func (m *Map) Near() []Near { return m.near }

// Off lists the pieces that lie off the board or in a cutout, of the kinds
// asked for, in no order.
func (m *Map) Off() []*Piece { return m.off }
