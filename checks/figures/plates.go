package figures

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hemline/checks/physics"
	"hemline/checks/sheet"
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

// Measured is what a continuity measurement comes to with the planes that the
// plating is tied to, Ω at 20 °C, of even copper as it is stated.
type Measured struct {
	// With is that with the wall; Without with all of the stretch's wall missing but for
	// where the probes stand; Half with half of its copper but for there; Holed with the middle fifth
	// of the way missing.
	With, Without, Half, Holed float64
	// Layers are those whose planes count, each once.
	Layers []string
}

// Contact is how much of the wall is left under each probe where the rest of it is
// missing, nm, or a tenth of the way where that is less. What a plane alone comes to
// between two points hangs on it, by the logarithm.
const Contact = 1e6

// cellsOf is how many cells a plane has at least, about, if they are not finer then than
// fine asks, and cellsOfAll how many all have at most that differ in shape.
const cellsOf, cellsOfAll = 2500, 10_000

// fine, nm, is how coarse the cells may be, and resolved how many of them a stretch has at
// least, or a quarter of one all round, for what comes to it to be known: within a tenth of what
// cells of 0.25 mm give (ends of strips anywhere beside the cells, rings, corners; see
// TestFineness).
const fine, resolved = 2 * Contact, 4

// plate is the planes of one shape that are tied to the same walls, as one sheet.
type plate struct {
	planes []*board.Plane
	ties   []*board.Plating
	by     float64 // its conductance, S a square
	sheet  *sheet.Sheet
	joined bool // another plane of the net on the layer meets one of them: together they are no sheet of these
}

// Measured works out what Continuity would measure. It takes some tens of
// milliseconds a plating with planes, and none without; ok is false where there is
// no continuity, or the planes are too odd to be worked out.
func (c *Conductors) Measured(p *board.Plating) (m Measured, ok bool) {
	defer c.alone()()
	return c.measured(p, Contact, true)
}

// measured leaves out what only a report asks for where it is not to be in full. What
// has been worked out is kept.
func (c *Conductors) measured(p *board.Plating, contact float64, full bool) (Measured, bool) {
	if c == nil || !p.Copper.Given() {
		return Measured{}, false
	}
	key := measurement{p, contact}
	x, begun := c.known[key]
	if !begun {
		x = c.measuring(p, contact)
		c.known[key] = x
	}
	if x == nil {
		return Measured{}, false
	}
	return x.workOut(full)
}

// measurement is what is measured: a plating, with so much of its wall left under the probes.
type measurement struct {
	plating *board.Plating
	contact float64
}

// measuring is a measurement as far as it has been worked out.
type measuring struct {
	trial *trial
	m     Measured
	done  int // of its four resistances, in their order
	fails bool
}

// measuring begins a measurement; nil where there is none to be had.
func (c *Conductors) measuring(p *board.Plating, contact float64) *measuring {
	i := c.longest(p)
	if i < 0 {
		return nil
	}
	plates := c.platesTo(c.ofTied[i])
	s := c.ring.runs[i].Stretch
	if c.broken || c.ring.runs[i].wide() || slices.ContainsFunc(plates, func(p *plate) bool { return p.joined || p.coarse(s) }) {
		return nil
	}
	x := &measuring{}
	for _, plate := range plates {
		for _, plane := range plate.planes {
			if !slices.Contains(x.m.Layers, plane.Layer.Text) {
				x.m.Layers = append(x.m.Layers, plane.Layer.Text)
			}
		}
	}
	if !slices.ContainsFunc(plates, func(p *plate) bool { return p.touches(s) }) {
		contact = 0 // what is missing is all of the wall, whatever is tied to others
	}
	x.trial = newTrial(c, i, plates, contact)
	return x
}

// workOut works out what is still asked for: two resistances, or in full all four.
func (x *measuring) workOut(full bool) (Measured, bool) {
	list := []struct {
		to   *float64
		wall wallOf
	}{{&x.m.With, whole}, {&x.m.Without, x.trial.missing}, {&x.m.Half, x.trial.half}, {&x.m.Holed, x.trial.holed}}
	if !full {
		list = list[:2]
	}
	for x.done < len(list) && !x.fails {
		v := list[x.done]
		r, ok := x.trial.resistance(v.wall)
		*v.to, x.fails = r, !ok
		x.done++
	}
	if x.fails {
		return Measured{}, false
	}
	out := x.m
	out.Layers = slices.Clone(x.m.Layers)
	return out, true
}

// platesTo are the plates that are tied to any of the runs.
func (c *Conductors) platesTo(runs []int) (list []*plate) {
	if !c.meshed {
		c.meshed = true
		c.mesh()
	}
	on := map[*board.Plating]bool{}
	for _, i := range runs {
		on[c.ring.runs[i].Plating] = true
	}
	for _, x := range c.plates {
		if slices.ContainsFunc(x.ties, func(p *board.Plating) bool { return on[p] }) {
			list = append(list, x)
		}
	}
	return list
}

// oneWith tells whether two planes of one net on one layer come to each other.
func oneWith(b *board.Board, x, y *board.Plane) bool {
	if !x.Net.Given() || x.Net.Text != y.Net.Text || !b.SameLayer(x.Layer.Text, y.Layer.Text) {
		return false
	}
	return x.Within == nil || y.Within == nil || x.Within.Grow(board.Tolerance).Overlaps(*y.Within)
}

// touches tells whether a plane of the plate comes to a stretch.
func (x *plate) touches(s board.Stretch) bool {
	return slices.Contains(x.ties, s.Plating) && slices.ContainsFunc(x.planes, func(p *board.Plane) bool { return len(contacts(p, s)) > 0 })
}

// coarse tells whether the plate's cells are too coarse for what is measured along a stretch
// that it comes to.
func (x *plate) coarse(s board.Stretch) bool {
	way := s.Length()
	if s.Round() {
		way /= 4
	}
	return x.sheet.Step > min(fine, way/resolved)*(1+1e-9) && x.touches(s)
}

// mesh makes the plates of all planes that are tied to a wall.
func (c *Conductors) mesh() {
	type shape struct {
		pullback float64
		cut      bool
		within   geom.Box
		ties     string
	}
	known := map[shape]*plate{}
	for _, x := range c.b.Planes() {
		s := shape{pullback: x.Pullback.Value}
		if x.Within != nil {
			s.cut, s.within = true, *x.Within
		}
		var ties []*board.Plating
		for i, p := range c.b.Platings() {
			if tiesTo(c.b, x, p) && c.b.Runs(p) {
				ties = append(ties, p)
				s.ties += fmt.Sprint(i, " ")
			}
		}
		if len(ties) == 0 {
			continue
		}
		if known[s] == nil {
			known[s] = &plate{ties: ties}
			c.plates = append(c.plates, known[s])
		}
		known[s].planes = append(known[s].planes, x)
		known[s].joined = known[s].joined || slices.ContainsFunc(c.b.Planes(), func(y *board.Plane) bool { return x != y && oneWith(c.b, x, y) })
		known[s].by += quantity.InMetres(layerCopper(c.b, x.Layer.Text)) / physics.Rho20
	}
	outline := c.b.Outline()
	for _, x := range c.plates {
		if outline == nil || x.mesh(c.b, x.step(outline, cellsOfAll/float64(len(c.plates)))) != nil {
			c.broken = true
		}
	}
}

// step is how wide its cells are, nm, with so many at most.
func (x *plate) step(outline *board.Profile, most float64) float64 {
	box, area := outline.Path.Box(), math.Abs(outline.Path.SignedArea())
	if w := x.planes[0].Within; w != nil {
		part := box.Intersect(*w)
		area = min(area, (part.Max.X-part.Min.X)*(part.Max.Y-part.Min.Y))
	}
	return math.Sqrt(area / min(most, max(cellsOf, area/(fine*fine))))
}

// mesh cuts the plate into cells about so wide, nm: the outline less cutouts, less what lies off the
// rectangle, less the strips along every edge that it keeps from.
func (x *plate) mesh(b *board.Board, step float64) error {
	outline, plane := b.Outline(), x.planes[0]
	if !(step > 0) {
		return sheet.ErrEmpty
	}
	box := outline.Path.Box()
	var region sheet.Region
	add := func(l *geom.Loop, hole bool) {
		if l.Clockwise() != hole {
			l = l.Reverse()
		}
		region = append(region, l.Flatten(step/200))
	}
	add(outline.Path, false)
	for _, p := range b.Profiles() {
		if p.Cutout {
			add(p.Path, true)
		}
		for _, s := range slices.Concat(b.Finished(p).Plated, b.Finished(p).Bare) {
			if s.Plating == nil || !slices.Contains(x.ties, s.Plating) {
				for _, l := range s.Inward(plane.Pullback.Value) {
					add(l, true)
				}
			}
		}
	}
	if w := plane.Within; w != nil {
		all := box.Grow(step)
		for _, off := range []geom.Box{
			{Min: all.Min, Max: geom.Point{X: w.Min.X, Y: all.Max.Y}}, {Min: geom.Point{X: w.Max.X, Y: all.Min.Y}, Max: all.Max},
			{Min: all.Min, Max: geom.Point{X: all.Max.X, Y: w.Min.Y}}, {Min: geom.Point{X: all.Min.X, Y: w.Max.Y}, Max: all.Max},
		} {
			if wide, high := off.Max.X-off.Min.X, off.Max.Y-off.Min.Y; wide > 0 && high > 0 {
				add(geom.RectangleAt(off.Min, wide, high, 0), true)
			}
		}
	}
	var err error
	x.sheet, err = sheet.Mesh(region, step)
	return err
}

// trial is a network in which a stretch's wall is taken away.
type trial struct {
	ring     *ring
	x        board.Stretch
	contact  [2]float64 // what is left of the wall, nm, beyond the first probe and before the second
	from, to float64    // where the probes stand
	fixed    network    // the plates, and what ties them to the runs
	all      []int
}

// newTrial has the runs that hang together with the one that is measured, by planes
// too: others carry nothing.
func newTrial(c *Conductors, measured int, plates []*plate, contact float64) *trial {
	x := c.ring.runs[measured].Stretch
	contact = min(contact, x.Length()/10)
	t := &trial{x: x, contact: [2]float64{contact, contact}, from: x.From, to: x.To}
	if x.Round() {
		t.to = (x.From + x.To) / 2
	} else if contact > 0 {
		for i, from := range [...]float64{t.from, t.to} {
			t.contact[i] += t.untied(plates, from, float64(1-2*i))
		}
	}
	t.ring = c.ring.part(c.ofTied[measured], func(s board.Stretch) []float64 { return append(t.cuts(s, plates), c.planeEnds(s)...) })
	for i := range t.ring.runs {
		t.all = append(t.all, i)
	}
	t.fixed.nodes = t.ring.nodes
	t.fixed.places = make([]geom.Point, t.ring.nodes)
	for _, r := range t.ring.runs {
		for k, node := range r.nodes {
			t.fixed.places[node] = r.Profile.Path.At(math.Mod(r.at[k], r.Profile.Path.Perimeter()))
		}
	}
	for _, p := range plates {
		t.plate(c.b, p)
	}
	return t
}

// cuts are where a run is cut: as finely as the plates that it is tied to, and where
// the wall of the one that is measured changes.
func (t *trial) cuts(s board.Stretch, plates []*plate) (list []float64) {
	step := math.Inf(1)
	for _, p := range plates {
		if slices.Contains(p.ties, s.Plating) {
			step = min(step, p.sheet.Step)
		}
	}
	if n := math.Ceil(s.Length() / step); n > 1 && n < 1e5 {
		for i := range int(n) {
			list = append(list, s.From+s.Length()*float64(i)/n)
		}
	}
	if s != t.x {
		return list
	}
	way := t.to - t.from
	list = append(list, t.to, t.from+t.contact[0], t.to-t.contact[1], t.from+0.4*way, t.from+0.6*way)
	if s.Round() {
		list = append(list, t.to+t.contact[1], s.To-t.contact[0])
	}
	return list
}

// untied is how far along the stretch from its end, in a direction, the first of the
// planes comes to the wall, nm: at a corner they keep from the bare edge round it. It is
// 0 where none comes there within a quarter of the stretch.
func (t *trial) untied(plates []*plate, end, way float64) float64 {
	const steps = 50
	most := 0.0
	for _, p := range plates {
		most = max(most, 2*p.planes[0].Pullback.Value)
	}
	most = min(most, t.x.Length()/4)
	for i := range steps + 1 {
		off := most * float64(i) / steps
		if slices.ContainsFunc(plates, func(p *plate) bool {
			_, ok := p.at(t.x, end+way*(off+board.Tolerance))
			return ok && slices.Contains(p.ties, t.x.Plating)
		}) {
			return off
		}
	}
	return 0
}

// at gives the weights of the plate beside a place of a stretch's path; false where it
// does not come to the wall.
func (x *plate) at(s board.Stretch, at float64) (sheet.Weights, bool) {
	path, inward := s.Profile.Path, 0.02*x.sheet.Step
	if s.Profile.Cutout {
		inward = -inward
	}
	at = math.Mod(at, path.Perimeter())
	return x.sheet.At(path.At(at).Add(path.Tangent(at).Left().Scale(inward)))
}

func (t *trial) missing(r *run, from, to float64) float64 { return t.thinned(r, from, to, 0) }

func (t *trial) half(r *run, from, to float64) float64 { return t.thinned(r, from, to, 0.5) }

// thinned is the wall that is measured with a part of its copper, but for where the
// probes stand.
func (t *trial) thinned(r *run, from, to, part float64) float64 {
	switch mid := (from + to) / 2; {
	case r.Stretch != t.x, mid < t.from+t.contact[0], math.Abs(mid-t.to) < t.contact[1], r.Round() && mid > r.To-t.contact[0]:
		return 1
	}
	return part
}

func (t *trial) holed(r *run, from, to float64) float64 {
	way := t.to - t.from
	if mid := (from + to) / 2; r.Stretch == t.x && mid > t.from+0.4*way && mid < t.from+0.6*way {
		return 0
	}
	return 1
}

func (t *trial) resistance(wall wallOf) (float64, bool) {
	n := network{t.fixed.nodes, slices.Clone(t.fixed.links), t.fixed.places}
	t.ring.conduct(&n, func(i int) int { return i }, t.all, wall)
	return n.resistance(t.ring.node(t.x.Profile, t.from), t.ring.node(t.x.Profile, t.to))
}

// firm is how much better a plate is tied to a run than it conducts itself over a
// cell. Cells take from what the current meets that spreads from a wall's end, the ties
// add to it: so firm, the two come out even (see TestFineness).
const firm = 4

// plate adds one to the network, and its ties.
func (t *trial) plate(b *board.Board, p *plate) {
	n, base := &t.fixed, t.fixed.nodes
	n.nodes += p.sheet.Nodes
	for i := range p.sheet.Nodes {
		n.places = append(n.places, p.sheet.Place(i))
	}
	for _, e := range p.sheet.Elements() {
		for i, a := range e.Nodes {
			for k := range i {
				n.join(base+int(a), base+int(e.Nodes[k]), -e.Stiffness[i][k]*p.by)
			}
		}
	}
	for i := range t.ring.runs {
		x := &t.ring.runs[i]
		if !slices.Contains(p.ties, x.Plating) {
			continue
		}
		laps := p.laps(b, x.Plating)
		if laps > 0 && x.lapped == nil {
			x.lapped = make([]float64, len(x.at)-1)
		}
		tied := make([]float64, len(x.at)-1)
		for k := range tied {
			tied[k] = t.tie(p, x, k, base)
		}
		for k := range tied {
			if laps > 0 && x.alike(k, tied, 0.75*p.sheet.Step) {
				x.lapped[k] += laps
			}
		}
	}
}

// alike tells whether a plate comes to all of a run within reach of one of its lengths. Where
// it ends the wrap is counted whole: it leads over to the plate.
func (x *run) alike(k int, tied []float64, reach float64) bool {
	for i, share := range tied {
		if share < 1 && x.at[i] < x.at[k+1]+reach && x.at[i+1] > x.at[k]-reach {
			return false
		}
	}
	return true
}

// laps is how much of a plating's wraps, m², is copper of the plate's planes on outer
// layers, which the plate has up to the wall: there a wrap adds its plating alone.
func (x *plate) laps(b *board.Board, p *board.Plating) (area float64) {
	for _, plane := range x.planes {
		if f, outer := b.FaceOf(plane.Layer.Text); outer {
			by := min(layerCopper(b, plane.Layer.Text), wrapCopper(b, p, f, Foil))
			area += quantity.InSquareMillimetres(p.Wrap[f].Value*by) * 1e-6
		}
	}
	return area
}

// gauss are the places, of a length, of Gauss's rule of two.
var gauss = [2]float64{0.5 - math.Sqrt(3)/6, 0.5 + math.Sqrt(3)/6}

// tie ties one length of a run to a plate, at two places, and at more where the plate
// comes to the wall at one of them only. It tells along which share it comes there.
func (t *trial) tie(p *plate, x *run, k, base int) float64 {
	from, to := x.at[k], x.at[k+1]
	type spot struct {
		share float64
		w     sheet.Weights
	}
	parts := 1.0
	var spots []spot
	for {
		spots = spots[:0]
		for i := range int(parts) {
			for _, g := range gauss {
				share := (float64(i) + g) / parts
				if w, ok := p.at(x.Stretch, from+(to-from)*share); ok {
					spots = append(spots, spot{share, w})
				}
			}
		}
		if parts > 1 || len(spots) != 1 {
			break
		}
		parts = 8
	}
	for _, v := range spots {
		nodes, weights := []int{x.nodes[k], x.nodes[k+1]}, []float64{v.share - 1, -v.share}
		for i, at := range v.w.Nodes {
			nodes, weights = append(nodes, base+at), append(weights, v.w.By[i])
		}
		t.fixed.tie(nodes, weights, firm*p.by*(to-from)/(2*parts*p.sheet.Step))
	}
	return float64(len(spots)) / (2 * parts)
}

// LayerNames are the layers, in the order of the stack.
func (m Measured) LayerNames(b *board.Board) []string {
	order := b.Layers()
	list := slices.Clone(m.Layers)
	slices.SortStableFunc(list, func(x, y string) int { return cmp.Compare(slices.Index(order, x), slices.Index(order, y)) })
	return list
}
