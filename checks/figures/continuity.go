package figures

import (
	"math"
	"sync"

	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

// Continuity is a measurement along the longest stretch of a plating, with four
// wires, from its one end to the other, or between two points of one that runs all
// round that halve it. Resistances are in Ω, at 20 °C, of even copper.
type Continuity struct {
	Stretch  board.Stretch
	From, To geom.Point // where the probes stand
	// Wall is that of the stretch's wall alone.
	Wall float64
	// With is what it is with the wall, Without when all of the stretch's wall is missing
	// but for where the probes stand, +Inf where nothing else joins them: with planes as
	// sheets, those that Layers names, as in Measured. Features, vias and what else a
	// shop's artwork has count in neither.
	With, Without float64
	Layers        []string
	// Vias tells that vias which joined the planes of a net could carry the current past
	// a missing wall: with each net's planes as one perfect conductor it would not tell.
	Vias bool
	// Bounds tells that what the planes carry cannot be worked out, as they are too odd, or
	// too wide to be cut finely enough for this stretch: With is without them,
	// and Without with all planes of one net as one perfect conductor, 0 where they bridge
	// the stretch.
	Bounds bool
	// Wide tells that a wrap is wider than WideWrap of the way between the probes. It would
	// not carry evenly, as it is reckoned to: nothing is known then but Wall, and Bounds holds.
	Wide bool
	// Beside are the features of the wall's net that meet its copper, by name, and planes under
	// its wraps that do not come to the profile. They carry
	// current past a missing wall and are not counted, so that nothing can be told.
	Beside []string
}

// Spread is how far copper usually is from even: common practice, no source.
const Spread = 0.2

// TellsFrom is how many times With must at least be Without for a limit to be given.
// With copper within a share u of even a sound board has at most With/(1-u), and one
// without the wall at least Without/(1+u): what is between tells them apart, if
// anything is, which asks for Without/With over (1+u)/(1-u) = 1 + 2u/(1-u), 1.5 for
// u = 0.2. At twice With the two are 1.25 and 1.67 times With.
const TellsFrom = 2.0

// WideWrap is how wide a wrap may be beside the way between the probes, of it, to be
// reckoned as even along it: at 0.07 what comes out is up to a tenth too low, at 0.14 a
// quarter (strips of 14 mm with two wraps, against cells of 0.1 mm).
const WideWrap = 0.07

// Tells tells whether the measurement can tell the wall from none.
func (c Continuity) Tells() bool {
	return !c.Wide && len(c.Beside) == 0 && c.Without >= TellsFrom*c.With*(1-1e-9)
}

// Maximum is the limit to ask for where it Tells: √2 times With, between 1.25 and 1.67.
func (c Continuity) Maximum() float64 { return c.With * math.Sqrt(TellsFrom) }

// Sound are the least and the most, Ω, that a sound board has with copper within
// Spread of even.
func (c Continuity) Sound() (least, most float64) {
	return c.With / (1 + Spread), c.With / (1 - Spread)
}

// Rejects tells whether a stated limit may reject sound boards. Nothing is known of
// that where With is a bound.
func (c Continuity) Rejects(limit quantity.Quantity) bool {
	_, most := c.Sound()
	return !c.Bounds && ohms(limit) < most*(1-1e-9)
}

// Passes tells whether a board without the wall may pass a stated limit.
func (c Continuity) Passes(limit quantity.Quantity) bool {
	return ohms(limit) > c.Without/(1+Spread)*(1+1e-9)
}

func ohms(q quantity.Quantity) float64 { return q.In(quantity.Milliohm) / 1000 }

// LayerNames are the layers of Layers, in the order of the stack.
func (c Continuity) LayerNames(b *board.Board) []string {
	return Measured{Layers: c.Layers}.LayerNames(b)
}

// Conductors is a board's plated copper and what it is tied to. Several goroutines may
// use one.
type Conductors struct {
	b      *board.Board
	height float64 // nm
	ring   *ring
	// own and tied tell which node is one with which: not by planes, and by planes.
	own, tied *union
	ofOwn     map[int][]int // the runs of each piece
	ofTied    map[int][]int
	net       map[string]int // a node for the planes of each

	mu     sync.Mutex // of all that is worked out by need, by whoever asks from outside
	plates []*plate   // by need
	broken bool       // one of them cannot be worked out
	meshed bool
	// known are the resistances that have been worked out.
	known map[*board.Plating]*measuring
}

// Conduct is the copper of a board; nil where its thickness is not stated.
func Conduct(b *board.Board) *Conductors {
	t, known := b.Thickness()
	if !known || !(t.Value > 0) {
		return nil
	}
	c := &Conductors{b: b, height: t.Value, net: map[string]int{}, known: map[*board.Plating]*measuring{}}
	c.ring = newRing(b, t.Value, c.planeEnds)
	nodes := c.ring.nodes
	for _, x := range b.Planes() {
		if _, known := c.net[x.Net.Text]; x.Net.Given() && !known {
			c.net[x.Net.Text] = nodes
			nodes++
		}
	}
	c.own, c.tied = newUnion(nodes), newUnion(nodes)
	c.tie()
	c.ofOwn, c.ofTied = c.pieces(nil), c.pieces(c.tied)
	return c
}

// planeEnds are where planes begin and end along a stretch.
func (c *Conductors) planeEnds(s board.Stretch) (list []float64) {
	if s.Round() {
		list = append(list, (s.From+s.To)/2) // where it is measured
	}
	for _, x := range c.b.Planes() {
		if x.Within != nil && tiesTo(c.b, x, s.Plating) {
			for _, v := range contacts(x, s) {
				list = append(list, v.From, v.To)
			}
		}
	}
	return list
}

// tie makes what each net's planes come to one node.
func (c *Conductors) tie() {
	ties := map[*board.Plating][]*board.Plane{}
	for i := range c.ring.runs {
		x := &c.ring.runs[i]
		list, known := ties[x.Plating]
		if !known {
			for _, plane := range c.b.Planes() {
				if tiesTo(c.b, plane, x.Plating) {
					list = append(list, plane)
				}
			}
			ties[x.Plating] = list
		}
		for _, plane := range list {
			for _, v := range contacts(plane, x.Stretch) {
				for k, at := range x.at {
					if at >= v.From-board.Tolerance && at <= v.To+board.Tolerance {
						c.tied.join(x.nodes[k], c.net[plane.Net.Text])
					}
				}
			}
		}
	}
}

// pieces are the runs that hang together, by one of their nodes.
func (c *Conductors) pieces(from *union) map[int][]int {
	all := newUnion(len(c.own.up))
	if from != nil {
		copy(all.up, from.up)
	}
	for _, x := range c.ring.runs {
		for _, n := range x.nodes[1:] {
			all.join(x.nodes[0], n)
		}
	}
	of := map[int][]int{}
	for i, x := range c.ring.runs {
		n := all.of(x.nodes[0])
		of[n] = append(of[n], i)
	}
	byFirst := map[int][]int{}
	for _, list := range of {
		for _, i := range list {
			byFirst[i] = list
		}
	}
	return byFirst
}

// longest is the number of a plating's longest run, -1 where it has none.
func (c *Conductors) longest(p *board.Plating) int {
	best, length := -1, board.Tolerance
	for i, x := range c.ring.runs {
		if x.Plating == p && x.Length() > length+board.Tolerance {
			best, length = i, x.Length()
		}
	}
	return best
}

// Along is where a plating is measured and what its wall alone comes to there, without
// what else joins the probes; ok is false where nothing is plated, or the copper or the
// thickness is not stated.
func (c *Conductors) Along(p *board.Plating) (m Continuity, ok bool) {
	defer c.alone()()
	m, _, ok = c.along(p)
	return m, ok
}

// alone keeps others out until what it returns is called.
func (c *Conductors) alone() (done func()) {
	if c == nil {
		return func() {}
	}
	c.mu.Lock()
	return c.mu.Unlock
}

// along is Along with the run that is measured.
func (c *Conductors) along(p *board.Plating) (m Continuity, i int, ok bool) {
	if c == nil || !p.Copper.Given() {
		return m, 0, false
	}
	if i = c.longest(p); i < 0 {
		return m, i, false
	}
	x := &c.ring.runs[i]
	path := x.Profile.Path
	m.Stretch = x.Stretch
	sides := 1.0
	if x.Round() {
		sides = 2
	}
	m.From, m.To = path.At(x.From), path.At(x.probe())
	m.Wall = physics.Rho20 * quantity.InMetres(x.way()) / (sides * c.ring.section(p).wall)
	return m, i, m.Wall > 0 && !math.IsInf(m.Wall, 0)
}

// probe is where the second probe stands, along the path: at the run's end, or opposite
// its start where it runs all round.
func (r *run) probe() float64 {
	if r.Round() {
		return math.Mod((r.From+r.To)/2, r.Profile.Path.Perimeter())
	}
	return r.To
}

// Continuity is how a plating is measured; ok is false where nothing is plated, or
// the copper or the thickness is not stated. It takes some tens of milliseconds a
// plating with planes, and none without.
func (c *Conductors) Continuity(p *board.Plating) (m Continuity, ok bool) {
	defer c.alone()()
	m, i, ok := c.along(p)
	if !ok {
		return m, false
	}
	x := &c.ring.runs[i]
	m.Beside = append(featuresOn(c.b, p), planesUnder(c.b, p)...)
	m.Wide = x.wide()
	a, b := c.ring.node(x.Profile, x.From), c.ring.node(x.Profile, x.probe())
	bridged, settled := c.between(a, b, c.tied, c.ofTied[i], func(r *run, _, _ float64) float64 {
		if r == x {
			return 0
		}
		return 1
	})
	if !settled {
		bridged = 0
	}
	if v, ok := c.measured(p, false); ok {
		m.With, m.Without, m.Layers = v.With, v.Without, v.Layers
		m.Vias = len(v.Layers) > 0 && bridged < TellsFrom*m.With
		return m, true
	}
	m.Bounds, m.Without = true, bridged
	if m.With, settled = c.between(a, b, c.own, c.ofOwn[i], whole); !settled {
		m.With = m.Wall
	}
	return m, true
}

// wide tells whether a wrap of a run is too wide to be even along it.
func (x *run) wide() bool {
	return max(x.Plating.Wrap[board.Top].Value, x.Plating.Wrap[board.Bottom].Value) > WideWrap*x.way()+board.Tolerance
}

// way is how far it is from probe to probe, nm.
func (x *run) way() float64 {
	if x.Round() {
		return x.Length() / 2
	}
	return x.Length()
}

// between is the resistance from node to node by some of the runs.
func (c *Conductors) between(a, b int, one *union, runs []int, wall wallOf) (float64, bool) {
	if one.of(a) == one.of(b) {
		return 0, true
	}
	number := map[int]int{}
	n := &network{}
	same := func(node int) int {
		node = one.of(node)
		k, known := number[node]
		if !known {
			k = n.node()
			number[node] = k
		}
		return k
	}
	c.ring.conduct(n, same, runs, wall)
	return n.resistance(same(a), same(b))
}

// union tells what has been joined to what.
type union struct{ up []int }

func newUnion(n int) *union {
	u := &union{make([]int, n)}
	for i := range u.up {
		u.up[i] = i
	}
	return u
}

func (u *union) of(i int) int {
	for u.up[i] != i {
		u.up[i] = u.up[u.up[i]]
		i = u.up[i]
	}
	return i
}

func (u *union) join(a, b int) {
	a, b = u.of(a), u.of(b)
	u.up[max(a, b)] = min(a, b)
}

// planesUnder are the planes of a plating's net that come under its wraps and not to the
// profile: they carry current, and are not counted.
func planesUnder(b *board.Board, p *board.Plating) (names []string) {
	for _, x := range b.Planes() {
		f, outer := b.FaceOf(x.Layer.Text)
		if !outer || x.Within == nil || !x.Net.Given() || x.Net.Text != p.Net.Text || b.Borders(x, p) {
			continue
		}
		rectangle := geom.RectangleAt(x.Within.Min, x.Within.Max.X-x.Within.Min.X, x.Within.Max.Y-x.Within.Min.Y, 0)
		for s := range b.FinishedBy(p) {
			if s.DistanceTo(rectangle) < p.Wrap[f].Value-board.Tolerance {
				names = append(names, "the plane on "+x.Layer.Text)
				break
			}
		}
	}
	return names
}

// featuresOn are the features of a plating's net that meet its wraps, or its wall.
func featuresOn(b *board.Board, p *board.Plating) (names []string) {
	for _, f := range b.Features() {
		reach, outer := 0.0, false
		for _, face := range board.Faces {
			if b.SameLayer(f.Layer.Text, b.OuterLayer(face)) {
				reach, outer = p.Wrap[face].Value, true
			}
		}
		if f.Net.Text != p.Net.Text || outer && reach == 0 {
			continue
		}
		for s := range b.FinishedBy(p) {
			if s.DistanceTo(f.Shape) <= reach+board.Tolerance {
				names = append(names, f.Name.Text)
				break
			}
		}
	}
	return names
}
