package board

import (
	"cmp"
	"math"
	"slices"
	"sort"

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

// Segments are the stretch's lines and arcs.
func (s Stretch) Segments() []geom.Segment {
	l := s.Profile.Path.Perimeter()
	if s.Length() >= l-Tolerance {
		return s.Profile.Path.Segments()
	}
	return s.Profile.Path.Stretch(math.Mod(s.From, l), math.Mod(s.To, l))
}

// Band is the copper that a plated stretch turns over a face, as pieces whose
// union it is: the strip of the wrap's width on the board's side, with square ends.
func (s Stretch) Band(f Face) []*geom.Loop {
	if s.Plating == nil || s.Plating.Wrap[f].Value <= 0 {
		return nil
	}
	return geom.Band(s.Segments(), s.Plating.Wrap[f].Value, !s.Profile.Cutout)
}

// Wall is what is plated and what is bare on one profile, each in order along
// the path. Plated stretches of different platings may meet or overlap.
type Wall struct {
	Plated []Stretch
	Bare   []Stretch
	// Share of the profile that is plated, 0 to 1.
	Share float64

	mixed bool // more than one plating, whose stretches may overlap
}

// PlatedIn calls visit with the plated stretches that touch the range from
// `from` to `to` along the path; it may run over the path's start.
func (w *Wall) PlatedIn(from, to float64, visit func(Stretch)) {
	around(w.Plated, w.mixed, from, to, visit)
}

// BareIn does the same for the bare stretches.
func (w *Wall) BareIn(from, to float64, visit func(Stretch)) {
	around(w.Bare, false, from, to, visit)
}

// around searches a list in order of its starts. Stretches of one plating are
// apart from each other, so the search ends at the first that does not reach
// the range; where platings are mixed, a long one may lie further back.
func around(list []Stretch, mixed bool, from, to float64, visit func(Stretch)) {
	if len(list) == 0 {
		return
	}
	l := list[0].Profile.Path.Perimeter()
	for _, shift := range [...]float64{-l, 0, l} {
		a, b := from+shift, to+shift
		i := sort.Search(len(list), func(i int) bool { return list[i].From > b+Tolerance })
		for i--; i >= 0; i-- {
			if list[i].To >= a-Tolerance {
				visit(list[i])
			} else if !mixed {
				break
			}
		}
	}
}

// buildWalls computes what is plated: the stretches of each plating, less its
// gaps, plus the rounded corners between two edges plated up to them.
func (b *Board) buildWalls() {
	profiles := b.Profiles()
	b.walls = make([]Wall, len(profiles))
	if len(b.Platings) == 0 || len(profiles) == 0 {
		for i, p := range profiles {
			b.walls[i].Bare = []Stretch{{Profile: p, To: p.Path.Perimeter()}}
		}
		return
	}
	cuts := map[string][][]geom.Interval{}
	for _, g := range b.Gaps {
		if g.Edge == nil || b.platings[g.Of.Text] == nil {
			continue
		}
		if cuts[g.Of.Text] == nil {
			cuts[g.Of.Text] = make([][]geom.Interval, len(profiles))
		}
		i := g.Edge.Profile.Index
		from, to := g.Edge.Range(g.From, g.To)
		cuts[g.Of.Text][i] = append(cuts[g.Of.Text][i], ring(from, to, g.Edge.Profile.Path.Perimeter())...)
	}
	covered := make([][]plated, len(profiles))
	for _, p := range b.Platings {
		covers := make([]geom.Intervals, len(profiles))
		for _, a := range p.Along {
			i := a.Edge.Profile.Index
			from, to := a.Edge.Range(a.From, a.To)
			covers[i] = append(covers[i], ring(from, to, a.Edge.Profile.Path.Perimeter())...)
		}
		for i := range profiles {
			if len(covers[i]) == 0 {
				continue
			}
			on := geom.Union(covers[i], Tolerance)
			if of := cuts[p.Name.Text]; of != nil && len(of[i]) > 0 {
				on = geom.Subtract(on, geom.Union(of[i], Tolerance), Tolerance)
			}
			covered[i] = append(covered[i], plated{p, on})
		}
	}
	for i, p := range profiles {
		b.walls[i] = p.wall(covered[i])
	}
}

// ring is a stretch of a ring as intervals; one without length is none at all.
func ring(from, to, length float64) geom.Intervals {
	switch {
	case to-from <= Tolerance:
		return nil
	case to-from >= length-Tolerance:
		return geom.Intervals{{From: 0, To: length}}
	}
	return geom.OnRing(from, to, length)
}

type plated struct {
	by *Plating
	on geom.Intervals
}

// wall adds the corners and turns intervals into stretches.
func (p *Profile) wall(covered []plated) Wall {
	l := p.Path.Perimeter()
	corners := make([]geom.Intervals, len(covered))
	for _, c := range p.Corners {
		i := slices.IndexFunc(covered, func(x plated) bool { return touches(x.on, c.From, l) })
		if i >= 0 && slices.ContainsFunc(covered, func(x plated) bool { return touches(x.on, c.To, l) }) {
			corners[i] = append(corners[i], ring(c.From, c.To, l)...)
		}
	}
	var w Wall
	var all geom.Intervals
	for i, c := range covered {
		on := geom.Union(append(c.on, corners[i]...), Tolerance)
		all = append(all, on...)
		for _, run := range on.Runs(l, Tolerance) {
			w.Plated = append(w.Plated, Stretch{p, c.by, run.From, run.To})
		}
	}
	if w.mixed = len(covered) > 1; w.mixed {
		slices.SortStableFunc(w.Plated, func(a, b Stretch) int { return cmp.Compare(a.From, b.From) })
		all = geom.Union(all, Tolerance)
	}
	w.Share = all.Total() / l
	if len(all) == 0 {
		w.Bare = []Stretch{{Profile: p, To: l}}
		return w
	}
	for _, run := range geom.Complement(all, l).Runs(l, Tolerance) {
		if run.To-run.From > Tolerance {
			w.Bare = append(w.Bare, Stretch{Profile: p, From: run.From, To: run.To})
		}
	}
	return w
}

// touches tells whether an interval ends or starts at a point of the ring.
func touches(on geom.Intervals, at, l float64) bool {
	for _, x := range [...]float64{at, at - l, at + l} {
		i := sort.Search(len(on), func(i int) bool { return on[i].To >= x-Tolerance })
		if i < len(on) && on[i].From <= x+Tolerance {
			return true
		}
	}
	return false
}

// Overlap is how much of the range from `from` to `to` along a wall's profile
// is plated, nm; where platings overlap it counts each.
func Overlap(w *Wall, from, to float64) float64 {
	sum := 0.0
	w.PlatedIn(from, to, func(s Stretch) {
		l := s.Profile.Path.Perimeter()
		for _, shift := range [...]float64{-l, 0, l} {
			sum += math.Max(0, math.Min(s.To, to+shift)-math.Max(s.From, from+shift))
		}
	})
	return sum
}

// PlatedLength is the length of all stretches of one plating, nm.
func (b *Board) PlatedLength(p *Plating) float64 {
	sum := 0.0
	for i := range b.walls {
		for _, s := range b.walls[i].Plated {
			if s.Plating == p {
				sum += s.Length()
			}
		}
	}
	return sum
}

// Openings lists the bare stretches of a plating's wall: those of every
// profile that it runs on, between two ends of plated copper.
func (b *Board) Openings(p *Plating) []Stretch {
	var list []Stretch
	for i := range b.walls {
		on := slices.ContainsFunc(b.walls[i].Plated, func(s Stretch) bool { return s.Plating == p })
		if on {
			list = append(list, b.walls[i].Bare...)
		}
	}
	return list
}

// WrapArea is the area of copper that a plating turns over a face, clipped to
// the board, nm².
func (b *Board) WrapArea(p *Plating, f Face) float64 {
	region, ok := b.Region()
	if !ok {
		return 0
	}
	var bands []*geom.Loop
	for i := range b.walls {
		for _, s := range b.walls[i].Plated {
			if s.Plating == p {
				bands = append(bands, s.Band(f)...)
			}
		}
	}
	if len(bands) == 0 {
		return 0
	}
	groups := [][]*geom.Loop{{region.Outer}, region.Holes, bands}
	return geom.AreaCovered(groups, func(cover []int) bool { return cover[0] > 0 && cover[1] == 0 && cover[2] > 0 })
}
