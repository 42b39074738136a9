package rules

import (
	"fmt"
	"math"
)

// connector puts one on a side, with its gap; it stays away where there is no room.
func (m *maker) connector(s *side, at, body int64) {
	name, net := fmt.Sprintf("jack%d", m.names["jack"]+1), fmt.Sprintf("RF%d", m.names["RF"]+1)
	pin, long := m.between(800_000, 1_500_000), m.between(3*millimetre, 5*millimetre)
	clear, asks := m.min("launch_clearance"), ""
	if m.chance(3) {
		clear = max(clear, m.between(300_000, 600_000))
		asks = "clearance " + m.size(clear)
	}
	face := pick(m, "top", "top", "bottom")
	pins := []string{fmt.Sprintf("pin %s width %s length %s", face, m.size(pin), m.size(long))}
	layers := layerBit(face)
	if m.chance(4) { // one on the other face too
		other := map[string]string{"top": "bottom", "bottom": "top"}[face]
		pins, layers = append(pins, fmt.Sprintf("pin %s width %s length %s", other, m.size(pin), m.size(long))), onTop|onBottom
	}
	pad := s.standing(name, net, layers, at, pin, 0, long)
	pad.copper, pad.pin, pad.open = true, true, m.min("mask_margin")
	metal, reach := s.standing(name, net, onTop|onBottom, at, body, 0, 1000), ""
	if m.chance(2) {
		deep := m.between(millimetre, 5*millimetre)
		metal, reach = s.standing(name, net, onTop|onBottom, at, body, 0, deep), " reach "+m.size(deep)
	}
	metal.body = true
	if !m.fits(pad, metal) {
		return
	}
	m.stand(pad, metal)
	room := max(clear, m.min("wrap_clearance"), m.min("mask_margin")+m.min("mask_web")+s.wall.margin)
	width := min(body, max(m.min("gap_width"), pin+2*room)+2*m.between(0, 2*millimetre))
	bridged := " bridged"
	switch m.r.IntN(4) {
	case 0:
		bridged = ""
	case 1, 2:
		width = max(width, body-m.between(0, millimetre)) // all that the body covers
	}
	opens := ""
	if m.chance(3) {
		opens = m.opens(s, at, pin, width, bridged != "")
	}
	m.say("connector "+m.name("jack"), append([]string{"on " + s.name, "at " + m.at(s, at), "body " + m.size(body) + reach}, append(pins, asks, opens, "net "+m.name("RF"))...)...)
	if opens == "" {
		m.gap(s, at, width, false, "for "+name+bridged)
	}
	s.taken = append(s.taken, [2]int64{at - body/2 - 3*millimetre, at + body/2 + 3*millimetre})
	if s.axis > 0 && m.chance(2) {
		m.pad(s, at, pin, long, face, net)
	}
}

// pad is copper of a connector's net that lies on its pin, near the bare edge.
func (m *maker) pad(s *side, at, pin, long int64, face, net string) {
	deep := (long - millimetre/2) / 2 * 2
	middle := s.point(float64(at), float64(100_000+deep/2))
	w, h := pin, deep
	if s.axis%2 == 0 {
		w, h = h, w
	}
	name := m.name("pad")
	m.stand(m.copperOf(s.standing(name, net, layerBit(face), at, pin, 100_000, deep)))
	m.say("feature "+name, "on "+face, fmt.Sprintf("rectangle %s by %s", m.size(w), m.size(h)), "at "+m.dot(middle), "net "+net)
}

// copperOf makes a blob a feature: copper with a mask opening of its own where
// it lies on a face.
func (m *maker) copperOf(b blob) blob {
	b.copper = true
	if b.layers&(onTop|onBottom) != 0 {
		b.open = m.min("mask_margin")
	}
	return b
}

// keeps is what copper on a layer keeps from every profile.
func (m *maker) keeps(layer string) int64 {
	if layer == "top" || layer == "bottom" {
		return m.keepOff
	}
	return max(m.min("inner_clearance"), m.min("edge_clearance_inner"))
}

// features puts copper here and there, some of it as near to a wall, or to what
// stands already, as it may come.
func (m *maker) features() {
	for range 2 + m.r.IntN(5) {
		layer := pick(m, "top", "bottom")
		if inner := m.inner(); inner != nil && m.chance(3) {
			layer = pick(m, inner...)
		}
		net := pick(m, "V5", "SENSE", "GND", "")
		switch {
		case m.chance(3):
			m.snug(layer, net)
		case m.chance(3):
			d := m.between(500_000, 2*millimetre)
			m.feature("dot", layer, net, d, 0)
		default:
			m.feature("part", layer, net, m.between(500_000, 3*millimetre), m.between(500_000, 3*millimetre))
		}
	}
}

// feature puts one where there is room: a circle, or a rectangle where it is
// given a height; and often another beside it, as near as may be.
func (m *maker) feature(word, layer, net string, w, h int64) {
	name := fmt.Sprintf("%s%d", word, m.names[word]+1)
	what := func(d dot) []blob {
		if h == 0 {
			return []blob{m.copperOf(disc(name, net, layerBit(layer), d, w))}
		}
		return []blob{m.copperOf(oblong(name, net, layerBit(layer), d, dot{1, 0}, w, h))}
	}
	at, ok := m.place(float64(m.keeps(layer))+math.Hypot(float64(w), float64(h))/2, what)
	if !ok {
		return
	}
	m.name(word)
	m.writeFeature(name, layer, net, w, h, at)
	if m.chance(2) {
		m.beside(m.stands[len(m.stands)-1], layer, at, w)
	}
}

func (m *maker) writeFeature(name, layer, net string, w, h int64, at dot) {
	if net != "" {
		net = "net " + net
	}
	shape := "circle " + m.size(w)
	if h > 0 {
		shape = fmt.Sprintf("rectangle %s by %s", m.size(w), m.size(h))
	}
	m.say("feature "+name, "on "+layer, shape, "at "+m.dot(at), net)
}

// beside puts a disc beside a feature, as near as it may come.
func (m *maker) beside(b blob, layer string, at dot, w int64) {
	d := m.between(250_000, 750_000) / 2 * 2
	net := pick(m, "V5", "SENSE", "GND", "")
	name := fmt.Sprintf("dot%d", m.names["dot"]+1)
	x := m.copperOf(disc(name, net, layerBit(layer), at, d))
	x.middle.x += float64((w+1)/2 + d/2 + max(0, m.room(&b, &x)))
	if m.away(x.middle) < float64(m.keeps(layer)+d/2) || !m.fits(x) {
		return
	}
	m.stand(x)
	m.name("dot")
	m.writeFeature(name, layer, net, d, 0, x.middle)
}

// snug puts a disc as near to a straight side as it may come.
func (m *maker) snug(layer, net string) {
	s := m.sides[m.r.IntN(len(m.sides))]
	if !s.upright() {
		return
	}
	d := m.between(500_000, 2*millimetre) / 2 * 2
	keep := m.keeps(layer)
	name := fmt.Sprintf("dot%d", m.names["dot"]+1)
	for range 20 {
		b := m.copperOf(disc(name, net, layerBit(layer), s.point(float64(m.between(s.low, s.high)), float64(keep+d/2)), d))
		if m.away(b.middle) >= float64(keep+d/2)-0.5 && m.fits(b) {
			m.stand(b)
			m.name("dot")
			m.writeFeature(name, layer, net, d, 0, b.middle)
			return
		}
	}
}

// fences stitches along some sides, wherever a via has room.
func (m *maker) fences() {
	if m.chance(3) {
		return
	}
	hole := m.between(200_000, 400_000)
	net, name, land := pick(m, "GND", "GND", "V5"), fmt.Sprintf("stitch%d", m.names["stitch"]+1), ""
	across := hole
	if m.chance(2) {
		across = hole + m.between(150_000, 300_000)
		land = "land " + m.size(across)
		if m.chance(2) {
			land += " added"
		}
	}
	keep := m.min("fence_inset") + (hole+1)/2
	for _, w := range m.walls {
		if w.net != net {
			keep = max(keep, max(w.wrap[0], w.wrap[1])+m.min("wrap_clearance")+(across+1)/2, m.min("inner_clearance")+(hole+1)/2, w.reach+(across+1)/2+10_000)
		}
	}
	keep = max(keep, m.min("edge_clearance_outer")+(across+1)/2)
	inset := keep + pick(m, 0, m.between(0, millimetre), m.between(0, 3*millimetre))
	pitch := m.between(1_200_000, 3*millimetre)
	var along []string
	for _, s := range m.sides {
		if (s.arc && !s.closed) || along != nil && m.chance(3) {
			continue
		}
		from := max(s.low, inset) + m.between(0, pitch)
		to := s.high - inset
		var start int64 = -1
		for at := from; ; at += pitch {
			middle := s.point(float64(at), float64(inset))
			via, pad := disc(name, net, throughAll, middle, hole), disc(name, net, onTop|onBottom, middle, across)
			via.copper, via.drill, pad.copper = true, true, true
			fits := at <= to && m.clear(middle) >= float64(keep)-0.5 && m.fits(via, pad)
			if fits {
				m.stand(via, pad)
				if start < 0 {
					start = at
				}
				continue
			}
			if start >= 0 {
				along = append(along, fmt.Sprintf("along %s from %s to %s", s.name, m.size(start), m.size(at-pitch)))
			}
			if start = -1; at > to {
				break
			}
		}
	}
	if along == nil {
		return
	}
	m.fencePitch = pitch
	m.say("fence "+m.name("stitch"), append(along, "inset "+m.size(inset), "pitch "+m.size(pitch), "hole "+m.size(hole), land, m.fenceClearance(), "net "+net)...)
}

// fenceClearance is a clearance that no via of a clean fence comes near to, for some of them.
func (m *maker) fenceClearance() string {
	if m.chance(2) {
		return ""
	}
	return "clearance 0.05 mm"
}

// drilled puts holes where they have room, some with a land.
func (m *maker) drilled() {
	for range m.r.IntN(4) {
		d := m.between(800_000, 3_200_000)
		name, net, land := fmt.Sprintf("post%d", m.names["post"]+1), pick(m, "GND", "GND", "V5", "", "-"), int64(0)
		keep := m.min("hole_edge")
		for _, w := range m.walls {
			wrap := max(w.wrap[0], w.wrap[1])
			keep = max(keep, wrap+m.min("edge_clearance_outer"), wrap+m.min("edge_clearance_inner"), wrap+m.min("wrap_clearance"), m.min("inner_clearance"), w.reach+10_000)
		}
		if net != "-" && m.chance(2) {
			land = d + m.between(300_000, 1_200_000)
		}
		what := func(at dot) []blob {
			b := disc(name, net, throughAll, at, d)
			b.drill, b.bare, b.copper = true, net == "-", net != "-"
			list := []blob{b}
			if land > 0 {
				list = append(list, m.copperOf(disc(name, net, onTop|onBottom, at, land)))
			}
			return list
		}
		if at, ok := m.place(float64(max(keep+(d+1)/2, m.keepOff+(land+1)/2)), what); ok {
			m.name("post")
			m.writeHole(name, net, d, land, at)
		}
	}
}

func (m *maker) writeHole(name, net string, d, land int64, at dot) {
	kind, round := "unplated", ""
	if net != "-" {
		kind = "plated"
	}
	if land > 0 {
		round = "land " + m.size(land)
	}
	if net == "-" || net == "" {
		net = ""
	} else {
		net = "net " + net
	}
	m.say("hole "+name, "diameter "+m.size(d), "at "+m.dot(at), kind, round, net)
}

// agreedPair puts two features nearer to each other than they may come, and
// says that this was agreed.
func (m *maker) agreedPair() {
	if !m.chance(5) {
		return
	}
	first, second := fmt.Sprintf("part%d", m.names["part"]+1), fmt.Sprintf("part%d", m.names["part"]+2)
	const apart = 80_000
	what := func(d dot) []blob {
		a, b := m.copperOf(oblong(first, "V5", onTop, d, dot{1, 0}, millimetre, millimetre)), m.copperOf(oblong(first, "SENSE", onTop, d, dot{1, 0}, millimetre, millimetre))
		b.middle.y += float64(millimetre + apart)
		return []blob{a, b}
	}
	at, ok := m.place(float64(m.keepOff)+3e6, what)
	if !ok {
		return
	}
	m.names["part"] += 2
	m.writeFeature(first, "top", "V5", millimetre, millimetre, at)
	at.y += float64(millimetre + apart)
	m.writeFeature(second, "top", "SENSE", millimetre, millimetre, at)
	if m.chance(2) {
		first, second = second, first
	}
	m.say("accept copper_clearance", "on "+first, "with "+second, "because \"5 V, and the mask lies between\"")
}
