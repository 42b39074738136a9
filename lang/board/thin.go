package board

import (
	"slices"

	"hemline/lang/geom"
)

// obstacle is what a fence's vias may not meet.
type obstacle struct {
	shape  *geom.Loop
	net    Name       // vias of this net may meet it; not Given for what is drilled, cut or soldered to
	of     *Fence     // it is a via of this fence, the text's own
	member int        // and which
	centre geom.Point // of it
}

// thinFences leaves out the vias of fences with a clearance that would come
// nearer than that to what they may not meet: copper of other nets that does not
// give way as planes do, what is soldered to of any net (pins, legs, half holes'
// lands), holes, half holes, perforations, cutouts, and vias that stand before
// them in the fence or the text, or are of fences that state no clearance.
func (m *model) thinFences(before *model) {
	if !slices.ContainsFunc(m.fences.items, func(f *Fence) bool { return f.Clearance.Given() }) {
		return
	}
	m.statedFences = m.fences.items
	if m.sameObstacles(before) {
		m.fences.items = before.fences.items
		return
	}
	o := m.obstacles()
	m.fences.items = restated(m.statedFences, before.statedFences, before.fences.items, func(f, stood *Fence) *Fence {
		if !f.Clearance.Given() {
			return f
		}
		out := f.without(o.leftOut(f))
		if stood != nil && slices.Equal(stood.Vias, out.Vias) {
			return stood
		}
		return out
	})
}

// sameObstacles tells whether the fences and what they keep from are those of the version before.
func (m *model) sameObstacles(before *model) bool {
	return same(m.statedFences, before.statedFences) && m.geometry == before.geometry && same(m.features.items, before.features.items) &&
		same(m.holes.items, before.holes.items) && same(m.connectors.items, before.connectors.items) && same(m.tabs.items, before.tabs.items) &&
		same(m.castellations.items, before.castellations.items) && sameWalls(m.walls, before.walls)
}

// obstacles are what fences keep from, ready to be searched.
type obstacles struct {
	list  []obstacle
	index *geom.Index
	// gone are the vias that do not stand, of the fences with a clearance that were
	// looked at; those still to be looked at give way themselves.
	gone map[*Fence][]bool
}

func (m *model) obstacles() *obstacles {
	o := &obstacles{gone: map[*Fence][]bool{}}
	cut := func(l *geom.Loop) { o.list = append(o.list, obstacle{shape: l}) }
	copper := func(l *geom.Loop, n Name) { o.list = append(o.list, obstacle{shape: l, net: n}) }
	for _, x := range m.features.items {
		copper(x.Shape, x.Net)
	}
	for _, h := range m.holes.items {
		cut(h.Path())
		if land := h.LandPath(); land != nil {
			copper(land, h.Net)
		}
	}
	for _, c := range m.connectors.items {
		for _, p := range c.Pins {
			cut(c.Pad(p))
		}
		for i := 0; c.Legs != nil && i < len(c.LegsAt()); i++ {
			cut(c.Leg(i))
		}
	}
	for _, c := range m.castellations.items {
		for i, at := range c.Centres {
			cut(geom.Circle(c.Edge.Point(at), c.Hole.Value))
			cut(c.Land(i))
		}
	}
	for _, t := range m.tabs.items {
		for _, at := range t.Holes() {
			cut(geom.Circle(at, t.Hole.Value))
		}
	}
	for _, p := range m.geometry.profiles {
		if p.Cutout {
			cut(p.Path)
		}
	}
	const thin = 1e3 // nm, of a wall without a wrap
	for _, w := range m.walls {
		for _, s := range w.Plated {
			for _, l := range s.Inward(max(s.Plating.Wrap[Top].Value, s.Plating.Wrap[Bottom].Value, thin)) {
				copper(l, s.Plating.Net)
			}
		}
	}
	for _, f := range m.statedFences {
		for i, at := range f.Vias {
			o.list = append(o.list, obstacle{shape: geom.Circle(at, f.across()), of: f, member: i, centre: at})
		}
	}
	boxes := make([]geom.Box, len(o.list))
	for i, x := range o.list {
		boxes[i] = x.shape.Box()
	}
	o.index = geom.NewIndex(boxes)
	return o
}

// across is the diameter of the fence's pads, or of its holes.
func (f *Fence) across() float64 { return max(f.Land.Value, f.Hole.Value) }

// leftOut tells of each via of a fence as it is stated whether it does not stand.
func (o *obstacles) leftOut(f *Fence) []bool {
	out := make([]bool, len(f.Vias))
	o.gone[f] = out
	reach := f.across()/2 + f.Clearance.Value
	for i, at := range f.Vias {
		o.index.Search(geom.Box{Min: at, Max: at}.Grow(reach), func(k int) bool {
			x := &o.list[k]
			if !o.keeps(f, i, x) {
				return true
			}
			if x.of != nil && x.of.Net.Given() && x.of.Net.Text == f.Net.Text { // their pads may meet
				out[i] = at.Dist(x.centre) < (f.Hole.Value+x.of.Hole.Value)/2+f.Clearance.Value-Tolerance
				return !out[i]
			}
			_, _, d := x.shape.Nearest(at)
			out[i] = d < reach-Tolerance || x.shape.Contains(at)
			return !out[i]
		})
	}
	return out
}

// keeps tells whether via number i of a fence keeps from an obstacle.
func (o *obstacles) keeps(f *Fence, i int, x *obstacle) bool {
	switch gone := o.gone[x.of]; {
	case x.of == nil:
		return !x.net.Given() || x.net.Text != f.Net.Text
	case gone == nil:
		return !x.of.Clearance.Given()
	default:
		// The vias of one row are as far apart as its pitch says.
		return !gone[x.member] && (x.of != f || x.member < f.rowOf(i))
	}
}

// rowOf is the first via of the row that a via of the fence, as it is stated, is in.
func (f *Fence) rowOf(i int) int {
	k := slices.IndexFunc(f.runs, func(r run) bool { return i < r.to })
	return f.runs[k].from
}

// without is the fence without some of its vias.
func (f *Fence) without(gone []bool) *Fence {
	out := *f
	out.Vias = make([]geom.Point, 0, len(f.Vias))
	for i, at := range f.Vias {
		if !gone[i] {
			out.Vias = append(out.Vias, at)
		}
	}
	out.LeftOut = len(f.Vias) - len(out.Vias)
	for _, r := range f.runs {
		first, last := -1, -1
		for i := r.from; i < r.to; i++ {
			if gone[i] {
				continue
			}
			if last >= 0 && i > last+1 {
				out.measure(f.Vias[last], f.Vias[i])
			}
			if first < 0 {
				first = i
			}
			last = i
		}
		if r.round && first >= 0 && (first > r.from || last < r.to-1) && first != last {
			out.measure(f.Vias[last], f.Vias[first])
		}
	}
	return &out
}
