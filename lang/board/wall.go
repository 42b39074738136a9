package board

import (
	"cmp"
	"iter"
	"math"
	"slices"
	"sort"
	"sync"

	"hemline/lang/geom"
)

// Stretch is a run of a profile, From < To along its path; one that runs over
// the path's start has To beyond the perimeter.
type Stretch struct {
	Profile  *Profile
	Plating  *Plating // nil for a bare one
	From, To float64
}

// Length is the stretch's length along the profile, nm.
func (s Stretch) Length() float64 { return s.To - s.From }

// Round tells whether a stretch is all of its profile.
func (s Stretch) Round() bool { return s.Length() >= s.Profile.Path.Perimeter()-Tolerance }

// Segments are the stretch's lines and arcs.
func (s Stretch) Segments() []geom.Segment {
	if s.Round() {
		return s.Profile.Path.Segments()
	}
	l := s.Profile.Path.Perimeter()
	return s.Profile.Path.Stretch(math.Mod(s.From, l), math.Mod(s.To, l))
}

// Band is the copper that a plated stretch turns over a face, as pieces whose
// union it is: the strip of the wrap's width on the board's side, with square ends.
func (s Stretch) Band(f Face) []*geom.Loop {
	if s.Plating == nil || s.Plating.Wrap[f].Value <= 0 {
		return nil
	}
	return s.Inward(s.Plating.Wrap[f].Value)
}

// Inward is the strip of a width, nm, along a stretch on the board's side, as
// pieces with square ends whose union it is.
func (s Stretch) Inward(width float64) []*geom.Loop {
	return geom.Band(s.Segments(), width, !s.Profile.Cutout)
}

// Outward is the same on the side off the board.
func (s Stretch) Outward(width float64) []*geom.Loop {
	return geom.Band(s.Segments(), width, s.Profile.Cutout)
}

// DistanceTo is how far a stretch is from a shape, nm: 0 where they meet.
func (s Stretch) DistanceTo(shape *geom.Loop) float64 {
	least := math.Inf(1)
	for _, piece := range s.Segments() {
		if shape.Contains(piece.At(piece.Length() / 2)) {
			return 0
		}
		for _, side := range shape.Segments() {
			if d, _, _ := geom.Distance(piece, side); d < least {
				least = d
			}
		}
	}
	return least
}

// Widened is a stretch with more of the profile, nm, at both ends, up to all of it.
func (s Stretch) Widened(by float64) Stretch { return s.widened(by, by) }

// widened is a stretch with more of the profile, nm, before and after it.
func (s Stretch) widened(before, after float64) Stretch {
	round := s.Profile.Path.Perimeter()
	if s.Length()+before+after >= round-Tolerance {
		s.From, s.To = 0, round
		return s
	}
	s.From, s.To = s.From-before, s.To+after
	if s.From < 0 {
		s.From, s.To = s.From+round, s.To+round
	}
	return s
}

// Wall is what is plated and what is bare on one profile, each in order along
// the path. Plated stretches of different platings may meet or overlap; see
// Board.Finished for the wall on which none do.
type Wall struct {
	Plated []Stretch
	Bare   []Stretch
	// Share of the profile that is plated, 0 to 1.
	Share float64

	// How far the stretches up to each one reach, where one reaches beyond a later
	// one: those of several platings may overlap, and a long one may lie far
	// before the place that is looked at.
	platedTo, bareTo []float64
}

// Whole tells whether nothing of the profile is bare.
func (w *Wall) Whole() bool { return len(w.Plated) > 0 && len(w.Bare) == 0 }

// PlatedIn calls visit once with each plated stretch that touches the range
// from `from` to `to` along the path; it may run over the path's start.
func (w *Wall) PlatedIn(from, to float64, visit func(Stretch)) {
	around(w.Plated, w.platedTo, from, to, visit)
}

// BareIn does the same for the bare stretches.
func (w *Wall) BareIn(from, to float64, visit func(Stretch)) {
	around(w.Bare, w.bareTo, from, to, visit)
}

// around searches a list in order of its starts, back from the last that can
// touch the range to where none before reaches it, and visits each that does
// once: the range lies on a ring, and a stretch may touch it on both sides of
// the path's start.
func around(list []Stretch, reach []float64, from, to float64, visit func(Stretch)) {
	if len(list) == 0 {
		return
	}
	l := list[0].Profile.Path.Perimeter()
	shifts := [...]float64{-l, 0, l}
	for turn, shift := range shifts {
		a, b := from+shift-Tolerance, to+shift+Tolerance
		i := sort.Search(len(list), func(i int) bool { return list[i].From > b })
		for i--; i >= 0; i-- {
			s := list[i]
			if reach != nil && reach[i] < a || reach == nil && s.To < a {
				break
			}
			before := slices.ContainsFunc(shifts[:turn], func(shift float64) bool {
				return s.From <= to+shift+Tolerance && s.To >= from+shift-Tolerance
			})
			if s.To >= a && !before {
				visit(s)
			}
		}
	}
}

// buildWalls computes what is plated: the stretches of each plating, less its
// gaps, plus the rounded corners between two edges plated up to them. Where
// none of these has changed since the version before, its walls stand.
func (m *model) buildWalls(before *model) {
	platings := m.contents.platings.items
	if before.walls != nil && m.geometry == before.geometry && same(platings, before.contents.platings.items) && same(m.opened.all, before.opened.all) {
		m.walls, m.stretches = before.walls, before.stretches
		return
	}
	profiles := m.geometry.profiles
	m.walls = make([]Wall, len(profiles))
	gaps := map[string][]*Gap{} // by the plating's name
	if len(platings) == 1 {
		gaps[platings[0].Name.Text] = make([]*Gap, 0, len(m.opened.all))
	}
	for _, g := range m.opened.all {
		gaps[g.Of.Text] = append(gaps[g.Of.Text], g)
	}
	covered := make([][]*plated, len(profiles))
	for _, p := range platings {
		// A plating runs on few of the profiles, however many there are.
		for i, on := range p.covers(gaps[p.Name.Text]) {
			covered[i] = append(covered[i], on)
		}
	}
	for i, p := range profiles {
		m.walls[i] = p.wall(covered[i])
	}
	walls := m.walls // a later version's model may keep the function, and is not to keep this one
	m.stretches = sync.OnceValue(func() map[*Plating][]Stretch { return byPlating(walls) })
}

// byPlating are the stretches of each plating, profile by profile.
func byPlating(walls []Wall) map[*Plating][]Stretch {
	list := map[*Plating][]Stretch{}
	for i := range walls {
		for _, s := range walls[i].Plated {
			list[s.Plating] = append(list[s.Plating], s)
		}
	}
	return list
}

// plated is what one plating covers of one profile.
type plated struct {
	by     *Plating
	on     geom.Intervals
	cut    geom.Intervals
	corner map[end]bool // ends of edges at a rounded corner: true where plated up to it, false where a gap keeps it bare
}

// end is an end of an edge's straight piece: where it starts along the path,
// or where it ends.
type end struct {
	edge *Edge
	last bool
}

// covers finds what a plating covers, by Profile.Index.
func (p *Plating) covers(gaps []*Gap) map[int]*plated {
	list := map[int]*plated{}
	for _, a := range p.Along {
		c := list[a.Edge.Profile.Index]
		if c == nil {
			c = &plated{by: p, corner: map[end]bool{}}
			list[a.Edge.Profile.Index] = c
		}
		c.on = a.Edge.ring(c.on, a.From, a.To)
		c.reach(a.Edge, a.From, a.To)
	}
	for _, g := range gaps {
		c := list[g.Edge.Profile.Index]
		if c == nil {
			continue
		}
		if c.cut == nil {
			c.cut = make(geom.Intervals, 0, len(gaps))
		}
		c.cut = g.Edge.ring(c.cut, g.From, g.To)
		c.bare(g.Edge, g.From, g.To)
	}
	for _, c := range list {
		c.on = geom.Subtract(c.on, c.cut, Tolerance)
	}
	return list
}

// reach notes the rounded corners that a stretch of an edge comes up to.
func (c *plated) reach(e *Edge, from, to float64) {
	if len(e.Profile.Corners) == 0 || to-from <= Tolerance {
		return
	}
	for _, last := range [...]bool{false, true} {
		if e.reaches(last, from, to) {
			c.corner[end{e, last}] = true
		}
	}
}

// reaches tells whether a stretch comes up to an end of an edge's straight piece.
func (e *Edge) reaches(last bool, from, to float64) bool {
	at := e.straightEnd(last)
	return from <= at+Tolerance && at-Tolerance <= to
}

// bare notes the rounded corners that a gap comes up to or lies on: positions
// on an edge count from the corner's sharp point, so that a gap may lie on the
// rounding alone.
func (c *plated) bare(e *Edge, from, to float64) {
	if len(e.Profile.Corners) == 0 || to-from <= Tolerance {
		return
	}
	for _, last := range [...]bool{false, true} {
		if e.frees(last, from, to) {
			c.corner[end{e, last}] = false
		}
	}
}

// frees tells whether a gap comes up to an end of an edge's straight piece, or
// lies beyond it.
func (e *Edge) frees(last bool, from, to float64) bool {
	at := e.straightEnd(last)
	if beyond := last != e.Reversed; beyond {
		return to >= at-Tolerance
	}
	return from <= at+Tolerance
}

// Interrupts tells whether a gap keeps bare what its plating would cover: a
// part of a stretch, or a rounded corner that it frees.
func (b *Board) Interrupts(g *Gap) bool {
	p := b.PlatingNamed(g.Of.Text)
	return p != nil && interrupts(b.Platings(), p, g)
}

// interrupts is Interrupts for one of the platings of a board.
func interrupts(platings []*Plating, p *Plating, g *Gap) bool {
	if p.RunsOn(g.Edge, g.From, g.To) {
		return true
	}
	for _, c := range g.Edge.Profile.Corners {
		before, after := end{c.Before, true}, end{c.After, false}
		if g.Edge == c.After {
			before, after = after, before
		}
		if before.edge == g.Edge && g.Edge.frees(before.last, g.From, g.To) && p.comesTo(before) &&
			slices.ContainsFunc(platings, func(x *Plating) bool { return x.comesTo(after) }) {
			return true
		}
	}
	return false
}

// RunsOn tells whether a plating covers a part of a stretch of an edge, gaps aside.
func (p *Plating) RunsOn(e *Edge, from, to float64) bool {
	from, to = e.Range(from, to)
	l := e.Profile.Path.Perimeter()
	return slices.ContainsFunc(p.Along, func(a Along) bool {
		if a.Edge.Profile != e.Profile {
			return false
		}
		start, end := a.Edge.Range(a.From, a.To)
		return slices.ContainsFunc([]float64{-l, 0, l}, func(shift float64) bool {
			return math.Min(to+shift, end)-math.Max(from+shift, start) > Tolerance
		})
	})
}

// comesTo tells whether a plating runs up to an end of an edge, gaps aside.
func (p *Plating) comesTo(x end) bool {
	return slices.ContainsFunc(p.Along, func(a Along) bool {
		return a.Edge == x.edge && a.To-a.From > Tolerance && a.Edge.reaches(x.last, a.From, a.To)
	})
}

// straightEnd is the position at which the edge's piece starts along the path,
// or ends.
func (e *Edge) straightEnd(last bool) float64 {
	if last != e.Reversed {
		return e.Base + e.To - e.From
	}
	return e.Base
}

// ring adds a stretch between two positions to intervals along the path.
func (e *Edge) ring(to geom.Intervals, from, until float64) geom.Intervals {
	a, b := e.Range(from, until)
	return ring(to, a, b, e.Profile.Path.Perimeter())
}

// ring adds a stretch of a ring to intervals; one without length is none at all.
func ring(to geom.Intervals, from, until, length float64) geom.Intervals {
	switch {
	case until-from <= Tolerance:
		return to
	case until-from >= length-Tolerance:
		return append(to, geom.Interval{From: 0, To: length})
	case from >= 0 && until <= length:
		return append(to, geom.Interval{From: from, To: until})
	}
	return append(to, geom.OnRing(from, until, length)...)
}

// wall adds the corners to what is covered and makes stretches of it.
func (p *Profile) wall(covered []*plated) Wall {
	l := p.Path.Perimeter()
	for _, c := range p.Corners {
		if by := c.platedBy(covered); by != nil {
			by.on = geom.Union(ring(by.on, c.From, c.To, l), Tolerance)
		}
	}
	return p.stretched(covered)
}

// stretched makes stretches of what each plating covers.
func (p *Profile) stretched(covered []*plated) Wall {
	l := p.Path.Perimeter()
	var w Wall
	var all geom.Intervals
	for _, c := range covered {
		if len(covered) == 1 {
			all = c.on
		} else {
			all = append(all, c.on...)
		}
		runs := c.on.Runs(l, Tolerance)
		w.Plated = slices.Grow(w.Plated, len(runs))
		for _, run := range runs {
			w.Plated = append(w.Plated, Stretch{p, c.by, run.From, run.To})
		}
	}
	if len(covered) > 1 {
		slices.SortStableFunc(w.Plated, func(a, b Stretch) int { return cmp.Compare(a.From, b.From) })
		all = geom.Union(all, Tolerance)
	}
	w.platedTo, w.Share = furthest(w.Plated), all.Total()/l
	if len(all) == 0 {
		w.Bare = []Stretch{{Profile: p, To: l}}
	}
	if len(all) > 0 {
		runs := geom.Complement(all, l).Runs(l, Tolerance)
		w.Bare = make([]Stretch, 0, len(runs))
		for _, run := range runs {
			if run.To-run.From > Tolerance {
				w.Bare = append(w.Bare, Stretch{Profile: p, From: run.From, To: run.To})
			}
		}
	}
	w.bareTo = furthest(w.Bare)
	return w
}

// platedBy is the plating that a corner belongs to: one that comes up to it
// on both sides, else, where two do from one side each, the one before it
// along the path; nil for a bare corner.
func (c *Corner) platedBy(covered []*plated) *plated {
	before, after := end{c.Before, true}, end{c.After, false}
	var first, second *plated
	for _, x := range covered {
		switch {
		case x.corner[before] && x.corner[after]:
			return x
		case x.corner[before] && first == nil:
			first = x
		case x.corner[after] && second == nil:
			second = x
		}
	}
	if second == nil {
		return nil
	}
	return first
}

// furthest is, for each stretch of a list, how far it and those before it
// reach; nil where each reaches furthest itself.
func furthest(list []Stretch) []float64 {
	if slices.IsSortedFunc(list, func(a, b Stretch) int { return cmp.Compare(a.To, b.To) }) {
		return nil
	}
	out := make([]float64, len(list))
	most := 0.0
	for i, s := range list {
		most = math.Max(most, s.To)
		out[i] = most
	}
	return out
}

// Overlap is how much of the range from `from` to `to` along a wall's profile
// is plated, nm; where platings overlap it counts each.
func Overlap(w *Wall, from, to float64) float64 {
	sum := 0.0
	w.PlatedIn(from, to, func(s Stretch) {
		for part := range s.Parts(from, to) {
			sum += part.Length()
		}
	})
	return sum
}

// Parts gives what of a stretch lies between two points along its profile's path,
// which may run over the path's start: one part for each side of the start on
// which they overlap.
func (s Stretch) Parts(from, to float64) iter.Seq[Stretch] {
	return func(yield func(Stretch) bool) {
		l := s.Profile.Path.Perimeter()
		for _, shift := range [...]float64{-l, 0, l} {
			part := s
			part.From, part.To = math.Max(s.From, from+shift), math.Min(s.To, to+shift)
			if part.Length() > 0 && !yield(part) {
				return
			}
		}
	}
}

// PlatedBy gives the stretches of one plating, profile by profile, as its copper
// turns over the faces: those too that another plates already, and over the
// roots of premetallised tabs.
func (b *Board) PlatedBy(p *Plating) iter.Seq[Stretch] {
	return func(yield func(Stretch) bool) {
		for _, s := range b.stretches()[p] {
			if !yield(s) {
				return
			}
		}
	}
}
