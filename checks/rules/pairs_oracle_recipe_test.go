//go:build !race

package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// recipes are the pairs that are laid, in turn, and what they are held to, by
// and large: the distance at which they are laid is about that. With an
// exclamation mark they are of two nets and lie straight in front of each other.
var recipes = []struct {
	a, b string
	need string
}{
	{"wall", "wall", "gap_width"}, {"wall", "barrel", "gap_width"}, {"wall", "land", "wrap_clearance"},
	{"wall", "pin", "launch_clearance"}, {"wall", "pin", ""}, {"wall", "body", ""}, {"wall", "tab", "tab_gap"}, {"wall", "tab", ""},
	{"wall", "feature", "wrap_clearance"}, {"wall", "inner", "inner_clearance"}, {"wall", "via", "wrap_clearance"},
	{"wall", "via", "fence_inset"}, {"wall", "pad", "wrap_clearance"}, {"wall", "plated", "wrap_clearance"}, {"wall", "ring", "wrap_clearance"},
	{"wall", "drilled", "hole_edge"}, {"wall", "cutout", ""}, {"wall", "cutout", "wrap_clearance"}, {"wall", "cutout", "neck"},
	{"opening", "feature", ""}, {"opening", "via", ""}, {"opening", "pad", ""}, {"opening", "ring", ""}, {"opening", "plated", ""}, {"opening", "pin", ""},
	{"opening", "land", ""}, {"opening", "wall", ""}, {"opening", "feature", "mask_web"}, {"opening", "ring", "mask_web"}, {"opening", "opening", "mask_web"},
	{"barrel", "barrel", "castellation_spacing"}, {"barrel", "land", "copper_clearance"}, {"land", "land", "copper_clearance"},
	{"barrel", "pin", "copper_clearance"}, {"land", "pin", "copper_clearance"}, {"barrel", "body", ""}, {"land", "body", ""},
	{"barrel", "tab", "tab_gap"}, {"land", "tab", "tab_gap"}, {"barrel", "feature", "copper_clearance"}, {"land", "feature", "copper_clearance"},
	{"barrel", "inner", "copper_clearance"}, {"barrel", "via", "copper_clearance"}, {"barrel", "via", "hole_web"}, {"land", "via", "copper_clearance"},
	{"barrel", "pad", "copper_clearance"}, {"land", "pad", "copper_clearance"}, {"barrel", "plated", "copper_clearance"}, {"barrel", "plated", "hole_web"},
	{"land", "plated", "copper_clearance"}, {"barrel", "ring", "copper_clearance"}, {"land", "ring", "copper_clearance"},
	{"barrel", "drilled", "hole_web"}, {"land", "drilled", "edge_clearance_outer"}, {"land", "cutout", "edge_clearance_outer"},
	{"pin", "pin", "copper_clearance"}, {"pin", "pin", ""}, {"pin", "body", ""}, {"pin", "feature", "copper_clearance"}, {"pin", "via", "copper_clearance"},
	{"pin", "pad", "copper_clearance"}, {"pin", "plated", "copper_clearance"}, {"pin", "ring", "copper_clearance"}, {"pin", "drilled", "edge_clearance_outer"},
	{"pin", "cutout", "edge_clearance_outer"}, {"body", "body", "body_clearance"}, {"body", "tab", "tab_connector"}, {"body", "feature", ""},
	{"tab", "tab", "router_bit"}, {"perf", "feature", "edge_clearance_outer"}, {"perf", "via", "edge_clearance_inner"}, {"perf", "pad", "edge_clearance_outer"},
	{"perf", "ring", "edge_clearance_outer"}, {"perf", "plated", "hole_web"}, {"perf", "drilled", "hole_web"}, {"perf", "via", "hole_web"}, {"perf", "cutout", "hole_web"},
	{"perf", "land", "edge_clearance_outer"}, {"perf", "pin", "edge_clearance_outer"},
	{"edge", "feature", "edge_clearance_outer"}, {"edge", "inner", "edge_clearance_inner"}, {"edge", "via", "fence_inset"}, {"edge", "plated", "hole_edge"},
	{"edge", "ring", "edge_clearance_outer"}, {"edge", "pad", "edge_clearance_outer"}, {"edge", "drilled", "hole_edge"}, {"edge", "cutout", "neck"},
	{"feature", "feature", "copper_clearance"}, {"feature", "via", "copper_clearance"}, {"feature", "pad", "copper_clearance"}, {"feature", "plated", "copper_clearance"},
	{"feature", "ring", "copper_clearance"}, {"feature", "drilled", "edge_clearance_outer"}, {"inner", "drilled", "edge_clearance_inner"}, {"feature", "cutout", "edge_clearance_outer"},
	{"feature", "feature", "mask_web"}, {"feature", "ring", "mask_web"}, {"ring", "ring", "mask_web"}, {"inner", "inner", "copper_clearance"}, {"inner", "via", "copper_clearance"},
	{"via", "via", "hole_web"}, {"via", "via", "copper_clearance"}, {"via", "pad", "copper_clearance"}, {"pad", "pad", "copper_clearance"},
	{"via", "plated", "hole_web"}, {"via", "plated", "copper_clearance"}, {"pad", "plated", "copper_clearance"}, {"via", "ring", "copper_clearance"}, {"pad", "ring", "copper_clearance"},
	{"via", "drilled", "hole_web"}, {"via", "drilled", "edge_clearance_outer"}, {"pad", "drilled", "edge_clearance_outer"}, {"ring", "drilled", "edge_clearance_outer"},
	{"via", "cutout", "fence_inset"}, {"plated", "cutout", "hole_edge"}, {"drilled", "cutout", "hole_edge"}, {"ring", "cutout", "edge_clearance_outer"}, {"pad", "cutout", "edge_clearance_outer"},
	{"plated", "plated", "hole_web"}, {"plated", "plated", "copper_clearance"}, {"plated", "ring", "copper_clearance"}, {"ring", "ring", "copper_clearance"},
	{"plated", "drilled", "hole_web"}, {"drilled", "drilled", "hole_web"}, {"cutout", "cutout", "neck"},
	// What luck lays seldom, or seldom near enough.
	{"barrel", "pad", "copper_clearance!"}, {"barrel", "plated", "copper_clearance!"}, {"barrel", "ring", "copper_clearance!"},
	{"barrel", "via", "copper_clearance!"}, {"barrel", "feature", "copper_clearance!"}, {"plated", "plated", "copper_clearance!"},
	{"via", "plated", "copper_clearance!"}, {"via", "via", "copper_clearance!"}, {"via", "pad", "copper_clearance!"},
	{"via", "ring", "copper_clearance!"}, {"land", "plated", "copper_clearance!"}, {"land", "via", "copper_clearance!"},
	{"land", "pad", "copper_clearance!"}, {"feature", "plated", "copper_clearance!"}, {"feature", "feature", "copper_clearance!"},
	{"feature", "pad", "copper_clearance!"}, {"feature", "via", "copper_clearance!"}, {"feature", "ring", "copper_clearance!"},
	{"pin", "feature", "copper_clearance!"}, {"pin", "via", "copper_clearance!"}, {"pin", "plated", "copper_clearance!"},
	{"pin", "pad", "copper_clearance!"}, {"pin", "ring", "copper_clearance!"}, {"pad", "pad", "copper_clearance!"},
	{"pad", "plated", "copper_clearance!"}, {"pad", "ring", "copper_clearance!"}, {"plated", "ring", "copper_clearance!"},
	{"land", "feature", "copper_clearance!"}, {"barrel", "pin", "copper_clearance!"}, {"barrel", "land", "copper_clearance!"},
	{"pad", "drilled", "edge_clearance_outer!"}, {"ring", "drilled", "edge_clearance_outer!"}, {"pin", "drilled", "edge_clearance_outer!"},
	{"feature", "drilled", "edge_clearance_outer!"}, {"land", "cutout", "edge_clearance_outer!"}, {"barrel", "drilled", "hole_web!"},
	{"perf", "cutout", "hole_web!"}, {"perf", "cutout", "hole_web!"}, {"perf", "plated", "hole_web!"}, {"perf", "drilled", "hole_web!"},
	{"plated", "drilled", "hole_web!"}, {"drilled", "drilled", "hole_web!"}, {"perf", "via", "hole_web!"}, {"barrel", "tab", "tab_gap"},
	{"land", "cutout", "!"}, {"pin", "cutout", "!"}, {"perf", "feature", "edge_clearance_outer!"}, {"perf", "pad", "edge_clearance_outer!"},
	{"body", "feature", "!"}, {"wall", "drilled", "hole_edge!"}, {"opening", "opening", "mask_web"}, {"tab", "tab", "router_bit"},
	{"tab", "tab", "router_bit"}, {"body", "tab", "tab_connector"}, {"perf", "pin", "edge_clearance_outer"}, {"cutout", "cutout", "neck!"},
	{"barrel", "plated", "copper_clearance!"}, {"barrel", "via", "copper_clearance!"}, {"feature", "plated", "copper_clearance!"},
	{"plated", "plated", "copper_clearance!"}, {"via", "plated", "copper_clearance!"}, {"via", "via", "copper_clearance!"},
	{"pin", "plated", "copper_clearance!"}, {"pin", "via", "copper_clearance!"}, {"barrel", "land", "copper_clearance!"},
	{"feature", "feature", "copper_clearance!"}, {"land", "ring", "copper_clearance!"}, {"land", "via", "copper_clearance!"},
	{"pad", "drilled", "edge_clearance_outer!"}, {"land", "drilled", "edge_clearance_outer!"}, {"perf", "ring", "edge_clearance_outer!"},
	{"perf", "land", "edge_clearance_outer"}, {"perf", "feature", "edge_clearance_outer!"}, {"land", "cutout", "!"}, {"opening", "plated", "!"},
	{"opening", "feature", "!"}, {"wall", "drilled", "hole_edge!"}, {"edge", "ring", "edge_clearance_outer"}, {"edge", "ring", "edge_clearance_outer"},
	{"edge", "feature", "edge_clearance_outer"}, {"opening", "opening", "mask_web"}, {"drilled", "drilled", "hole_web!"},
	{"pin", "pin", "copper_clearance"},
	{"barrel", "pin", "copper_clearance!"}, {"perf", "drilled", "hole_web!"}, {"via", "via", "copper_clearance!"}, {"ring", "drilled", "edge_clearance_outer!"},
	{"cutout", "cutout", ""}, {"edge", "cutout", ""}, // the crossings
}

// crossCutouts are laid on the few boards where cutouts may cross.
var crossCutouts = recipes[len(recipes)-2:]

var onEdges = []string{"wall", "opening", "barrel", "land", "pin", "body", "tab", "perf"}

// site lays the next recipe at a place.
func (l *layer) site(f edgeFrame, u float64, whole bool) {
	if !whole && l.chance(0.35) && l.scene(f, u) {
		return
	}
	r := recipes[l.pair%len(recipes)]
	l.pair++
	if l.crossed && l.chance(0.4) {
		r = crossCutouts[l.rnd.IntN(len(crossCutouts))]
	}
	d := l.between(-0.25, 0.25)
	need, exact := strings.CutSuffix(r.need, "!")
	if need != "" {
		d += l.limit(need)
	}
	one, two := l.nets()
	if exact {
		l.stated, l.layerOf = &one, l.Layers[0]
		defer func() { l.stated, l.layerOf = nil, "" }()
	}
	var a extent
	switch {
	case whole && (r.a == "wall" || r.a == "opening"):
		// The wall is there; a gap ends it.
		to := min(u+l.between(4, 7), f.hi)
		if f.c == nil || to < f.hi {
			l.gap(laidStretch{Edge: f.name, From: u, To: whole3(to)})
		}
		p := l.Platings[0]
		a = extent{u - 3, u, 0, p.Wrap[l.rnd.IntN(2)]}
		if r.a == "opening" && !slices.ContainsFunc(l.Reliefs, func(x laidRelief) bool { return x.Over == p.Name }) {
			e := l.relief(p.Name, a.v1)
			a.u1, a.v1 = a.u1+e.u1, e.v1
		}
	case whole && l.chance(0.85):
		gap := laidStretch{Edge: f.name, From: whole3(max(u-5, f.lo)), To: whole3(min(u+5, f.hi))}
		if n := len(l.Connectors); (r.a == "pin" || r.a == "body") && l.chance(0.8) {
			// For the connector that is laid next, or one that stands elsewhere.
			gap.For = fmt.Sprintf("k%d", l.count["k"]+1)
			if n > 0 && l.chance(0.5) {
				gap.For = l.Connectors[l.rnd.IntN(n)].Name
			}
		}
		if n := len(l.Tabs); (r.a == "tab" || r.a == "perf") && l.chance(0.7) {
			if n > 0 && l.chance(0.5) {
				gap.For = l.Tabs[l.rnd.IntN(n)].Name
			} else if !l.inside && f.hi-f.lo > 4 {
				gap.For = fmt.Sprintf("t%d", l.count["t"]+1)
			}
		}
		gap.Bridged = gap.For == "" && l.chance(0.2) || gap.For == fmt.Sprintf("k%d", l.count["k"]+1) && l.chance(0.5)
		l.gap(gap)
		a = l.put(r.a, f, u, 0, extent{})
	default:
		a = l.put(r.a, f, u, l.depth(r.a), extent{})
	}
	beside := slices.Contains(onEdges, r.b) || (!exact && r.a != "edge" && l.chance(0.5))
	if exact {
		l.stated = &two
		if need == "hole_edge" { // from the wall, not from its wrap
			a.v1 = 0
		}
	}
	if beside {
		l.put(r.b, f, a.u1+d, l.depth(r.b), extent{u0: 1, v0: a.v0, v1: a.v1})
		return
	}
	if exact {
		l.put(r.b, f, (a.u0+a.u1)/2, a.v1+d, extent{v0: 1})
		return
	}
	l.put(r.b, f, (a.u0+a.u1)/2+l.between(-0.5, 0.5), a.v1+d, extent{v0: 1})
}

// depth is how far in a thing lies by itself.
func (l *layer) depth(kind string) float64 {
	if slices.Contains(onEdges, kind) || kind == "edge" {
		return 0
	}
	return l.between(1.2, 3)
}

// put lays a thing. by says from where u and v are its nearest point: beside
// something, whose depth by holds (u0 is 1), in front of it (v0 is 1), or else
// its middle.
func (l *layer) put(kind string, f edgeFrame, u, v float64, by extent) extent {
	beside, front := by.u0 == 1, by.u0 == 0 && by.v0 == 1 && by.v1 == 0
	// The middle of a thing w long and deep, from where it is to be.
	middle := func(w, deep float64) (float64, float64) {
		cu, cv := u, v
		if beside {
			cu = u + w/2
			cv = by.v0 + (by.v1-by.v0)*l.rnd.Float64()
			if by.v1 < 0.3 || l.chance(0.3) {
				cv = max(cv, deep/2+l.between(0.2, 1))
			}
		}
		if front {
			cv = v + deep/2
		}
		return whole(cu), whole(cv)
	}
	switch kind {
	case "edge":
		return extent{u - 1, u + 1, 0, 0}
	case "wall", "opening":
		return l.putWall(kind, f, u, beside)
	case "barrel", "land":
		return l.putHalfHoles(kind, f, u, beside)
	case "pin", "body":
		return l.putConnector(kind, f, u, beside)
	case "tab", "perf":
		return l.putTab(kind, f, u, beside)
	case "feature", "inner":
		return l.putFeature(kind, f, middle)
	case "via", "pad":
		return l.putFence(kind, f, middle)
	case "plated", "ring", "drilled":
		return l.putHole(kind, f, middle)
	}
	return l.putCutout(f, middle)
}

func (l *layer) putWall(kind string, f edgeFrame, u float64, beside bool) extent {
	h := l.between(1.2, 2.5)
	from, to := u-h, u+h
	if beside {
		from, to = u, u+2*h
	}
	if to-0.1 <= f.lo || from+0.2 >= f.hi {
		return extent{u, u, 0, 0.5}
	}
	e, name := l.wall(f, from, to)
	if kind == "opening" && !slices.ContainsFunc(l.Reliefs, func(r laidRelief) bool { return r.Over == name }) {
		m := l.relief(name, e.v1)
		e.u1, e.v1 = e.u1+m.u1, m.v1
	}
	return e
}

func (l *layer) putHalfHoles(kind string, f edgeFrame, u float64, beside bool) extent {
	c := laidHalfHoles{Name: l.name("h"), Edge: f.name, D: l.between(0.6, 1), Round: f.round}
	c.W, c.L = whole(c.D+l.between(0.1, 0.8)), whole(c.D/2+l.between(0.1, 0.7))
	if kind == "barrel" && l.chance(0.9) { // a hole that stands out of its land
		c.W, c.L = whole(c.D*0.6), whole(c.D*0.3)
	}
	half := c.D / 2
	if kind == "land" {
		half = c.W / 2
	}
	if beside {
		u += half
	}
	u = whole(min(max(u, f.lo+0.1), f.hi-0.1))
	n, pitch := 1+l.rnd.IntN(3), whole(max(c.W, c.D)+l.between(0.05, 0.9))
	if l.stated != nil {
		n = 1
	}
	if kind == "barrel" {
		pitch = whole(c.D + l.limit("castellation_spacing") + l.between(-0.15, 0.2))
	}
	for i := range n {
		if p := whole(u + float64(i)*pitch); i == 0 || p < f.hi-0.1 {
			c.At = append(c.At, p)
		}
	}
	for range c.At {
		c.Nets = append(c.Nets, []string{"A", "B", "C"}[l.rnd.IntN(3)])
	}
	if l.chance(0.4) {
		c.Nets = c.Nets[:1]
	}
	if l.chance(0.15) {
		c.Nets = nil
	}
	if l.stated != nil {
		c.Nets = []string{*l.stated}
	}
	l.castellation(c, pitch)
	if l.stated != nil { // one of them
		return extent{u - half, u + half, 0, max(c.L, c.D/2)}
	}
	return extent{u - half, c.At[len(c.At)-1] + half, 0, c.L}
}

// castellation states half holes.
func (l *layer) castellation(c laidHalfHoles, pitch float64) {
	place := fmt.Sprintf("at %s", mm(c.At[0]))
	if len(c.At) > 1 {
		place = fmt.Sprintf("from %s to %s pitch %s", mm(c.At[0]), mm(c.At[len(c.At)-1]), mm(pitch))
	}
	nets := ""
	if c.Nets != nil {
		nets = " net " + strings.Join(c.Nets, ", ")
	}
	l.say("castellation %s on %s %s hole %s land %s by %s%s", c.Name, c.Edge, place, mm(c.D), mm(c.W), mm(c.L), nets)
	l.Castellations = append(l.Castellations, c)
	if l.chance(0.15) {
		l.relief(c.Name, c.L)
	}
}

func (l *layer) putConnector(kind string, f edgeFrame, u float64, beside bool) extent {
	c := laidConnector{Name: l.name("k"), Edge: f.name, Body: l.between(3, 5), Net: l.net(), Round: f.round}
	w, deep := l.between(0.6, 1.4), l.between(1, 3)
	if l.stated != nil || l.chance(0.6) {
		c.Reach = l.between(1, 3)
	}
	if l.chance(0.3) {
		c.Clearance = l.between(0.1, 0.6)
	}
	half := w / 2
	if kind == "body" {
		half = c.Body / 2
	}
	if beside {
		u += half
	}
	c.At = whole(min(max(u, f.lo), f.hi))
	if f.c != nil {
		c.At = whole(min(max(u, f.lo+c.Body), f.hi-c.Body))
	}
	faces := [][]string{{"top"}, {"bottom"}, {"top", "bottom"}}[l.rnd.IntN(3)]
	if l.layerOf != "" {
		faces = []string{l.layerOf}
	}
	for _, face := range faces {
		c.Pins = append(c.Pins, laidPin{face, w, deep})
	}
	l.connector(c)
	if kind == "body" {
		return extent{c.At - half, c.At + half, 0, max(c.Reach, 0.3)}
	}
	return extent{c.At - half, c.At + half, 0, deep}
}

// connector states a connector.
func (l *layer) connector(c laidConnector) {
	var pins []string
	for _, p := range c.Pins {
		pins = append(pins, fmt.Sprintf("pin %s width %s length %s", p.Face, mm(p.W), mm(p.L)))
	}
	reach, clearance, net := "", "", ""
	if c.Reach > 0 {
		reach = " reach " + mm(c.Reach)
	}
	if c.Clearance > 0 {
		clearance = "; clearance " + mm(c.Clearance)
	}
	if c.Net != "" {
		net = "; net " + c.Net
	}
	l.say("connector %s on %s at %s { body %s%s; %s%s%s }", c.Name, c.Edge, mm(c.At), mm(c.Body), reach, strings.Join(pins, "; "), clearance, net)
	l.Connectors = append(l.Connectors, c)
}

func (l *layer) putTab(kind string, f edgeFrame, u float64, beside bool) extent {
	t := laidTab{Name: l.name("t"), Edge: f.name, W: l.between(2, 3.5), Pre: l.chance(0.15)}
	if kind == "perf" || f.c == nil && l.chance(0.3) {
		if f.c != nil {
			t.W = 1.5
		}
		t.Perf = &laidPerforation{D: l.between(0.4, 0.7), P: l.between(0.8, 1.1), Inset: l.between(0, 0.3)}
	}
	if beside {
		u += t.W / 2
	}
	t.At = whole(min(max(u, f.lo+t.W/2+0.01), f.hi-t.W/2-0.01))
	if f.hi-f.lo < t.W+0.1 || l.inside && f.profile == 0 {
		return extent{u, u, 0, 0}
	}
	how := "solid"
	if p := t.Perf; p != nil {
		how = fmt.Sprintf("perforated hole %s pitch %s inset %s", mm(p.D), mm(p.P), mm(p.Inset))
	}
	if t.Pre {
		how += " premetallised"
	}
	l.say("tab %s on %s at %s width %s %s", t.Name, t.Edge, mm(t.At), mm(t.W), how)
	l.Tabs = append(l.Tabs, t)
	e := extent{t.At - t.W/2, t.At + t.W/2, 0, 0}
	if t.Perf != nil {
		e.v1 = t.Perf.Inset + t.Perf.D/2
		if kind == "perf" {
			n := math.Floor((t.W-t.Perf.D)/t.Perf.P+1e-9) + 1
			half := (n-1)/2*t.Perf.P + t.Perf.D/2
			e.u0, e.u1 = t.At-half, t.At+half
			if int(n)%2 == 0 { // its middle is a hole
				e.u0 += t.Perf.P
			}
		}
	}
	return e
}

func (l *layer) putFeature(kind string, f edgeFrame, middle func(w, deep float64) (float64, float64)) extent {
	x := laidFeature{Name: l.name("f"), Net: l.net(), Layer: []string{"top", "bottom"}[l.rnd.IntN(2)]}
	if len(l.inner) > 0 && (kind == "inner" || l.chance(0.1)) {
		x.Layer = l.inner[l.rnd.IntN(2)]
	}
	if l.layerOf != "" {
		x.Layer = l.layerOf
	}
	w, deep := l.between(0.5, 1.6), l.between(0.5, 1.6)
	if !f.axis || l.chance(0.35) {
		deep, x.D = w, w
	} else if x.W, x.H = w, deep; math.Abs(f.dir[1]) > 0.5 {
		x.W, x.H = deep, w
	}
	u, v := middle(w, deep)
	x.At = f.at(u, v)
	shape := fmt.Sprintf("circle %s", mm(x.D))
	if x.D == 0 {
		shape = fmt.Sprintf("rectangle %s by %s", mm(x.W), mm(x.H))
	}
	l.say("feature %s on %s %s at %s%s", x.Name, x.Layer, shape, point(x.At), ofNetText(x.Net))
	l.Features = append(l.Features, x)
	return extent{u - w/2, u + w/2, v - deep/2, v + deep/2}
}

func (l *layer) putHole(kind string, f edgeFrame, middle func(w, deep float64) (float64, float64)) extent {
	h := laidHole{Name: l.name("d"), D: l.between(0.5, 2), Plated: kind != "drilled"}
	size, words := h.D, "unplated"
	if h.Plated {
		h.Net = l.net()
		words = "plated" + ofNetText(h.Net)
		if kind == "ring" || l.chance(0.2) {
			h.Land = whole(h.D + l.between(0.2, 1))
			words += " land " + mm(h.Land)
			if kind == "ring" {
				size = h.Land
			}
		}
	}
	u, v := middle(size, size)
	h.At = f.at(u, v)
	l.say("hole %s diameter %s at %s %s", h.Name, mm(h.D), point(h.At), words)
	l.Holes = append(l.Holes, h)
	return extent{u - size/2, u + size/2, v - size/2, v + size/2}
}

func (l *layer) putFence(kind string, f edgeFrame, middle func(w, deep float64) (float64, float64)) extent {
	x := laidFence{Name: l.name("s"), D: l.between(0.2, 0.5), Net: l.net()}
	size, land := x.D, ""
	if kind == "pad" || l.chance(0.15) {
		x.Land = whole(x.D + l.between(0.15, 0.5))
		land = " land " + mm(x.Land)
		if kind == "pad" {
			size = x.Land
		}
	}
	u, v := middle(size, size)
	// A row keeps as far from the ends of its edge as it lies inside.
	v = max(v, 0.05)
	if f.hi-f.lo < 2*v+0.4 {
		v = whole((f.hi - f.lo) / 4)
	}
	u = whole(min(max(u, f.lo+v+0.01), f.hi-v-0.1))
	n, pitch := 1, l.between(0.5, 1.1)
	if f.c == nil && l.chance(0.5) && u+pitch < f.hi-v-0.01 {
		n = 2
	}
	for i := range n {
		if p := whole(u + float64(i)*pitch); i == 0 || p <= f.hi {
			a := f.at(u, v)
			if i > 0 {
				a = f.at(p, v)
			}
			x.Vias = append(x.Vias, a)
		}
	}
	to := min(u+pitch*(float64(n)-0.5), f.hi)
	if f.c != nil { // on a hollow arc the next via of a row stands nearer along the edge than a pitch
		to = min(u+pitch/20, f.hi)
	}
	l.say("fence %s along %s from %s to %s inset %s pitch %s hole %s%s%s", x.Name, f.name, mm(u), mm(to), mm(v), mm(pitch), mm(x.D), land, ofNetText(x.Net))
	l.Fences = append(l.Fences, x)
	return extent{u - size/2, u + float64(len(x.Vias)-1)*pitch + size/2, v - size/2, v + size/2}
}

func (l *layer) putCutout(f edgeFrame, middle func(w, deep float64) (float64, float64)) extent {
	name := l.name("c")
	w, deep, r := l.between(1.6, 3.5), l.between(1.6, 3.5), l.between(0.4, 0.7)
	kind := l.rnd.IntN(3)
	if !f.axis || kind == 0 {
		kind, deep = 0, w
	}
	if kind == 1 {
		deep = min(deep, w-0.2)
	}
	u, v := middle(w, deep)
	at := f.at(u, v)
	x, y, turned := w, deep, 0.0
	if math.Abs(f.dir[1]) > 0.5 {
		x, y, turned = deep, w, 90
	}
	var p laidProfile
	text := ""
	switch kind {
	case 0:
		p = circle(name+".", at, w)
		text = fmt.Sprintf("circle %s", mm(w))
	case 1:
		p = slot(name+".", at, w, deep, turned)
		text = fmt.Sprintf("slot %s by %s turned %.0f deg", mm(w), mm(deep), turned)
	default:
		p = rectangle(name+".", at, x, y, r)
		text = fmt.Sprintf("rectangle %s by %s corner %s", mm(x), mm(y), mm(r))
	}
	// Where profiles cross little else can be asked: few boards have that.
	if !l.crossed && !l.clear(p, 0.25) {
		return extent{u, u, v, v}
	}
	l.say("cutout %s %s at %s", name, text, point(at))
	l.Profiles = append(l.Profiles, p)
	if !l.bareCut && l.chance(0.35) {
		l.first()
		plating := l.plating([]string{"A", "B", "C"}[l.rnd.IntN(3)])
		for _, e := range frames(p, 1, 0) {
			l.plate(plating, laidStretch{Edge: e.name, Whole: true})
		}
	}
	return extent{u - w/2, u + w/2, v - deep/2, v + deep/2}
}
