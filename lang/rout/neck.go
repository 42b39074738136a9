package rout

import (
	"cmp"
	"container/heap"
	"hash/fnv"
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Neck is the narrowest of what joins a tab to the frame outside the board, or in a cutout
// to what is cut out, once the slots are cut: the widest way that there is.
type Neck struct {
	Width float64    // nm; under 0 where slots overlap and the tab is cut off
	At    geom.Point // about where
	Waist float64    // the tab's own, halfway along its slots, nm: as wide as that it should be
	Bit   float64    // of the profile, nm
}

// Short tells whether less joins the tab than its own waist is: it is cut off, or hangs on
// a sliver. That width is our own judgement.
func (n Neck) Short() bool { return n.Waist > 0 && n.Width < n.Waist-shy }

const (
	// shy, nm, is how much narrower than a tab's waist what joins it may come out by rounding.
	shy = 20 * board.Tolerance
	// The steps by which a way is looked for, nm.
	leastStep, mostStep = 0.04 * mm, 0.15 * mm
)

// Neck is what joins a tab to the frame, as its profile's passes leave it.
func (x *Bits) Neck(t *board.Tab) Neck { return x.neck(t, x.of[t.Edge.Profile], true) }

// allows tells whether a tab's width and length leave room for a bit.
func allows(t *board.Tab, d float64) bool {
	return spares(t, d) && (!t.Length.Given() || d <= t.Length.Value+board.Tolerance)
}

// spoils tells whether a bit leaves less to join a tab than its waist, where another leaves
// that, or at least more.
func (x *Bits) spoils(t *board.Tab, d float64) bool {
	own := x.neck(t, d, false)
	if !own.Short() {
		return false
	}
	for _, other := range append([]float64{x.least}, candidates...) {
		if other == d || other < x.least-board.Tolerance || !allows(t, other) {
			continue
		}
		if n := x.neck(t, other, false); !n.Short() || n.Width > own.Width+shy {
			return true
		}
	}
	return false
}

// crowd drops the leads of a profile of which a tab loses more than it may by them.
func (x *Bits) crowd(p *board.Profile) {
	for _, t := range x.tabs[p] {
		d := x.of[p]
		if led := x.neck(t, d, true); led.Short() && led.Width < x.neck(t, d, false).Width-shy {
			x.unled[p] = true
		}
	}
	if !x.unled[p] {
		return
	}
	for key := range x.trials {
		if key.profile == p {
			delete(x.trials, key)
		}
	}
}

func (x *Bits) neck(t *board.Tab, d float64, leads bool) Neck {
	n := Neck{Waist: math.Max(0, waist(t, d)), Bit: d, At: t.Edge.Point(t.Position)}
	n.Width = n.Waist
	p := t.Edge.Profile
	if !(d > 0) || n.Waist == 0 || x.roomy(t, d, n.Waist) {
		return n
	}
	slots := x.slotsOf(p, d, leads && !x.unled[p])
	if len(slots.list) == 0 { // no bit gets in
		n.Width = 0
		return n
	}
	type key struct {
		at, width float64
		slots     uint64
	}
	type found struct {
		width float64
		at    geom.Point
	}
	f := p.Keep(key{t.Edge.Along(t.Position), t.Width.Value, slots.sum}, func() any {
		width, at := slots.way(t, n.Waist)
		return found{width, at}
	}).(found)
	n.Width, n.At = math.Min(f.width, n.Waist), f.at
	return n
}

// roomy tells whether nothing of its own profile comes near what a tab reaches, so that no
// slot does: nothing lies outward of its root within reach, and from there the way round
// the board is open.
func (x *Bits) roomy(t *board.Tab, d, waist float64) bool {
	deep := d
	for _, other := range x.tabs[t.Edge.Profile] {
		deep = math.Max(deep, other.Length.Value)
	}
	reach := deep + clear + waist/2
	p, root := t.Edge.Profile, t.Edge.Point(t.Position)
	out := t.Edge.Inward(t.Position).Scale(-1)
	box := geom.BoxOf(t.Edge.Point(t.From()), root, t.Edge.Point(t.To()))
	from, to := t.Range()
	forward := false
	p.Near(box, reach, func(a, b float64) {
		i, _ := p.Path.SegmentAt((a + b) / 2)
		if i < 0 || forward {
			return
		}
		g, start := p.Path.Segments()[i], p.Path.Start(i)
		if !g.Arc && from >= start-board.Tolerance && to <= start+g.Length()+board.Tolerance {
			return
		}
		const pieces = 8
		for k := range pieces + 1 {
			forward = forward || p.Path.At(a+(b-a)*float64(k)/pieces).Sub(root).Dot(out) > 10*board.Tolerance
		}
	})
	return !forward && outside(t, reach)
}

// outside tells whether what runs at a distance from the profile, nm, beside a tab is the
// way round the board, or in a cutout the one way round what is cut out.
func outside(t *board.Tab, off float64) bool {
	c := contourOf(t.Edge.Profile, off)
	at := t.Edge.Along(t.Position)
	beside, lowest := -1, 0
	for i, g := range c.pieces {
		if g.from <= at && at <= g.to {
			beside = i
		}
		if g.Box().Min.Y < c.pieces[lowest].Box().Min.Y {
			lowest = i
		}
	}
	if beside < 0 {
		return false
	}
	loop := map[int]bool{}
	for i := beside; !loop[i]; i = c.next(i) {
		loop[i] = true
	}
	return loop[lowest] && (!t.Edge.Profile.Cutout || len(loop) == len(c.pieces))
}

// next is the piece that goes on where one ends.
func (c *contour) next(i int) int {
	best, least := i, math.Inf(1)
	for k := range c.pieces {
		next := (i + 1 + k) % len(c.pieces)
		if d := c.pieces[i].B.Dist(c.pieces[next].A); d < least {
			best, least = next, d
		}
		if least <= exact {
			break
		}
	}
	return best
}

// slots are what the passes along a profile, before and after plating, cut away.
type slots struct {
	profile *board.Profile
	list    []slot
	index   *geom.Index
	bit     float64 // the profile's, nm
	bounds  geom.Box
	sum     uint64 // of all that is in it
}

// slot is one segment of a bit's way.
type slot struct {
	geom.Segment
	r float64 // of the bit, nm
}

type slotsKey struct {
	profile *board.Profile
	bit     float64
	leads   bool
}

// slotsOf are those of a profile that is cut by a bit of a diameter.
func (x *Bits) slotsOf(p *board.Profile, d float64, leads bool) *slots {
	key := slotsKey{p, d, leads}
	if s := x.slots[key]; s != nil {
		return s
	}
	s := &slots{profile: p, bit: d, bounds: geom.EmptyBox()}
	h := fnv.New64a()
	var boxes []geom.Box
	add := func(way []geom.Segment, r float64) {
		for _, g := range way {
			s.list = append(s.list, slot{g, r})
			boxes = append(boxes, g.Box().Grow(r))
			s.bounds = s.bounds.Union(g.Box().Grow(r))
			for _, v := range [...]float64{g.A.X, g.A.Y, g.B.X, g.B.Y, g.C.X, g.C.Y, r} {
				var b [8]byte
				for i := range b {
					b[i] = byte(math.Float64bits(v) >> (8 * i))
				}
				h.Write(b[:])
			}
		}
	}
	x.leadless = !leads
	defer func() { x.leadless = false }()
	for kind, stretches := range [2][]board.Stretch{First: x.Plated(p), Final: x.Bare(p)} {
		for _, stretch := range stretches {
			for _, pass := range x.passes(Kind(kind), stretch, d) {
				add(pass.Path, pass.Bit/2)
				if leads {
					add(pass.In, pass.Bit/2)
					add(pass.Out, pass.Bit/2)
				}
			}
		}
	}
	s.index, s.sum = geom.NewIndex(boxes), h.Sum64()
	x.slots[key] = s
	return s
}

// clear is how far a place is from the nearest slot, nm, at most; under 0 in one.
func (s *slots) clear(q geom.Point, most float64) float64 {
	s.index.Search(geom.BoxOf(q).Grow(most), func(i int) bool {
		_, _, d := s.list[i].Nearest(q)
		most = math.Min(most, d-s.list[i].r)
		return true
	})
	return most
}

// beside is how clear a place is of what lies along the profile too: as far as the bit is
// wide all is cut there, or is another tab's. Before the tab's own root nothing is.
func (s *slots) beside(t *board.Tab, q geom.Point, clear float64) float64 {
	_, along, d := s.profile.Path.Nearest(q)
	if d-s.bit >= clear {
		return clear
	}
	from, to := t.Range()
	if within(along, from-board.Tolerance, to+board.Tolerance, s.profile.Path.Perimeter()) {
		return clear
	}
	return d - s.bit
}

// cell is a place of the grid about a tab's root, and heapOf those that a way has come to:
// the one that is clear farthest first, of those alike the one that is nearest to its end.
type cell struct{ x, y int }

type front struct {
	cell
	clear, left float64 // nm from slots, and to where the way is to end
}

type heapOf []front

func (h heapOf) Len() int { return len(h) }
func (h heapOf) Less(i, j int) bool {
	if h[i].clear != h[j].clear {
		return h[i].clear > h[j].clear
	}
	return h[i].left < h[j].left
}
func (h heapOf) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *heapOf) Push(v any)   { *h = append(*h, v.(front)) }
func (h *heapOf) Pop() any {
	old := *h
	v := old[len(old)-1]
	*h = old[:len(old)-1]
	return v
}

// way is how wide the widest way is from a tab's root to the outside, or in a cutout to
// the widest place of what is cut out, and where it is narrowest. What is as wide as the
// tab's waist is wide enough.
func (s *slots) way(t *board.Tab, waist float64) (width float64, at geom.Point) {
	step := math.Max(leastStep, math.Min(mostStep, waist/8))
	enough := waist/2 + step
	root := t.Edge.Point(t.Position).Sub(t.Edge.Inward(t.Position).Scale(board.Tolerance * 10))
	point := func(c cell) geom.Point { return root.Add(geom.Point{X: float64(c.x) * step, Y: float64(c.y) * step}) }
	box := s.bounds.Union(s.profile.Path.Box()).Grow(enough)
	left := func(q geom.Point) float64 {
		return min(q.X-box.Min.X, box.Max.X-q.X, q.Y-box.Min.Y, box.Max.Y-q.Y)
	}
	if s.profile.Cutout {
		core := s.core(t, step)
		left = func(q geom.Point) float64 { return q.Dist(core) - step }
	}
	clear := func(q geom.Point) float64 { return s.beside(t, q, s.clear(q, enough)) }
	narrowest, from := math.Inf(1), map[cell]cell{{}: {}}
	h := &heapOf{{clear: clear(root), left: left(root)}}
	for h.Len() > 0 && len(from) < mostCells {
		f := heap.Pop(h).(front)
		narrowest = math.Min(narrowest, f.clear)
		if f.left <= 0 {
			width = math.Inf(1)
			for c := f.cell; c != (cell{}); c = from[c] {
				q := point(c)
				if c := clear(q); c <= narrowest+2*step {
					if w := s.across(q, s.clear(q, enough), step); w < width {
						width, at = w, q
					}
				}
			}
			if math.IsInf(width, 1) {
				return 2*narrowest + step, root
			}
			return width, at
		}
		for _, by := range [...]cell{{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
			c := cell{f.x + by.x, f.y + by.y}
			q := point(c)
			if _, seen := from[c]; !seen {
				if from[c] = f.cell; s.profile.Path.Contains(q) == s.profile.Cutout {
					heap.Push(h, front{c, clear(q), left(q)})
				}
			}
		}
	}
	return math.Min(2*narrowest, 0), root
}

// mostCells is how many places are looked at for one tab.
const mostCells = 2_000_000

// core is the place of what is cut out that is clear of slots farthest, but for a step; not
// right before the tab, where there is no slot beside it, if there is another.
func (s *slots) core(t *board.Tab, step float64) geom.Point {
	box := s.profile.Path.Box()
	wide, high := box.Max.X-box.Min.X, box.Max.Y-box.Min.Y
	root := t.Edge.Point(t.Position)
	apart := t.Width.Value/2 + 2*s.bit
	best, at := math.Inf(-1), box.Center()
	look := func(q geom.Point) bool {
		if _, _, off := s.profile.Path.Nearest(q); off < s.bit-step || q.Dist(root) < apart || !s.profile.Path.Contains(q) {
			return false
		}
		d := s.clear(q, wide+high)
		if d <= best {
			return false
		}
		best, at = d, q
		return true
	}
	const across = 48
	for ; math.IsInf(best, -1) && apart > step; apart /= 2 {
		for i := range across {
			for k := range across {
				look(box.Min.Add(geom.Point{X: wide * (float64(i) + 0.5) / across, Y: high * (float64(k) + 0.5) / across}))
			}
		}
	}
	if math.IsInf(best, -1) {
		return at
	}
	for by := math.Max(wide, high) / across; by > step/8; {
		from, moved := at, false
		for _, d := range [...]geom.Point{{X: by}, {Y: by}, {X: -by}, {Y: -by}} {
			moved = look(from.Add(d)) || moved
		}
		if !moved {
			by /= 2
		}
	}
	return at
}

// across is how wide it is between the slots on both sides of a place of a way that is so
// clear of them: between the nearest and the nearest of those opposite to it, where they
// come nearest each other within a step or two; +Inf where none lies opposite.
func (s *slots) across(q geom.Point, clear, step float64) float64 {
	type side struct {
		slot
		way    geom.Point // from q to it, of length 1
		far    float64    // nm
		around geom.Segment
	}
	var near []side
	reach := math.Max(0, clear+3*step)
	s.index.Search(geom.BoxOf(q).Grow(reach), func(i int) bool {
		g := s.list[i]
		p, along, d := g.Nearest(q)
		if d-g.r > reach || d == 0 {
			return true
		}
		x := side{slot: g, way: p.Sub(q).Scale(1 / d), far: d - g.r, around: g.Segment}
		if long := g.Length(); long > 0 {
			x.around = g.Sub(math.Max(0, along-2*step), math.Min(long, along+2*step))
		}
		near = append(near, x)
		return true
	})
	slices.SortFunc(near, func(a, b side) int { return cmp.Compare(a.far, b.far) })
	for _, b := range near {
		if a := near[0]; a.way.Dot(b.way) < -0.8 {
			d, _, _ := geom.Distance(a.around, b.around)
			return d - a.r - b.r
		}
	}
	return math.Inf(1)
}
