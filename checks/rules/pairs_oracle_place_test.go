//go:build !race

package rules

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
)

// builtIn are the limits that the pairs are held to, as the language's
// reference has them; a shop of a laid board states others for some.
var builtIn = map[string]float64{
	"wrap_clearance": 0.254, "inner_clearance": 0.5, "gap_width": 2, "router_bit": 0.8, "neck": 1,
	"edge_clearance_outer": 0.25, "edge_clearance_inner": 0.4, "launch_clearance": 0.254, "tab_gap": 0.5,
	"tab_connector": 2.5, "castellation_spacing": 0.55, "mask_margin": 0.075, "mask_web": 0.1,
	"fence_inset": 0.5, "copper_clearance": 0.15, "hole_web": 0.3, "hole_edge": 0.5, "body_clearance": 0.5,
}

// layer lays one board: pairs of things at sites along its edges, each about as
// far apart as the limit that they are held to.
type layer struct {
	*laid
	rnd    *rand.Rand
	inner  []string
	count  map[string]int
	pair   int    // the next of recipes that is laid
	staged int    // and of scenes
	dots   [][]xy // of profiles, as far as they were needed
	// What is laid while these are set: cutouts that may cross, tabs on cutouts
	// alone, cutouts that stay bare, things of a net and on a layer.
	crossed, inside, bareCut bool
	stated                   *string
	layerOf                  string
}

// extent is where a thing lies along and inward from its edge.
type extent struct{ u0, u1, v0, v1 float64 }

// lay makes the board of a number, always the same.
func lay(seed uint64) *laid {
	l := &layer{laid: &laid{Limits: map[string]float64{}}, rnd: rand.New(rand.NewPCG(seed, 20)), count: map[string]int{}, pair: int(seed) * 13, staged: int(seed) * 7}
	l.crossed, l.inside = seed%25 == 0, seed%16 == 1
	l.stack()
	l.shop()
	l.draw()
	sites := l.shape()
	for _, s := range sites {
		l.site(s.f, s.u, s.whole)
	}
	if s := sites[slices.IndexFunc(sites, func(s site) bool { return !l.inside || s.f.profile == 1 })]; l.inside && len(l.Tabs) == 0 {
		l.putTab("tab", s.f, s.u, false)
	}
	l.finish()
	return l.laid
}

func (l *layer) between(a, b float64) float64 { return whole(a + (b-a)*l.rnd.Float64()) }

func (l *layer) chance(p float64) bool { return l.rnd.Float64() < p }

func (l *layer) name(kind string) string {
	l.count[kind]++
	return fmt.Sprintf("%s%d", kind, l.count[kind])
}

// net is one of three, or none.
func (l *layer) net() string {
	if l.stated != nil {
		return *l.stated
	}
	return []string{"A", "B", "C", ""}[l.rnd.IntN(4)]
}

func ofNetText(net string) string {
	if net == "" {
		return ""
	}
	return " net " + net
}

func (l *layer) limit(name string) float64 {
	if v, ok := l.Limits[name]; ok {
		return v
	}
	return builtIn[name]
}

func (l *layer) stack() {
	// The oracle holds what is drawn: next to nothing is off.
	l.say("%s", asDrawn)
	if l.chance(0.25) {
		l.Layers = []string{"top", "bottom"}
		l.say("board b { thickness 1.6 mm }")
		return
	}
	l.Layers, l.inner = []string{"top", "in1", "in2", "bottom"}, []string{"in1", "in2"}
	l.say("board b { title \"oracle\" }")
	l.say("stack { copper top 35 um; dielectric a 0.4 mm; copper in1 35 um; dielectric c 0.5 mm; copper in2 35 um; dielectric d 0.4 mm; copper bottom 35 um }")
}

// shop states some limits otherwise than they are built in.
func (l *layer) shop() {
	if l.chance(0.4) {
		return
	}
	var lines []string
	for _, name := range slices.Sorted(maps.Keys(builtIn)) {
		if l.chance(0.4) {
			v := l.between(builtIn[name]*0.6, builtIn[name]*1.5)
			l.Limits[name] = v
			lines = append(lines, fmt.Sprintf("limit %s minimum %s", name, mm(v)))
		}
	}
	l.say("fabricator shop { %s }", strings.Join(lines, "; "))
}

// site is a place on an edge where two things are laid.
type site struct {
	f     edgeFrame
	u     float64
	whole bool // its edge is plated all along
}

// shape lays the outline, cutouts that are large enough to have things on
// their edges, and plates whole edges; it gives the sites.
func (l *layer) shape() []site {
	w, h := l.between(52, 70), l.between(40, 52)
	var list []edgeFrame
	switch k := l.rnd.IntN(7); {
	case k < 2:
		l.Profiles = []laidProfile{rectangle("", xy{w / 2, h / 2}, w, h, 0)}
		l.say("outline rectangle %s by %s", mm(w), mm(h))
		list = frames(l.Profiles[0], 0, 0)
	case k == 2:
		r := l.between(0.8, 5)
		l.Profiles = []laidProfile{rectangle("", xy{w / 2, h / 2}, w, h, r)}
		l.say("outline rectangle %s by %s corner %s", mm(w), mm(h), mm(r))
		list = frames(l.Profiles[0], 0, r)
	case k == 3:
		l.Profiles = []laidProfile{circle("", xy{}, w)}
		l.say("outline circle %s", mm(w))
		list = frames(l.Profiles[0], 0, 0)
		list[0].hi *= 0.98
	default:
		p, text := drawn(l.rnd, w, h, l.limit("neck"))
		l.Profiles = []laidProfile{p}
		l.say("%s", text)
		list = frames(p, 0, 0)
	}
	c := xy{w / 2, h / 2}
	if list[0].name == "rim" {
		c = xy{}
	}
	if l.inside || l.chance(0.5) {
		list = append(list, l.window(c)...)
	}
	var sites []site
	for _, f := range list {
		whole := l.chance(0.25)
		if whole {
			l.plate(l.first(), laidStretch{Edge: f.name, Whole: true})
		}
		n := int((f.hi - f.lo - 1) / 11)
		if n == 0 && f.hi-f.lo > 5 {
			n = 1
		}
		for i := range n {
			sites = append(sites, site{f, whole3(f.lo + (f.hi-f.lo)*(float64(i)+0.35+0.3*l.rnd.Float64())/float64(n)), whole})
		}
	}
	l.rnd.Shuffle(len(sites), func(i, j int) { sites[i], sites[j] = sites[j], sites[i] })
	return sites
}

func whole3(v float64) float64 { return whole(v) }

// window is a cutout in the board's middle, large enough for sites of its own.
func (l *layer) window(c xy) []edgeFrame {
	name := l.name("w")
	switch l.rnd.IntN(3) {
	case 0:
		w, h, r := l.between(10, 16), l.between(8, 11), l.between(0.5, 1.5)
		l.Profiles = append(l.Profiles, rectangle(name+".", c, w, h, r))
		l.say("cutout %s rectangle %s by %s corner %s at %s", name, mm(w), mm(h), mm(r), point(c))
		return frames(l.Profiles[1], 1, r)
	case 1:
		d := l.between(8, 12)
		l.Profiles = append(l.Profiles, circle(name+".", c, d))
		l.say("cutout %s circle %s at %s", name, mm(d), point(c))
		return frames(l.Profiles[1], 1, 0)
	}
	a, b, turned := l.between(14, 18), l.between(3, 8), math.Round(90*l.rnd.Float64())
	l.Profiles = append(l.Profiles, slot(name+".", c, a, b, turned))
	l.say("cutout %s slot %s by %s turned %.0f deg at %s", name, mm(a), mm(b), turned, point(c))
	return frames(l.Profiles[1], 1, 0)
}

// first is the plating of whole edges.
func (l *layer) first() string {
	if len(l.Platings) == 0 {
		l.plating("A")
	}
	return l.Platings[0].Name
}

// plating starts a plating; its text is written at the end.
func (l *layer) plating(net string) string {
	p := laidPlating{Name: l.name("p"), Net: net, Wrap: [2]float64{l.between(0.3, 1.4), l.between(0.3, 1.4)}}
	if len(l.inner) > 0 && l.chance(0.3) {
		p.Layers = [][]string{{"in1"}, {"in2"}, {"in1", "in2"}, {"in1", "top"}}[l.rnd.IntN(4)]
	}
	l.Platings = append(l.Platings, p)
	return p.Name
}

func (l *layer) plate(name string, s laidStretch) {
	for i := range l.Platings {
		if l.Platings[i].Name == name {
			l.Platings[i].Along = append(l.Platings[i].Along, s)
		}
	}
}

func (l *layer) gap(s laidStretch) {
	s.Name = l.name("g")
	l.Platings[0].Gaps = append(l.Platings[0].Gaps, s)
	words := ""
	if s.For != "" {
		words = " for " + s.For
	}
	if s.Bridged {
		words += " bridged"
	}
	l.say("gap %s of %s on %s from %s to %s%s", s.Name, l.Platings[0].Name, s.Edge, mm(s.From), mm(s.To), words)
}

// wall is a stretch of a plating about a place.
func (l *layer) wall(f edgeFrame, u0, u1 float64) (extent, string) {
	u0, u1 = max(u0, f.lo+0.05), min(u1, f.hi-0.05)
	if f.round == 0 && f.c == nil && l.chance(0.1) {
		u0 = f.lo
	}
	u0, u1 = whole(u0), whole(u1)
	name := ""
	if len(l.Platings) > 1 && l.chance(0.4) {
		name = l.Platings[1+l.rnd.IntN(len(l.Platings)-1)].Name
	} else {
		l.first() // keeps its place
		name = l.plating([]string{"A", "B", "C"}[l.rnd.IntN(3)])
	}
	l.plate(name, laidStretch{Edge: f.name, From: u0, To: u1})
	for _, p := range l.Platings {
		if p.Name == name {
			return extent{u0, u1, 0, p.Wrap[l.rnd.IntN(2)]}, name
		}
	}
	panic("a plating that is not there")
}

// finish writes what is known only at the end: platings, reliefs, planes.
func (l *layer) finish() {
	l.Platings = slices.DeleteFunc(l.Platings, func(p laidPlating) bool { return len(p.Along) == 0 })
	for _, p := range slices.Clone(l.Platings) {
		var lines []string
		for _, s := range p.Along {
			if s.Whole {
				lines = append(lines, "along "+s.Edge)
			} else {
				lines = append(lines, fmt.Sprintf("along %s from %s to %s", s.Edge, mm(s.From), mm(s.To)))
			}
		}
		if p.Layers != nil {
			lines = append(lines, "layers "+strings.Join(p.Layers, " "))
		}
		l.say("plating %s { %s; net %s; copper 25 um; extend 0.05 mm; wrap top %s; wrap bottom %s }", p.Name, strings.Join(lines, "; "), p.Net, mm(p.Wrap[0]), mm(p.Wrap[1]))
		if l.chance(0.12) { // another over the same
			l.twin(p)
		}
		if l.chance(0.25) && !slices.ContainsFunc(l.Reliefs, func(r laidRelief) bool { return r.Over == p.Name }) {
			l.relief(p.Name, max(p.Wrap[0], p.Wrap[1]))
		}
	}
	l.cutPlanes()
	for _, p := range l.Planes {
		within := ""
		if w := p.Within; w != nil {
			within = fmt.Sprintf(" within %s to %s", point(xy{w[2], w[1]}), point(xy{w[0], w[3]}))
		}
		l.say("plane on %s net %s pullback %s%s", p.Layer, p.Net, mm(p.Pullback), within)
	}
}

// cutPlanes lays two or three planes in rectangles, about as far apart as they
// must be, on layers that have none.
func (l *layer) cutPlanes() {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, s := range l.Profiles[0].Segs {
		x0, y0, x1, y1 = min(x0, s.P[0]), min(y0, s.P[1]), max(x1, s.P[0]), max(y1, s.P[1])
	}
	for _, on := range l.Layers {
		if !l.chance(0.4) || slices.ContainsFunc(l.Planes, func(p laidPlane) bool { return p.Layer == on }) {
			continue
		}
		if l.chance(0.7) && l.planeByRun(on) {
			continue
		}
		from := whole(x0 + l.between(-2, 4))
		for range 2 + l.rnd.IntN(2) {
			to := whole(from + (x1-x0)*l.between(0.2, 0.6))
			p := laidPlane{Layer: on, Net: []string{"A", "B", "C", "D"}[l.rnd.IntN(4)], Pullback: l.between(0.15, 2.2)}
			p.Within = []float64{from, whole(y0 + l.between(-2, 3)), to, whole(y1 + l.between(-3, 2))}
			if l.chance(0.3) { // along one side alone
				p.Within[1+2*l.rnd.IntN(2)] = whole((y0 + y1) / 2)
			}
			l.Planes = append(l.Planes, p)
			from = whole(to + l.limit("copper_clearance") + l.between(-0.25, 0.25))
		}
	}
}

// planeByRun lays a plane that is nothing but its run to a wall of the south edge,
// and beside it one of another net.
func (l *layer) planeByRun(on string) bool {
	for _, p := range l.Platings {
		if p.Layers != nil && !slices.Contains(p.Layers, on) {
			continue
		}
		for _, s := range p.Along {
			i := slices.IndexFunc(l.Profiles[0].Segs, func(g laidSeg) bool { return g.Edge == s.Edge && g.Edge == "south" && g.C == nil && g.P[1] == g.Q[1] })
			if i < 0 {
				continue
			}
			g := l.Profiles[0].Segs[i]
			end := whole((g.P[0] + g.Q[0]) / 2)
			if !s.Whole {
				end = whole(g.P[0] + ((s.From+s.To)/2-g.Zero)*g.Dir)
			}
			far, beside, y := l.between(2, 3), whole(end+l.limit("copper_clearance")+l.between(-0.14, 0.25)), g.P[1]
			l.Planes = append(l.Planes,
				laidPlane{Layer: on, Net: p.Net, Pullback: far, Within: []float64{whole(end - 4), whole(y - 1), end, whole(y + far - 0.2)}},
				laidPlane{Layer: on, Net: "D", Pullback: l.between(0.4, 0.8), Within: []float64{beside, whole(y - 1), whole(beside + 3), whole(y + 4)}})
			return true
		}
	}
	return false
}

// draw draws some planes; scenes may add others.
func (l *layer) draw() {
	used := map[string]bool{}
	for range l.rnd.IntN(4) {
		p := laidPlane{Layer: l.Layers[l.rnd.IntN(len(l.Layers))], Net: []string{"A", "B", "C", "D"}[l.rnd.IntN(4)]}
		if used[p.Layer] && l.chance(0.7) {
			continue
		}
		used[p.Layer] = true
		p.Pullback = l.between(0.15, 0.75)
		if l.chance(0.5) {
			p.Pullback = l.between(0.5, 2.2)
		}
		l.Planes = append(l.Planes, p)
	}
}

// twin states a plating again, over the same stretches: the same of it, or another wrap.
func (l *layer) twin(p laidPlating) {
	q := p
	q.Name, q.Gaps, q.Along = l.name("q"), nil, nil
	if l.chance(0.5) {
		q.Wrap[0] = whole(q.Wrap[0] + 0.1)
	}
	var lines []string
	for _, s := range p.Along {
		if !s.Whole && s.To > s.From+0.5 {
			shift := l.between(-0.6, 0.1) + (s.From - s.To)
			if l.chance(0.5) || s.From+shift < 5 {
				shift = 0
			}
			s.From, s.To = whole(s.From+shift), whole(s.To+shift)
			q.Along = append(q.Along, s)
			lines = append(lines, fmt.Sprintf("along %s from %s to %s", s.Edge, mm(s.From), mm(s.To)))
			break
		}
	}
	if q.Along == nil {
		return
	}
	if q.Layers != nil {
		lines = append(lines, "layers "+strings.Join(q.Layers, " "))
	}
	l.say("plating %s { %s; net %s; copper 25 um; extend 0.05 mm; wrap top %s; wrap bottom %s }", q.Name, strings.Join(lines, "; "), q.Net, mm(q.Wrap[0]), mm(q.Wrap[1]))
	l.Platings = append(l.Platings, q)
}

// relief takes the mask off an item.
func (l *layer) relief(over string, depth float64) extent {
	r := laidRelief{Name: l.name("r"), Over: over, Faces: [][]string{{"top"}, {"bottom"}, {"top", "bottom"}}[l.rnd.IntN(3)], Reach: whole(depth + l.between(-0.1, 0.4))}
	margin, m := "", l.limit("mask_margin")
	if l.chance(0.4) {
		m = l.between(0.02, 0.3)
		r.Margin, margin = &m, " margin "+mm(m)
	}
	l.Reliefs = append(l.Reliefs, r)
	l.say("relief %s over %s on %s reach %s%s", r.Name, over, strings.Join(r.Faces, " "), mm(r.Reach), margin)
	if l.chance(0.15) { // and another of the same, or of a reach of its own
		q := r
		q.Name = l.name("r")
		if l.chance(0.5) {
			q.Reach = whole(q.Reach + 0.05)
		}
		l.Reliefs = append(l.Reliefs, q)
		l.say("relief %s over %s on %s reach %s%s", q.Name, over, strings.Join(q.Faces, " "), mm(q.Reach), margin)
	}
	return extent{-m, m, 0, r.Reach}
}
