package figures

import (
	"math"
	"slices"

	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

// Foil is the foil's thickness on a layer that no stack states, nm: 35 µm (1 oz),
// common practice, no source.
const Foil = 35e3

// section is what conducts along a plated edge, m²: the wall, and beside it the
// wraps and the strips on inner layers that have no plane.
type section struct{ wall, beside float64 }

// ring is the plated copper along all profiles, as lines of one length each.
type ring struct {
	b        *board.Board
	height   float64 // nm
	runs     []run
	nodes    int
	sections map[*board.Plating]*section
	ends     map[end]int
}

// run is a stretch of the finished wall, cut at places along the path; each has a
// node. Stretches that touch have one in common.
type run struct {
	board.Stretch
	at    []float64
	nodes []int
	// lapped is what of the copper beside the wall, m², each length of the run has in
	// common with planes that are counted themselves; nil where there are none.
	lapped []float64
}

// end is a place on a profile, in steps that are wider than rounding.
type end struct {
	profile int
	at      int64
}

// newRing cuts every finished stretch where cuts says.
func newRing(b *board.Board, height float64, cuts func(board.Stretch) []float64) *ring {
	r := &ring{b: b, height: height, sections: map[*board.Plating]*section{}, ends: map[end]int{}}
	for _, p := range b.Profiles() {
		for _, s := range b.Finished(p).Plated {
			r.add(s, cuts(s))
		}
	}
	return r
}

// part is a ring of some of the runs, cut where cuts says.
func (r *ring) part(only []int, cuts func(board.Stretch) []float64) *ring {
	part := &ring{b: r.b, height: r.height, sections: r.sections, ends: map[end]int{}}
	for _, i := range only {
		s := r.runs[i].Stretch
		part.add(s, cuts(s))
	}
	return part
}

// add adds a stretch, cut at the places that lie on it.
func (r *ring) add(s board.Stretch, cuts []float64) {
	x := run{Stretch: s, at: []float64{s.From, s.To}}
	for _, at := range cuts {
		if at > s.From+board.Tolerance && at < s.To-board.Tolerance {
			x.at = append(x.at, at)
		}
	}
	slices.Sort(x.at)
	x.at = slices.CompactFunc(x.at, func(a, b float64) bool { return math.Abs(b-a) <= board.Tolerance })
	x.at[len(x.at)-1] = s.To
	for _, at := range x.at {
		x.nodes = append(x.nodes, r.node(s.Profile, at))
	}
	r.runs = append(r.runs, x)
}

// node is the one at a place of a profile.
func (r *ring) node(p *board.Profile, at float64) int {
	const wide = 8 * board.Tolerance
	l := p.Path.Perimeter()
	if at = math.Mod(at, l); at > l-wide/2 {
		at -= l
	}
	k := end{p.Index, int64(math.Round(at / wide))}
	for _, near := range [...]int64{0, -1, 1} {
		if n, ok := r.ends[end{k.profile, k.at + near}]; ok {
			return n
		}
	}
	r.ends[k] = r.nodes
	r.nodes++
	return r.nodes - 1
}

// section is a plating's along the edge.
func (r *ring) section(p *board.Plating) section {
	s := r.sections[p]
	if s == nil {
		made := sectionOf(r.b, p, r.height)
		s, r.sections[p] = &made, &made
	}
	return *s
}

func sectionOf(b *board.Board, p *board.Plating, height float64) section {
	s := section{wall: height * thick(p)}
	for _, f := range board.Faces {
		s.beside += p.Wrap[f].Value * wrapCopper(b, p, f, Foil)
	}
	for _, l := range b.Layers() {
		if _, outer := b.FaceOf(l); !outer && b.Joins(p, l) && !planeMeets(b, p, l) {
			s.beside += copper.StripWidth * layerCopper(b, l)
		}
	}
	return section{quantity.InSquareMillimetres(s.wall) * 1e-6, quantity.InSquareMillimetres(s.beside) * 1e-6}
}

// thick is the copper of a plating's wall, nm; 25 µm are taken where it does not say.
func thick(p *board.Plating) float64 {
	if p.Copper.Given() {
		return p.Copper.Value
	}
	return 25e3
}

// wrapCopper is the copper of a wrap, nm: the foil and the plating on it. A layer of
// which the stack states no foil has its finished thickness; one that no stack states
// has foil as thick as the caller takes it.
func wrapCopper(b *board.Board, p *board.Plating, f board.Face, foil float64) float64 {
	plated := thick(p)
	finished, base := layerOf(b, b.OuterLayer(f))
	switch {
	case finished == 0:
		return foil + plated
	case base > 0:
		return max(finished, base+plated)
	}
	return max(finished, plated)
}

// layerOf is a layer's finished thickness and its foil's, nm, 0 where not stated.
func layerOf(b *board.Board, name string) (finished, base float64) {
	for _, l := range b.Stack().Layered() {
		if l.Copper && l.Name.Text == name {
			return l.Thickness.Value, l.Base.Value
		}
	}
	return 0, 0
}

func layerCopper(b *board.Board, name string) float64 {
	if f, ok := b.FaceOf(name); ok {
		name = b.OuterLayer(f)
	}
	if finished, _ := layerOf(b, name); finished > 0 {
		return finished
	}
	return Foil
}

// planeMeets tells whether a plane of a plating's net comes to it on a layer.
func planeMeets(b *board.Board, p *board.Plating, layer string) bool {
	return slices.ContainsFunc(b.Planes(), func(x *board.Plane) bool { return b.SameLayer(x.Layer.Text, layer) && b.Meets(x, p) })
}

// tiesTo tells whether a plane's copper is one with a plating's: it runs to the wall,
// or lies under a wrap that is wider than its pullback.
func tiesTo(b *board.Board, x *board.Plane, p *board.Plating) bool {
	if b.RunsTo(x, p) {
		return true
	}
	f, outer := b.FaceOf(x.Layer.Text)
	return outer && b.Meets(x, p) && p.Wrap[f].Value > x.Pullback.Value
}

// contacts are where a plane comes to a stretch, along its path.
func contacts(x *board.Plane, s board.Stretch) geom.Intervals {
	if x.Within == nil {
		return geom.Intervals{{From: s.From, To: s.To}}
	}
	const inward = 2 // nm: a side of the rectangle may lie along the profile
	var list geom.Intervals
	at := s.From
	for _, g := range s.Segments() {
		if line, ok := geom.Parallel(g, inward, !s.Profile.Cutout); ok {
			by := g.Length() / line.Length()
			for _, part := range line.ClipIn(*x.Within, 1) {
				_, from, _ := line.Nearest(part.A)
				if long := part.Length(); from+long > line.Length() {
					from = line.Length() - long // a whole circle begins and ends in one place
				}
				list = append(list, geom.Interval{From: at + max(0, from*by), To: at + (from+part.Length())*by})
			}
		}
		at += g.Length()
	}
	return geom.Union(list, board.Tolerance)
}

// wallOf tells how much of its copper a wall has, 0 to 1, from a place to another of
// a run.
type wallOf func(run *run, from, to float64) float64

func whole(*run, float64, float64) float64 { return 1 }

// conduct puts some of the runs into a network, which has their nodes: same tells
// which are one.
func (r *ring) conduct(n *network, same func(int) int, only []int, wall wallOf) {
	for _, i := range only {
		x := &r.runs[i]
		s := r.section(x.Plating)
		for k := range len(x.at) - 1 {
			from, to := x.at[k], x.at[k+1]
			area := s.wall*wall(x, from, to) + s.beside
			if x.lapped != nil {
				area -= x.lapped[k]
			}
			n.join(same(x.nodes[k]), same(x.nodes[k+1]), area/physics.Rho20/quantity.InMetres(to-from))
		}
	}
}
