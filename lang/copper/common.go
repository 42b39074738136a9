package copper

import (
	"cmp"
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Side is a part of the boundary of what two sets of planes both cover, which lies
// to its left. On is the plating of the finished wall that it lies along, nil beside
// what is bare and inside the board.
type Side struct {
	geom.Segment
	On *board.Plating
}

// crumb is how short a side may be, nm, to be nothing but rounding; what it leaves
// open, and joins that miss each other by up to a micrometre, are closed.
const (
	crumb = 20
	apart = 1e3
)

// mostSets is how many sets of planes are told apart.
const mostSets = 64

// Sheets is what sets of planes cover, each plane as it is drawn: its pullback kept,
// or up to the profile where it runs to a wall, its rectangle, the planes of a set
// taken together. What planes give way to (vias, pads, features of another net) is
// not taken out.
type Sheets struct {
	m     *Map
	sets  [][]sheet
	far   float64 // the greatest pullback
	sides []rim
}

// sheet is a plane with what makes it.
type sheet struct {
	plane *board.Plane
	runs  []*geom.Loop // by which it runs to walls
}

// rim is a line with the sets, as bits, that cover the place to its left and to
// its right.
type rim struct {
	Side
	left, right uint64
}

// Sheets works out where sets of planes begin and end; those past the sixty-fourth
// are left out.
func (m *Map) Sheets(sets [][]*board.Plane) *Sheets {
	s := &Sheets{m: m}
	if m.outline == nil {
		return s
	}
	lines := lines{known: map[[3]geom.Point]bool{}}
	for _, p := range m.b.Profiles() {
		lines.profile(p, m.b.Finished(p))
	}
	borders := map[*Border]bool{}
	for _, planes := range sets[:min(len(sets), mostSets)] {
		var set []sheet
		for _, p := range planes {
			x := sheet{plane: p}
			for _, r := range m.runsOf(p) {
				x.runs = append(x.runs, r.Shape()...)
			}
			for _, l := range x.runs {
				lines.add(nil, l.Segments()...)
			}
			if b := m.BorderOf(p); !borders[b] {
				borders[b] = true
				lines.add(nil, b.lines...)
			}
			set, s.far = append(set, x), max(s.far, p.Pullback.Value)
		}
		s.sets = append(s.sets, set)
	}
	s.part(lines.all)
	return s
}

// Common bounds what two sets both cover with closed rings, those of holes clockwise.
// ok is false where the sides do not close.
func (s *Sheets) Common(i, j int) (rings [][]Side, ok bool) {
	if max(i, j) >= len(s.sets) {
		return nil, false
	}
	both := uint64(1)<<i | uint64(1)<<j
	return s.bounded(func(sets uint64) bool { return sets&both == both })
}

// Beside bounds what two sets both cover and a third does not, as Common.
func (s *Sheets) Beside(i, j, third int) (rings [][]Side, ok bool) {
	if max(i, j, third) >= len(s.sets) {
		return nil, false
	}
	both, not := uint64(1)<<i|uint64(1)<<j, uint64(1)<<third
	return s.bounded(func(sets uint64) bool { return sets&both == both && sets&not == 0 })
}

// bounded bounds the places whose cover is as is asked for.
func (s *Sheets) bounded(in func(sets uint64) bool) (rings [][]Side, ok bool) {
	var list []Side
	for _, x := range s.sides {
		switch left, right := in(x.left), in(x.right); {
		case left && !right:
			list = append(list, x.Side)
		case right && !left:
			list = append(list, Side{x.Reverse(), x.On})
		}
	}
	return chained(list)
}

// lines are what may bound a sheet, each once.
type lines struct {
	all   []Side
	known map[[3]geom.Point]bool
}

func (x *lines) add(on *board.Plating, segs ...geom.Segment) {
	for _, g := range segs {
		long := g.Length()
		if long <= crumb {
			continue
		}
		a, b := cell(g.A), cell(g.B)
		if cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) > 0 {
			a, b = b, a
		}
		if key := [3]geom.Point{a, b, cell(g.At(long / 2))}; !x.known[key] {
			x.known[key] = true
			x.all = append(x.all, Side{g, on})
		}
	}
}

// cell is where a point lies on a grid of 10 nm.
func cell(p geom.Point) geom.Point {
	return geom.Point{X: math.Round(p.X / 10), Y: math.Round(p.Y / 10)}
}

// profile adds a profile, parted where its finished wall starts and ends.
func (x *lines) profile(p *board.Profile, wall *board.Wall) {
	l := p.Path.Perimeter()
	var done geom.Intervals
	for _, s := range wall.Plated {
		x.add(s.Plating, s.Segments()...)
		done = append(done, geom.Interval{From: s.From, To: math.Min(s.To, l)})
		if s.To > l {
			done = append(done, geom.Interval{From: 0, To: s.To - l})
		}
	}
	for _, bare := range geom.Complement(geom.Union(done, board.Tolerance), l) {
		if bare.Length() > crumb {
			x.add(nil, board.Stretch{Profile: p, From: bare.From, To: bare.To}.Segments()...)
		}
	}
}

// part parts lines where they meet each other, and keeps what has another cover on
// its left than on its right.
func (s *Sheets) part(all []Side) {
	boxes := make([]geom.Box, len(all))
	for i, g := range all {
		boxes[i] = g.Box()
	}
	index := geom.NewIndex(boxes)
	known := map[geom.Point]bool{} // middles of what is kept
	var stops []float64
	for i, line := range all {
		long := line.Length()
		stops = append(stops[:0], 0, long)
		index.Search(boxes[i].Grow(board.Tolerance), func(j int) bool {
			if j != i {
				for _, p := range geom.Intersections(line.Segment, all[j].Segment, board.Tolerance) {
					_, at, _ := line.Nearest(p)
					stops = append(stops, at)
				}
			}
			return true
		})
		slices.Sort(stops)
		for k := 1; k < len(stops); k++ {
			if stops[k]-stops[k-1] <= crumb {
				stops[k] = stops[k-1] // it goes to the next part
				continue
			}
			g := line.Sub(stops[k-1], stops[k])
			half := g.Length() / 2
			middle := g.At(half)
			aside := g.Tangent(half).Left().Scale(beside)
			x := rim{Side{g, line.On}, s.cover(middle.Add(aside)), s.cover(middle.Sub(aside))}
			if x.left != x.right && !seen(known, middle) {
				s.sides = append(s.sides, x)
			}
		}
	}
}

// seen tells whether a point is known, within some ten nanometres, and notes it.
func seen(known map[geom.Point]bool, p geom.Point) bool {
	at := cell(p)
	for _, dx := range [...]float64{0, -1, 1} {
		for _, dy := range [...]float64{0, -1, 1} {
			if known[geom.Point{X: at.X + dx, Y: at.Y + dy}] {
				return true
			}
		}
	}
	known[at] = true
	return false
}

// cover are the sets that cover a point.
func (s *Sheets) cover(at geom.Point) (sets uint64) {
	if !s.m.b.OnBoard(at) {
		return 0
	}
	far := math.Inf(1)
	s.m.b.ProfilesNear(geom.BoxOf(at), s.far, func(p *board.Profile) {
		_, _, d := p.Path.Nearest(at)
		far = min(far, d)
	})
	for i, set := range s.sets {
		if slices.ContainsFunc(set, func(x sheet) bool { return x.covers(at, far) }) {
			sets |= 1 << i
		}
	}
	return sets
}

// covers tells whether the plane lies at a point of the board that is so far from its
// profiles.
func (x sheet) covers(at geom.Point, far float64) bool {
	if x.plane.Within != nil && !x.plane.Within.Contains(at) {
		return false
	}
	return far >= x.plane.Pullback.Value-1 || slices.ContainsFunc(x.runs, func(l *geom.Loop) bool { return l.Contains(at) })
}

// chained makes rings of sides, each of which goes on where one before ends.
func chained(sides []Side) (rings [][]Side, ok bool) {
	boxes := make([]geom.Box, len(sides))
	for i, s := range sides {
		boxes[i] = geom.BoxOf(s.A)
	}
	index := geom.NewIndex(boxes)
	used := make([]bool, len(sides))
	for first := range sides {
		if used[first] {
			continue
		}
		used[first] = true
		ring := []Side{sides[first]}
		for at := sides[first].B; ; {
			best, near := first, at.Dist(sides[first].A) // back to the start where that is nearest
			index.Search(geom.BoxOf(at).Grow(apart), func(i int) bool {
				if d := at.Dist(sides[i].A); !used[i] && d < near {
					best, near = i, d
				}
				return true
			})
			if near > apart {
				return nil, false
			}
			if best == first {
				break
			}
			used[best] = true
			ring = append(ring, sides[best])
			at = sides[best].B
		}
		rings = append(rings, ring)
	}
	return rings, true
}
