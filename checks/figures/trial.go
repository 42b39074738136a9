package figures

import (
	"math"
	"slices"

	"hemline/checks/sheet"
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

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
