package geom

import (
	"cmp"
	"slices"
)

// Within is what of the region that a simple loop encloses lies in a box, as
// loops that have no area in common. A loop that a side of the box cuts in no
// clear way, as one that crosses itself, is left whole along that side.
func Within(l *Loop, b Box) []*Loop {
	list := []*Loop{l}
	for _, c := range [...]cut{{0, b.Min.X, 1}, {0, b.Max.X, -1}, {1, b.Min.Y, 1}, {1, b.Max.Y, -1}} {
		list = c.all(list)
	}
	return list
}

// Without is what of the region that a simple loop encloses lies outside a box,
// as loops that have no area in common.
func Without(l *Loop, b Box) []*Loop {
	between := cut{0, b.Max.X, -1}.all(cut{0, b.Min.X, 1}.loop(l))
	return slices.Concat(cut{0, b.Min.X, -1}.loop(l), cut{0, b.Max.X, 1}.loop(l),
		cut{1, b.Min.Y, -1}.all(between), cut{1, b.Max.Y, 1}.all(between))
}

// ClipIn lists the parts of a segment that lie in a box and not on its sides, or
// within tol of them.
func (g Segment) ClipIn(b Box, tol float64) []Segment {
	parts := []Segment{g}
	for _, c := range [...]cut{{0, b.Min.X, 1}, {0, b.Max.X, -1}, {1, b.Min.Y, 1}, {1, b.Max.Y, -1}} {
		var kept []Segment
		for _, p := range parts {
			for _, x := range c.parts(p) {
				if c.inside(x, tol) {
					kept = append(kept, x)
				}
			}
		}
		parts = kept
	}
	return parts
}

// cut keeps what lies on one side of a line along an axis.
type cut struct {
	axis int // 0 for a line of one x, 1 for one of one y
	at   float64
	side float64 // 1 keeps what is above, -1 what is below
}

// depth is how far inside a point lies.
func (c cut) depth(p Point) float64 {
	if c.axis == 0 {
		return (p.X - c.at) * c.side
	}
	return (p.Y - c.at) * c.side
}

// inside tells of a part that does not cross the line whether it lies inside; it
// may touch the line in its middle.
func (c cut) inside(g Segment, tol float64) bool {
	l := g.Length()
	return max(c.depth(g.At(l/2)), c.depth(g.At(l/4))) > tol
}

// along is where beside the line a point lies.
func (c cut) along(p Point) float64 {
	if c.axis == 0 {
		return p.Y
	}
	return p.X
}

// onLine is a point put onto the line.
func (c cut) onLine(p Point) Point {
	if c.axis == 0 {
		p.X = c.at
	} else {
		p.Y = c.at
	}
	return p
}

// cutNear is how near the line a point counts as on it, nm.
const cutNear = 1e-3

// parts are a segment's parts between the places where it meets the line.
func (c cut) parts(g Segment) []Segment {
	box := g.Box()
	if lo, hi := c.depth(box.Min), c.depth(box.Max); lo*hi > 0 && min(abs(lo), abs(hi)) > cutNear {
		return []Segment{g}
	}
	far := box.Grow(1 + g.Length())
	line := Line(c.onLine(far.Min), c.onLine(far.Max))
	length := g.Length()
	at := []float64{0, length}
	for _, p := range Intersections(g, line, cutNear) {
		if _, s, _ := g.Nearest(p); s > cutNear && s < length-cutNear {
			at = append(at, s)
		}
	}
	slices.Sort(at)
	parts := make([]Segment, 0, len(at)-1)
	for i := range len(at) - 1 {
		parts = append(parts, g.Sub(at[i], at[i+1]))
	}
	return parts
}

func abs(v float64) float64 { return max(v, -v) }

func (c cut) all(list []*Loop) (out []*Loop) {
	for _, l := range list {
		out = append(out, c.loop(l)...)
	}
	return out
}

// meeting is an end of a chain of segments on the line.
type meeting struct {
	chain int
	start bool
	at    float64
}

// loop cuts a loop. What of its boundary lies inside is chains that begin and end
// on the line; along the line, every second space between their ends is inside.
func (c cut) loop(l *Loop) []*Loop {
	box := l.Box()
	if near, far := min(c.depth(box.Min), c.depth(box.Max)), max(c.depth(box.Min), c.depth(box.Max)); near >= -cutNear {
		return []*Loop{l}
	} else if far <= cutNear {
		return nil
	}
	chains, whole := c.chains(l)
	if whole {
		return []*Loop{l}
	}
	var ends []meeting
	for i, chain := range chains {
		ends = append(ends, meeting{i, true, c.along(chain[0].A)}, meeting{i, false, c.along(chain[len(chain)-1].B)})
	}
	slices.SortStableFunc(ends, func(a, b meeting) int { return cmp.Compare(a.at, b.at) })
	next := make([]int, len(chains)) // the chain that begins where the space beside a chain's end ends
	for i := 0; i < len(ends); i += 2 {
		a, b := ends[i], ends[i+1]
		if a.start {
			a, b = b, a
		}
		if a.start || !b.start {
			return []*Loop{l}
		}
		next[a.chain] = b.chain
	}
	var list []*Loop
	done := make([]bool, len(chains))
	for i := range chains {
		var path []Segment
		for k := i; !done[k]; k = next[k] {
			done[k] = true
			path = append(path, chains[k]...)
			if a, b := chains[k][len(chains[k])-1].B, chains[next[k]][0].A; a != b {
				path = append(path, Line(a, b))
			}
		}
		if len(path) > 0 {
			list = append(list, NewLoop(path))
		}
	}
	return list
}

// chains are what of a loop's boundary lies inside, in the loop's order, with
// their ends put onto the line; whole tells that nothing is outside.
func (c cut) chains(l *Loop) (chains [][]Segment, whole bool) {
	var parts []Segment
	for _, g := range l.Segments() {
		parts = append(parts, c.parts(g)...)
	}
	inside := make([]bool, len(parts))
	first := -1 // one that is not inside: there no chain runs over the start
	for i, g := range parts {
		inside[i] = c.inside(g, cutNear)
		if !inside[i] {
			first = i
		}
	}
	if first < 0 {
		return nil, true
	}
	var chain []Segment
	end := func() {
		if n := len(chain); n > 0 {
			chain[0].A, chain[n-1].B = c.onLine(chain[0].A), c.onLine(chain[n-1].B)
			chains, chain = append(chains, chain), nil
		}
	}
	for k := range parts {
		i := (first + 1 + k) % len(parts)
		if inside[i] {
			chain = append(chain, parts[i])
		} else {
			end()
		}
	}
	end()
	return chains, false
}
