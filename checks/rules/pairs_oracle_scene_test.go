//go:build !race

package rules

import (
	"math"
	"slices"
	"strings"
)

// scenes are pairs that luck would seldom lay: each places all that the pair
// needs, at a distance about what it is held to. One that a board or an edge has
// no place for tells so, and a recipe is laid instead.
var scenes = []struct {
	name string
	lay  func(l *layer, f edgeFrame, u float64) bool
}{
	{"run run", opposite("run", "run", "in", "")}, {"run strip", opposite("run", "strip", "in", "inner_clearance")}, {"strip run", opposite("strip", "run", "in", "inner_clearance")},
	{"strip strip", opposite("strip", "strip", "in", "inner_clearance")}, {"strip strip", opposite("strip", "strip", "in", "inner_clearance")}, {"strip strip", opposite("strip", "strip", "in", "inner_clearance")}, {"strip strip", opposite("strip", "strip", "in", "inner_clearance")}, {"run wall", opposite("run", "wall", "in", "inner_clearance")}, {"wall run", opposite("wall", "run", "in", "inner_clearance")},
	{"strip wall", opposite("strip", "wall", "in", "inner_clearance")}, {"wall strip", opposite("wall", "strip", "in", "inner_clearance")},
	{"wall wall", opposite("wall", "wall", "in", "inner_clearance")}, {"wrap wrap", opposite("wrap", "wrap", "top", "wrap_clearance")},
	{"run wrap", opposite("run", "wrap", "top", "wrap_clearance")}, {"wrap run", opposite("wrap", "run", "top", "wrap_clearance")},
	{"run opening", opposite("run", "opening", "top", "")}, {"opening run", opposite("opening", "run", "top", "")},
	{"strip edge", opposite("strip", "edge", "in", "edge_clearance_inner")}, {"edge strip", opposite("edge", "strip", "in", "edge_clearance_inner")},
	{"barrel strip", opposite("barrel", "strip", "in", "inner_clearance")}, {"barrel opening", opposite("barrel", "opening", "top", "")}, {"barrel wrap", opposite("barrel", "wrap", "top", "wrap_clearance")},
	{"barrel opening", opposite("barrel", "opening", "top", "")}, {"pin wall", opposite("pin", "wall", "top", "")},
	{"pin wrap", opposite("pin", "wrap", "top", "launch_clearance")},
	{"strip feature", before("strip", "inner", "inner_clearance")}, {"wall feature", before("wall", "inner", "inner_clearance")},
	{"strip via", before("strip", "via", "inner_clearance")}, {"strip hole", before("strip", "plated", "inner_clearance")},
	{"strip feature", before("strip", "inner", "inner_clearance")}, {"body on two walls", bodyOnWalls}, {"body on two walls", bodyOnWalls},
	{"plane strip", planeByStrip}, {"body on two walls", bodyOnWalls}, {"body at an end", bodyAtEnd}, {"pins", narrowPins},
	{"strip drilled", before("strip", "drilled", "edge_clearance_inner")}, {"strip drilled", before("strip", "drilled", "edge_clearance_inner")},
	{"holes of two tabs", tabsAcrossNeck}, {"holes of two tabs", tabsAcrossNeck}, {"holes of two tabs", tabsAcrossNeck}, {"holes of two tabs", tabsAcrossNeck},
	{"wall feature", before("wall", "inner", "inner_clearance")}, {"holes of two tabs", tabsAcrossNeck}, {"run run", opposite("run", "run", "in", "")},
	{"strip drilled", before("strip", "drilled", "edge_clearance_inner")},
	{"land at an end", padAtEnd("land")}, {"pin at an end", padAtEnd("pin")},
	{"unjoined feature", before("unjoined", "inner", "edge_clearance_inner")}, {"unjoined feature", before("unjoined", "inner", "edge_clearance_inner")},
	{"unjoined feature", before("unjoined", "inner", "edge_clearance_inner")}, {"unjoined plane", planeByUnjoined}, {"unjoined plane", planeByUnjoined}, {"unjoined plane", planeByUnjoined},
	{"strip tab", stripByTab}, {"strip tab", stripByTab}, {"strip tab", stripByTab},
}

// scene lays the next of the scenes.
func (l *layer) scene(f edgeFrame, u float64) bool {
	s := scenes[l.staged%len(scenes)]
	l.staged++
	return s.lay(l, f, u)
}

// facingSide is one of two platings that face each other.
type facingSide struct {
	kind   string
	net    string
	layer  string
	layers []string
	wrap   [2]float64
	deep   float64 // how far from its wall it reaches
	pull   float64
}

// nets are two different ones.
func (l *layer) nets() (string, string) {
	list := []string{"A", "B", "C"}
	l.rnd.Shuffle(3, func(i, j int) { list[i], list[j] = list[j], list[i] })
	return list[0], list[1]
}

// plane is what the plane of a net on a layer keeps off the edges; where there is
// none yet, one is laid.
func (l *layer) plane(name, net string, pull float64) float64 {
	for _, p := range l.Planes {
		if p.Layer == name && p.Net == net {
			return p.Pullback
		}
	}
	l.Planes = append(l.Planes, laidPlane{Layer: name, Net: net, Pullback: pull})
	return pull
}

func (l *layer) hasPlane(name, net string) bool {
	return slices.ContainsFunc(l.Planes, func(p laidPlane) bool { return p.Layer == name && p.Net == net })
}

// side draws what a kind of plating is like.
func (l *layer) side(kind, net, on string, most float64) (facingSide, bool) {
	s := facingSide{kind: kind, net: net, layer: on, wrap: [2]float64{l.between(0.3, 1.4), l.between(0.3, 1.4)}}
	switch kind {
	case "wrap":
		s.deep = s.wrap[0]
	case "opening":
		s.deep = l.between(0.4, 1.5)
	case "strip":
		if l.hasPlane(on, net) {
			return s, false
		}
		s.layers, s.deep = []string{on}, 0.3
	case "unjoined": // it says which layers it joins: outer ones
		s.layers = []string{l.Layers[0], l.Layers[len(l.Layers)-1]}
	case "run":
		s.pull = l.plane(on, net, l.between(0.15, most))
		s.deep = s.pull
		s.wrap = [2]float64{whole(max(0.3, s.pull-0.3)), whole(max(0.3, s.pull-0.3))}
	}
	return s, true
}

// wallOf states a plating of its own for a side.
func (l *layer) wallOf(s facingSide) string {
	l.first()
	p := laidPlating{Name: l.name("p"), Net: s.net, Wrap: s.wrap, Layers: s.layers}
	l.Platings = append(l.Platings, p)
	return p.Name
}

// opposite lays a on the edge and a plated cutout with b in front of it.
func opposite(a, b, on, limit string) func(*layer, edgeFrame, float64) bool {
	return func(l *layer, f edgeFrame, u float64) bool {
		face := on
		if on == "in" {
			if len(l.inner) == 0 {
				return false
			}
			face = l.inner[l.rnd.IntN(2)]
		}
		need := 0.0
		if limit != "" {
			need = l.limit(limit)
		}
		most := 0.9
		if a == "run" || b == "run" { // it keeps its pullback from the other wall too
			most = min(0.9, max(need, 0.3)-0.02)
			if on == "top" {
				most = 0.7
			}
		}
		one, two := l.nets()
		x, ok := l.side(a, one, face, most)
		y, ok2 := l.side(b, two, face, most)
		if !ok || !ok2 || f.c != nil && (a == "strip" || b == "strip" || a == "run" || b == "run") && l.chance(0.5) {
			return false
		}
		stand, deep := l.standing(x, f, u)
		if deep == 0 && stand == nil {
			deep = x.deep
		}
		d := need + deep + y.deep + l.between(-0.22, 0.24)
		if a == "run" && b == "wrap" || a == "wrap" && b == "run" || a == "run" && b == "opening" || a == "opening" && b == "run" {
			d = max(d, 2*max(x.pull, y.pull)+0.01)
		}
		if d < 0.1 {
			d = l.between(0.1, 0.3)
		}
		if limit == "edge_clearance_inner" { // nearer than what the wraps are held to
			x.wrap, y.wrap = [2]float64{0.3, 0.3}, [2]float64{0.3, 0.3}
		}
		// Whether the cutout fits is known before anything is laid.
		count := len(l.Profiles)
		l.bareCut = true
		l.putCutout(f, l.front(u, whole(d)))
		l.bareCut = false
		if len(l.Profiles) == count {
			return false
		}
		if stand == nil {
			if a != "edge" {
				h := l.between(1.6, 2.6)
				p := l.wallOf(x)
				l.plate(p, laidStretch{Edge: f.name, From: whole(max(u-h, f.lo+0.05)), To: whole(min(u+h, f.hi-0.05))})
				if a == "opening" {
					l.relieve(p, x.deep)
				}
			}
		} else {
			stand()
		}
		if b == "edge" {
			return true
		}
		p := l.wallOf(y)
		for _, e := range frames(l.Profiles[count], 1, 0) {
			l.plate(p, laidStretch{Edge: e.name, Whole: true})
		}
		if b == "opening" {
			l.relieve(p, y.deep)
		}
		return true
	}
}

// standing is what stands on the edge where no plating does: how it is laid and
// how far in it reaches.
func (l *layer) standing(x facingSide, f edgeFrame, u float64) (func(), float64) {
	switch x.kind {
	case "barrel":
		c := laidHalfHoles{Name: l.name("h"), Edge: f.name, Round: f.round, At: []float64{u}, D: l.between(0.6, 1), Nets: []string{x.net}}
		c.W, c.L = whole(c.D*0.6), whole(c.D*0.3)
		return func() { l.castellation(c, 0) }, c.D / 2
	case "pin":
		c := laidConnector{Name: l.name("k"), Edge: f.name, At: u, Body: l.between(1, 3), Net: x.net, Round: f.round,
			Pins: []laidPin{{"top", l.between(0.6, 1.4), l.between(1, 2)}}}
		return func() { l.connector(c) }, c.Pins[0].L
	}
	return nil, 0
}

// relieve takes the mask off a plating so far on top.
func (l *layer) relieve(over string, reach float64) {
	r := laidRelief{Name: l.name("r"), Over: over, Faces: []string{"top"}, Reach: reach}
	l.Reliefs = append(l.Reliefs, r)
	l.say("relief %s over %s on top reach %s", r.Name, over, mm(reach))
}

// front is a middle for what lies v in from the edge at its nearest.
func (l *layer) front(u, v float64) func(w, deep float64) (float64, float64) {
	return func(w, deep float64) (float64, float64) { return whole(u), whole(v + deep/2) }
}

// before lays a thing in front of a wall, with a strip or without.
func before(a, b, limit string) func(*layer, edgeFrame, float64) bool {
	return func(l *layer, f edgeFrame, u float64) bool {
		if len(l.inner) == 0 {
			return false
		}
		one, two := l.nets()
		on := l.inner[l.rnd.IntN(2)]
		x, ok := l.side(a, one, on, 0)
		if !ok {
			return false
		}
		if b == "drilled" { // nearer than what the wraps are held to
			x.wrap = [2]float64{0.3, 0.3}
		}
		if a == "unjoined" {
			two = one
		}
		h := l.between(1.6, 2.6)
		l.plate(l.wallOf(x), laidStretch{Edge: f.name, From: whole(max(u-h, f.lo+0.05)), To: whole(min(u+h, f.hi-0.05))})
		d := l.limit(limit) + x.deep + l.between(-0.22, 0.24)
		l.stated, l.layerOf = &two, on
		l.put(b, f, u, d, extent{v0: 1})
		l.stated, l.layerOf = nil, ""
		return true
	}
}

// stripByTab is a tab with one hole that a wall with a strip is plated over.
func stripByTab(l *layer, f edgeFrame, u float64) bool {
	const hole = 0.6
	w := whole(hole + 2*(l.limit("edge_clearance_inner")+l.between(-0.2, 0.24)))
	if len(l.inner) == 0 || l.inside && f.profile == 0 || u-w/2-1 < f.lo || u+w/2+1 > f.hi {
		return false
	}
	net, _ := l.nets()
	x, ok := l.side("strip", net, l.inner[l.rnd.IntN(2)], 0)
	if !ok {
		return false
	}
	l.plate(l.wallOf(x), laidStretch{Edge: f.name, From: whole(u - w/2 - 0.9), To: whole(u + w/2 + 0.9)})
	t := laidTab{Name: l.name("t"), Edge: f.name, At: u, W: w, Pre: true, Perf: &laidPerforation{D: hole, P: 9, Inset: l.between(0, 0.3)}}
	l.say("tab %s on %s at %s width %s perforated hole %s pitch %s inset %s premetallised", t.Name, t.Edge, mm(t.At), mm(t.W), mm(hole), mm(9), mm(t.Perf.Inset))
	l.Tabs = append(l.Tabs, t)
	return true
}

// planeByStrip is a strip and a plane of another net on its layer.
func planeByStrip(l *layer, f edgeFrame, u float64) bool {
	if len(l.inner) == 0 {
		return false
	}
	one, two := l.nets()
	on := l.inner[l.rnd.IntN(2)]
	x, ok := l.side("strip", one, on, 0)
	if !ok || slices.ContainsFunc(l.Planes, func(p laidPlane) bool { return p.Layer == on }) {
		return false
	}
	l.plane(on, two, whole(0.3+l.limit("inner_clearance")+l.between(-0.2, 0.24)))
	h := l.between(1.6, 2.6)
	l.plate(l.wallOf(x), laidStretch{Edge: f.name, From: whole(max(u-h, f.lo+0.05)), To: whole(min(u+h, f.hi-0.05))})
	return true
}

// planeByUnjoined is a plane and a wall of its net that does not join it.
func planeByUnjoined(l *layer, f edgeFrame, u float64) bool {
	if len(l.inner) == 0 {
		return false
	}
	net, _ := l.nets()
	on := l.inner[l.rnd.IntN(2)]
	x, ok := l.side("unjoined", net, on, 0)
	if !ok || slices.ContainsFunc(l.Planes, func(p laidPlane) bool { return p.Layer == on }) {
		return false
	}
	l.plane(on, net, whole(l.limit("edge_clearance_inner")+l.between(-0.2, 0.24)))
	h := l.between(1.6, 2.6)
	l.plate(l.wallOf(x), laidStretch{Edge: f.name, From: whole(max(u-h, f.lo+0.05)), To: whole(min(u+h, f.hi-0.05))})
	return true
}

// tabsAcrossNeck are two tabs with one hole each, on an edge and on a cutout in
// front of it.
func tabsAcrossNeck(l *layer, f edgeFrame, u float64) bool {
	if f.c != nil || l.inside || u-3 < f.lo || u+3 > f.hi {
		return false
	}
	const hole = 0.8
	count := len(l.Profiles)
	l.bareCut = true
	l.putCutout(f, l.front(u, whole(hole+l.limit("hole_web")+l.between(-0.25, 0.2))))
	l.bareCut = false
	if len(l.Profiles) == count {
		return false
	}
	tab := func(edge string, at float64) {
		t := laidTab{Name: l.name("t"), Edge: edge, At: at, W: 1.5, Perf: &laidPerforation{D: hole, P: 2}}
		l.say("tab %s on %s at %s width %s perforated hole %s pitch %s", t.Name, edge, mm(at), mm(t.W), mm(hole), mm(2))
		l.Tabs = append(l.Tabs, t)
	}
	tab(f.name, u)
	for _, e := range frames(l.Profiles[count], 1, 0) {
		if e.hi-e.lo > 1.6 {
			tab(e.name, whole((e.lo+e.hi)/2))
		}
	}
	return true
}

// bodyOnWalls is a connector between two walls of two nets, on one or both.
func bodyOnWalls(l *layer, f edgeFrame, u float64) bool {
	one, two := l.nets()
	c := laidConnector{Name: l.name("k"), Edge: f.name, At: u, Body: l.between(3, 4.5), Net: one, Round: f.round,
		Pins: []laidPin{{"top", l.between(0.6, 1.2), l.between(1, 2)}}}
	if l.chance(0.5) {
		c.Reach = l.between(1, 3)
	}
	if u-5 < f.lo || u+5 > f.hi {
		return false
	}
	x, _ := l.side("wall", one, "", 0)
	y, _ := l.side("wall", two, "", 0)
	from, to := whole(u-c.Body/2+l.between(0.05, 0.4)), whole(u+c.Body/2-l.between(-0.3, 0.3))
	if l.chance(0.5) {
		from, to = whole(2*u-to), whole(2*u-from)
	}
	l.plate(l.wallOf(x), laidStretch{Edge: f.name, From: whole(u - 4.5), To: from})
	l.plate(l.wallOf(y), laidStretch{Edge: f.name, From: to, To: whole(u + 4.5)})
	l.connector(c)
	return true
}

// bodyAtEnd is a connector near the end of its edge.
func bodyAtEnd(l *layer, f edgeFrame, _ float64) bool {
	if strings.HasSuffix(f.name, "rim") || f.hi-f.lo < 8 {
		return false
	}
	c := laidConnector{Name: l.name("k"), Edge: f.name, Body: l.between(3, 5), Net: l.net(), Round: f.round,
		Pins: []laidPin{{"top", l.between(0.6, 1.2), l.between(1, 2)}}}
	d := c.Body/2 + l.between(-0.3, 0.3)
	if c.At = whole(f.lo + d); l.chance(0.5) {
		c.At = whole(f.hi - d)
	}
	l.connector(c)
	return true
}

// narrowPins are two connectors whose pins are wider than their bodies.
func narrowPins(l *layer, f edgeFrame, u float64) bool {
	faces := []string{"top", "bottom"}[l.rnd.IntN(2)]
	a := laidConnector{Name: l.name("k"), Edge: f.name, At: u, Body: 0.4, Net: l.net(), Round: f.round, Pins: []laidPin{{faces, l.between(0.8, 1.4), l.between(1, 3)}}}
	b := laidConnector{Name: l.name("k"), Edge: f.name, Body: 0.4, Net: l.net(), Round: f.round, Pins: []laidPin{{faces, l.between(0.8, 1.4), l.between(1, 3)}}}
	b.At = whole(u + (a.Pins[0].W+b.Pins[0].W)/2 + l.between(-0.2, 0.2))
	if b.At+1 > f.hi {
		return false
	}
	l.connector(a)
	l.connector(b)
	return true
}

// padAtEnd is a half hole or a pin near the end of its edge, where another edge
// meets it, or a cutout in front of it.
func padAtEnd(kind string) func(*layer, edgeFrame, float64) bool {
	return func(l *layer, f edgeFrame, _ float64) bool {
		if f.c != nil || f.hi-f.lo < 6 {
			return false
		}
		w, long := l.between(0.8, 1.6), l.between(0.9, 2)
		d := w/2 + l.limit("edge_clearance_outer") + l.between(-0.2, 0.24) - f.round
		at := whole(max(f.lo, f.lo+d))
		if l.chance(0.5) {
			at = whole(min(f.hi, f.hi-d))
		}
		if kind == "land" {
			l.castellation(laidHalfHoles{Name: l.name("h"), Edge: f.name, Round: f.round, At: []float64{at}, D: whole(w - 0.2), W: w, L: long, Nets: []string{"A"}}, 0)
			return true
		}
		l.connector(laidConnector{Name: l.name("k"), Edge: f.name, At: at, Body: whole(w - 0.2), Net: l.net(), Round: f.round, Pins: []laidPin{{"top", w, long}}})
		return true
	}
}

// clear tells whether a cutout keeps off every profile, by at least about least.
func (l *layer) clear(p laidProfile, least float64) bool {
	mine := dots(p)
	for i, q := range l.Profiles {
		if len(l.dots) <= i {
			l.dots = append(l.dots, dots(q))
		}
		if within(mine[0], l.dots[i]) != (i == 0) || i > 0 && within(l.dots[i][0], mine) {
			return false
		}
		for _, a := range mine {
			for _, b := range l.dots[i] {
				if math.Abs(a[0]-b[0]) < least && math.Abs(a[1]-b[1]) < least && math.Hypot(a[0]-b[0], a[1]-b[1]) < least {
					return false
				}
			}
		}
	}
	return true
}

// dots are points all along a profile, some tenths of a millimetre apart.
func dots(p laidProfile) []xy {
	const step = 0.2
	var list []xy
	for _, s := range p.Segs {
		if s.C == nil {
			n := int(math.Hypot(s.Q[0]-s.P[0], s.Q[1]-s.P[1])/step) + 1
			for i := range n {
				k := float64(i) / float64(n)
				list = append(list, xy{s.P[0] + (s.Q[0]-s.P[0])*k, s.P[1] + (s.Q[1]-s.P[1])*k})
			}
			continue
		}
		r, a := math.Hypot(s.P[0]-s.C[0], s.P[1]-s.C[1]), math.Atan2(s.P[1]-s.C[1], s.P[0]-s.C[0])
		turn := math.Mod(math.Atan2(s.Q[1]-s.C[1], s.Q[0]-s.C[0])-a+4*math.Pi, 2*math.Pi)
		if s.CW {
			turn -= 2 * math.Pi
		}
		n := int(math.Abs(turn)*r/step) + 1
		for i := range n {
			k := a + turn*float64(i)/float64(n)
			list = append(list, xy{s.C[0] + r*math.Cos(k), s.C[1] + r*math.Sin(k)})
		}
	}
	return list
}

// within tells whether a point lies inside a polygon.
func within(p xy, ring []xy) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(b[0]-a[0])*(p[1]-a[1])/(b[1]-a[1]) {
			in = !in
		}
	}
	return in
}
