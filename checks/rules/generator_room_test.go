package rules

import "math"

// blob is what stands on a made board: a disc, or a rectangle along a side, and
// what others keep from it for.
type blob struct {
	item, net string
	layers    int // those that it lies on, bit by bit
	middle    dot
	way       dot     // the direction of its length
	long      float64 // half of it, and half of its width; 0 for a disc
	wide      float64
	radius    float64

	copper bool
	drill  bool  // a hole through the board, plated or not
	bare   bool  // one without copper
	holes  bool  // a tab's row of holes
	open   int64 // what its own mask opening is larger
	mask   bool  // it is the mask opening of a relief
	pin    bool
	body   bool
	half   bool // a half hole or its land
	tab    bool
	cutout bool
	stage  bool // room that is kept for mistakes
}

// Layers of a made board: the faces, and what lies between.
const (
	onTop, onGround, onPower, onBottom = 1, 2, 4, 8
	throughAll                         = 15
)

func layerBit(name string) int {
	return map[string]int{"top": onTop, "ground": onGround, "power": onPower, "bottom": onBottom}[name]
}

// corners are a rectangle's, or a disc's middle.
func (b *blob) corners() []dot {
	if b.long == 0 && b.wide == 0 {
		return []dot{b.middle}
	}
	var list []dot
	for _, k := range [][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		x, y := k[0]*b.long, k[1]*b.wide
		list = append(list, dot{b.middle.x + x*b.way.x - y*b.way.y, b.middle.y + x*b.way.y + y*b.way.x})
	}
	return list
}

// covers tells whether a point lies in a rectangle.
func (b *blob) covers(p dot) bool {
	x, y := p.x-b.middle.x, p.y-b.middle.y
	return math.Abs(x*b.way.x+y*b.way.y) <= b.long && math.Abs(y*b.way.x-x*b.way.y) <= b.wide
}

// apart is how far two blobs lie from each other; 0 or less where they meet.
func (b *blob) apart(c *blob) float64 {
	if b.covers(c.middle) || c.covers(b.middle) {
		return -1
	}
	least := math.Inf(1)
	p, q := b.corners(), c.corners()
	for i := range p {
		for j := range q {
			least = math.Min(least, between(p[i], p[(i+1)%len(p)], q[j], q[(j+1)%len(q)]))
		}
	}
	return least - b.radius - c.radius
}

// between is the distance of two lines, either of which may be a point.
func between(a, b, c, d dot) float64 {
	cross := func(o, p, q dot) float64 { return (p.x-o.x)*(q.y-o.y) - (p.y-o.y)*(q.x-o.x) }
	if cross(a, b, c)*cross(a, b, d) < 0 && cross(c, d, a)*cross(c, d, b) < 0 {
		return 0
	}
	return math.Min(math.Min(toLine(a, c, d), toLine(b, c, d)), math.Min(toLine(c, a, b), toLine(d, a, b)))
}

// toLine is how far a point lies from a line.
func toLine(p, a, b dot) float64 {
	x, y := b.x-a.x, b.y-a.y
	share := 0.0
	if l := x*x + y*y; l > 0 {
		share = math.Min(1, math.Max(0, ((p.x-a.x)*x+(p.y-a.y)*y)/l))
	}
	return p.to(dot{a.x + share*x, a.y + share*y})
}

// room is what two blobs keep from each other; under 0 where they may do as
// they like. It is the generator's own reading of what may not meet what.
func (m *maker) room(a, b *blob) int64 {
	least := int64(-1)
	ask := func(yes bool, nm int64) {
		if yes {
			least = max(least, nm)
		}
	}
	either := func(of func(*blob) bool) (is, other *blob) {
		if of(a) {
			return a, b
		}
		if of(b) {
			return b, a
		}
		return nil, nil
	}
	ask(a.stage || b.stage, 3*millimetre)
	ask(a.cutout || b.cutout, 2*millimetre+m.keepOff)
	ask(a.drill && b.drill, m.min("hole_web"))
	if a.layers&b.layers == 0 || a.item == b.item {
		return least
	}
	differ := a.net != b.net || a.net == ""
	ask(a.copper && b.copper && differ, m.min("copper_clearance"))
	if bare, x := either(func(x *blob) bool { return x.bare }); bare != nil && x.copper {
		ask(true, max(m.min("edge_clearance_outer"), m.min("edge_clearance_inner")))
	}
	masked := func(x *blob) bool { return x.mask || x.open > 0 }
	if masked(a) && masked(b) {
		ask(true, a.open+b.open+m.min("mask_web"))
	}
	if mask, x := either(func(x *blob) bool { return x.mask }); mask != nil {
		ask(x.copper && differ, 10_000)
	}
	if body, x := either(func(x *blob) bool { return x.body }); body != nil {
		ask(x.body, m.min("body_clearance"))
		ask(x.pin || x.half || x.copper && !x.drill && differ, 10_000)
		ask(x.tab, m.min("tab_connector"))
	}
	if tab, x := either(func(x *blob) bool { return x.tab }); tab != nil {
		ask(x.half, m.min("tab_gap"))
	}
	ask(a.pin && b.pin, 10_000)
	return least
}

// fits tells whether blobs keep what they must from all that stands.
func (m *maker) fits(list ...blob) bool {
	for i := range list {
		for k := range m.stands {
			if need := m.room(&list[i], &m.stands[k]); need >= 0 && list[i].apart(&m.stands[k]) < float64(need) {
				return false
			}
		}
	}
	return true
}

func (m *maker) stand(list ...blob) { m.stands = append(m.stands, list...) }

// disc and oblong are blobs of one shape or the other.
func disc(item, net string, layers int, middle dot, across int64) blob {
	return blob{item: item, net: net, layers: layers, middle: middle, way: dot{1, 0}, radius: float64(across) / 2}
}

func oblong(item, net string, layers int, middle, way dot, long, wide int64) blob {
	return blob{item: item, net: net, layers: layers, middle: middle, way: way, long: float64(long) / 2, wide: float64(wide) / 2}
}

// standing is a rectangle on a side, so deep from a depth on.
func (s *side) standing(item, net string, layers int, at, width, from, deep int64) blob {
	return oblong(item, net, layers, s.point(float64(at), float64(from)+float64(deep)/2), s.direction(float64(at)), width, deep)
}

// direction is where positions on a side go at one of them.
func (s *side) direction(at float64) dot {
	p := s.path
	if p.around == nil {
		l := p.a.to(p.b)
		return dot{(p.b.x - p.a.x) / l, (p.b.y - p.a.y) / l}
	}
	q := p.at(at / p.length())
	r := p.around.to(q)
	d := dot{-(q.y - p.around.y) / r, (q.x - p.around.x) / r}
	if p.clockwise {
		d = dot{-d.x, -d.y}
	}
	return d
}

// point is the one so far inward from a position.
func (s *side) point(at, inward float64) dot {
	d, p := s.direction(at), s.path.at(at/s.path.length())
	if s.right {
		inward = -inward
	}
	return dot{p.x - inward*d.y, p.y + inward*d.x}
}

// upright tells whether a side runs along x or y, so that points beside it are
// whole nanometres.
func (s *side) upright() bool {
	return s.path.around == nil && (s.path.a.x == s.path.b.x || s.path.a.y == s.path.b.y)
}

// distance is how far a point lies from a piece.
func (p piece) distance(d dot) float64 {
	if p.around == nil {
		return toLine(d, p.a, p.b)
	}
	turn := piece{a: p.a, b: d, around: p.around, clockwise: p.clockwise}
	if math.Abs(turn.sweep()) <= math.Abs(p.sweep()) {
		return math.Abs(p.around.to(d) - p.around.to(p.a))
	}
	return math.Min(d.to(p.a), d.to(p.b))
}
