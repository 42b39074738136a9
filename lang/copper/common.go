package copper

import (
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Side is a part of the boundary of what two sets of planes both cover, which lies
// to its left. On is the plated stretch of the finished wall that it lies along, nil
// beside what is bare and inside the board.
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

// Common bounds what two sets of planes both cover, each plane as it is drawn: its
// pullback kept, or up to the profile where it runs to a wall, its rectangle, the
// planes of a set taken together. It gives closed rings, those of holes clockwise.
// What planes give way to (vias, pads, features of another net) is not taken out.
// ok is false where the sides do not close.
func (m *Map) Common(a, b []*board.Plane) (rings [][]Side, ok bool) {
	if m.outline == nil {
		return nil, true
	}
	c := &common{m: m, sets: [2][]sheet{m.sheets(a), m.sheets(b)}}
	for _, p := range m.b.Profiles() {
		c.profile(p)
	}
	for _, set := range c.sets {
		for _, s := range set {
			for _, g := range s.border.lines {
				c.add(g, nil)
			}
			for _, r := range s.runs {
				for _, l := range r.Shape() {
					for _, g := range l.Segments() {
						c.add(g, nil)
					}
				}
			}
		}
	}
	return chained(c.sides())
}

// sheet is a plane with what makes it.
type sheet struct {
	plane  *board.Plane
	border *Border
	runs   []*Piece
}

func (m *Map) sheets(planes []*board.Plane) []sheet {
	list := make([]sheet, len(planes))
	for i, p := range planes {
		list[i] = sheet{p, m.BorderOf(p), m.runsOf(p)}
	}
	return list
}

// common gathers the lines that may bound what two sets share.
type common struct {
	m     *Map
	sets  [2][]sheet
	lines []Side
}

func (c *common) add(g geom.Segment, on *board.Plating) {
	if g.Length() > crumb {
		c.lines = append(c.lines, Side{g, on})
	}
}

// profile adds a profile, parted where its finished wall starts and ends.
func (c *common) profile(p *board.Profile) {
	l := p.Path.Perimeter()
	wall := c.m.b.Finished(p)
	var done geom.Intervals
	take := func(from, to float64, on *board.Plating) {
		for _, g := range (board.Stretch{Profile: p, From: from, To: to}).Segments() {
			c.add(g, on)
		}
	}
	for _, s := range wall.Plated {
		take(s.From, s.To, s.Plating)
		done = append(done, geom.Interval{From: s.From, To: math.Min(s.To, l)})
		if s.To > l {
			done = append(done, geom.Interval{From: 0, To: s.To - l})
		}
	}
	for _, bare := range geom.Complement(geom.Union(done, board.Tolerance), l) {
		if bare.Length() > crumb {
			take(bare.From, bare.To, nil)
		}
	}
}

// sides are the parts of the lines with both sets on one side alone.
func (c *common) sides() (list []Side) {
	boxes := make([]geom.Box, len(c.lines))
	for i, g := range c.lines {
		boxes[i] = g.Box()
	}
	index := geom.NewIndex(boxes)
	known := map[geom.Point]bool{} // middles, by cells of a micrometre
	for i, line := range c.lines {
		parts := []geom.Segment{line.Segment}
		index.Search(boxes[i].Grow(board.Tolerance), func(j int) bool {
			if j != i {
				parts = cutAll(parts, c.lines[j].Segment)
			}
			return true
		})
		for _, g := range parts {
			if g.Length() <= crumb {
				continue
			}
			half := g.Length() / 2
			middle := g.At(half)
			aside := g.Tangent(half).Left().Scale(beside)
			left, right := c.covered(middle.Add(aside)), c.covered(middle.Sub(aside))
			if left == right || seen(known, middle) {
				continue
			}
			if right {
				g = g.Reverse()
			}
			list = append(list, Side{g, line.On})
		}
	}
	return list
}

// seen tells whether a point is known, within a few nanometres, and notes it.
func seen(known map[geom.Point]bool, p geom.Point) bool {
	at := geom.Point{X: math.Round(p.X / 10), Y: math.Round(p.Y / 10)}
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

// covered tells whether a plane of either set lies at a point.
func (c *common) covered(at geom.Point) bool {
	return c.m.b.OnBoard(at) && slices.ContainsFunc(c.sets[0], func(s sheet) bool { return s.covers(c.m, at) }) &&
		slices.ContainsFunc(c.sets[1], func(s sheet) bool { return s.covers(c.m, at) })
}

// covers tells whether the plane lies at a point of the board.
func (s sheet) covers(m *Map, at geom.Point) bool {
	if s.plane.Within != nil && !s.plane.Within.Contains(at) {
		return false
	}
	if m.keeps(at, s.plane.Pullback.Value) {
		return true
	}
	return slices.ContainsFunc(s.runs, func(r *Piece) bool {
		return r.box.Contains(at) && slices.ContainsFunc(r.Shape(), func(l *geom.Loop) bool { return l.Contains(at) })
	})
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
