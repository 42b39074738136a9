package board

import (
	"cmp"
	"fmt"
	"iter"
	"slices"
	"sort"
	"sync"

	"hemline/lang/geom"
)

// finished is the wall of one profile on the finished board, and what it takes
// to tell of it.
type finished struct {
	wall *Wall
	// once is what is plated with each part of the profile once, of the plating
	// that the text states first; the roots are not yet taken out of it.
	once []Stretch
	// roots are the parts of the profile that premetallised tabs stand on.
	roots geom.Intervals
}

// finishWalls works out the finished walls; they stand where the walls and the
// premetallised tabs are those of the version before.
func (m *model) finishWalls(before *model) {
	for _, t := range m.tabs.items {
		if t.Premetallised {
			m.premetallised = append(m.premetallised, t)
		}
	}
	if len(m.walls) > 0 && sameWalls(m.walls, before.walls) && slices.Equal(m.premetallised, before.premetallised) {
		m.finished, m.parted = before.finished, before.parted
		return
	}
	m.finished = make([]finished, len(m.walls))
	list := m.finished // as with the stretches: a later version is not to keep this one
	m.parted = sync.OnceValue(func() map[*Plating]parted { return part(list) })
	for _, t := range m.premetallised {
		f := &m.finished[t.Edge.Profile.Index]
		f.roots = t.Edge.ring(f.roots, t.From(), t.To())
	}
	for i, p := range m.geometry.profiles {
		w, f := &m.walls[i], &m.finished[i]
		f.wall, f.once = w, w.Plated
		twice := m.doubled(p, w)
		if len(w.Plated) == 0 || len(f.roots) == 0 && !twice {
			continue
		}
		covered := m.once(p, w, twice)
		if twice {
			f.once = p.stretched(covered).Plated
		}
		if f.roots = geom.Union(f.roots, Tolerance); twice || len(f.roots) > 0 {
			for _, c := range covered {
				c.on = geom.Subtract(c.on, f.roots, Tolerance)
			}
			final := p.stretched(covered)
			f.wall = &final
		}
	}
}

// parted are the stretches that count for a plating, profile by profile: of what
// is plated once, and of the finished wall.
type parted struct{ once, final []Stretch }

func part(list []finished) map[*Plating]parted {
	out := map[*Plating]parted{}
	for _, f := range list {
		for _, s := range f.once {
			x := out[s.Plating]
			x.once = append(x.once, s)
			out[s.Plating] = x
		}
		for _, s := range f.wall.Plated {
			x := out[s.Plating]
			x.final = append(x.final, s)
			out[s.Plating] = x
		}
	}
	return out
}

// doubled tells whether two platings run on any part of a profile.
func (m *model) doubled(p *Profile, w *Wall) bool {
	if len(m.contents.platings.items) < 2 {
		return false
	}
	sum := 0.0
	for _, s := range w.Plated {
		sum += s.Length()
	}
	return sum > w.Share*p.Path.Perimeter()+Tolerance
}

// once is what each plating covers of a profile where the one that the text
// states first has what several do; twice tells that any of it has several.
func (m *model) once(p *Profile, w *Wall, twice bool) (covered []*plated) {
	l := p.Path.Perimeter()
	by := map[*Plating]*plated{}
	for _, s := range w.Plated {
		if by[s.Plating] == nil {
			by[s.Plating] = &plated{by: s.Plating}
			covered = append(covered, by[s.Plating])
		}
		by[s.Plating].on = ring(by[s.Plating].on, s.From, s.To, l)
	}
	if !twice {
		return covered
	}
	order := make(map[*Plating]int, len(m.contents.platings.items))
	for i, x := range m.contents.platings.items {
		order[x] = i
	}
	slices.SortFunc(covered, func(a, b *plated) int { return cmp.Compare(order[a.by], order[b.by]) })
	parts := newParts(covered)
	for _, c := range covered {
		c.on = parts.take(c.on)
	}
	return covered
}

// parts are a path cut wherever something on it starts or ends. Each part can be
// taken once.
type parts struct {
	cuts []float64
	free []int // the first part from this one on that is not taken, or one nearer to it
}

func newParts(covered []*plated) *parts {
	p := &parts{}
	for _, c := range covered {
		for _, v := range c.on {
			p.cuts = append(p.cuts, v.From, v.To)
		}
	}
	slices.Sort(p.cuts)
	p.cuts = slices.Compact(p.cuts)
	p.free = make([]int, len(p.cuts)+1)
	for i := range p.free {
		p.free[i] = i
	}
	return p
}

// take takes the parts of intervals that are free.
func (p *parts) take(on geom.Intervals) (got geom.Intervals) {
	for _, v := range on {
		last := sort.SearchFloat64s(p.cuts, v.To)
		for i := p.next(sort.SearchFloat64s(p.cuts, v.From)); i < last; i = p.next(i + 1) {
			got = append(got, geom.Interval{From: p.cuts[i], To: p.cuts[i+1]})
			p.free[i] = i + 1
		}
	}
	return geom.Union(got, Tolerance)
}

func (p *parts) next(i int) int {
	for p.free[i] != i {
		p.free[i] = p.free[p.free[i]]
		i = p.free[i]
	}
	return i
}

// Walled are the parts of a stretch that have a wall on the finished board: all
// but the roots of premetallised tabs.
func (b *Board) Walled(s Stretch) iter.Seq[Stretch] {
	roots := b.finished()[s.Profile.Index].roots
	return func(yield func(Stretch) bool) {
		if len(roots) == 0 {
			yield(s)
			return
		}
		l := s.Profile.Path.Perimeter()
		for _, v := range geom.Subtract(ring(nil, s.From, s.To, l), roots, Tolerance).Runs(l, Tolerance) {
			if !yield(Stretch{s.Profile, s.Plating, v.From, v.To}) {
				return
			}
		}
	}
}

// RootsIn lists the premetallised tabs whose roots, bare once the tabs are cut,
// make a stretch bare or a part of it: those on what is plated.
func (b *Board) RootsIn(s Stretch) []*Tab {
	return slices.DeleteFunc(b.TabsIn(s), func(t *Tab) bool { return !b.Rooted(t) })
}

// Roots are the parts of a stretch that premetallised tabs leave bare once they
// are cut, each with its tab.
func (b *Board) Roots(s Stretch) iter.Seq2[*Tab, Stretch] {
	return func(yield func(*Tab, Stretch) bool) {
		l := s.Profile.Path.Perimeter()
		for _, t := range b.RootsIn(s) {
			root := t.Edge.ring(nil, t.From(), t.To())
			for _, v := range geom.Intersect(ring(nil, s.From, s.To, l), root, Tolerance).Runs(l, Tolerance) {
				if !yield(t, Stretch{Profile: s.Profile, From: v.From, To: v.To}) {
					return
				}
			}
		}
	}
}

// Rooted tells whether a tab is premetallised and stands on a plating, so that
// its root is bare once it is cut.
func (b *Board) Rooted(t *Tab) bool {
	if !t.Premetallised {
		return false
	}
	from, to := t.Range()
	return Overlap(b.Wall(t.Edge.Profile), from, to) > Tolerance
}

// PlatedLength is the length of a plating's wall on the finished board, nm.
// What a plating stated before it plates already is that one's.
func (b *Board) PlatedLength(p *Plating) float64 {
	sum := 0.0
	for s := range b.FinishedBy(p) {
		sum += s.Length()
	}
	return sum
}

// Runs tells whether a plating plates any stretch.
func (b *Board) Runs(p *Plating) bool {
	for range b.PlatedBy(p) {
		return true
	}
	return false
}

// StretchNames names each stretch of the finished wall: its plating's name and a count.
func (b *Board) StretchNames() map[Stretch]string {
	names, n := map[Stretch]string{}, map[string]int{}
	for _, f := range b.finished() {
		for _, s := range f.wall.Plated {
			by := s.Plating.Name.Text
			n[by]++
			names[s] = fmt.Sprintf("%s %d", by, n[by])
		}
	}
	return names
}

// OpeningCount is how many openings a plating's finished wall has: the bare
// stretches of every profile that it runs on, between two ends of plated copper.
func (b *Board) OpeningCount(p *Plating) int {
	n := 0
	var last *Profile
	for s := range b.PlatedBy(p) {
		if s.Profile != last {
			n += len(b.Finished(s.Profile).Bare)
		}
		last = s.Profile
	}
	return n
}

// WrapArea is the area of copper that a plating turns over a face, clipped to
// the board, nm². Along a stretch that a plating stated before it plates
// already it is that one's.
func (b *Board) WrapArea(p *Plating, f Face) float64 {
	if b.Outline() == nil {
		return 0
	}
	var bands []*geom.Loop
	for _, s := range b.parted()[p].once {
		bands = append(bands, s.Band(f)...)
	}
	outline, cut := b.geometry().areas()
	return geom.AreaOf(bands, []*geom.Shapes{outline, cut}, func(cover []int) bool { return cover[0] > 0 && cover[1] == 0 })
}
