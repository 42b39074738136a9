package geom

import (
	"cmp"
	"math"
	"slices"
)

// Shapes is a group of many loops, in which those near a place are found
// without looking at all. Loops that are not finite are left out.
type Shapes struct {
	loops []*Loop
	index *Index
}

// NewShapes returns a group of loops.
func NewShapes(loops ...*Loop) *Shapes {
	s := &Shapes{}
	var boxes []Box
	for _, l := range loops {
		if l.finite() {
			s.loops, boxes = append(s.loops, l), append(boxes, l.box)
		}
	}
	s.index = NewIndex(boxes)
	return s
}

func (l *Loop) finite() bool {
	return !slices.ContainsFunc(l.segs, func(g Segment) bool { return !g.finite() })
}

// overlapping visits the loops whose boxes overlap b, by their number.
func (s *Shapes) overlapping(b Box, visit func(i int)) {
	s.index.Search(b, func(i int) bool { visit(i); return true })
}

// AreaOf returns the area, arcs exact, of the points that lie in any of the
// shapes and for which keep is true of cover, cover[i] being how many loops of
// groups[i] the point lies in. It is AreaCovered for shapes that are small
// beside what lies around them: of many loops the time grows with what is near
// each shape. Few are looked at all at once.
func AreaOf(shapes []*Loop, groups []*Shapes, keep func(cover []int) bool) float64 {
	const few = 64
	n := len(shapes)
	for _, g := range groups {
		n += len(g.loops)
	}
	if n > few {
		return areaNear(shapes, groups, keep)
	}
	var all [][]*Loop
	for _, g := range groups {
		all = append(all, g.loops)
	}
	last := len(all)
	return AreaCovered(append(all, shapes), func(cover []int) bool { return cover[last] > 0 && keep(cover[:last]) })
}

// areaNear is AreaOf shape by shape.
func areaNear(shapes []*Loop, groups []*Shapes, keep func(cover []int) bool) float64 {
	all := NewShapes(shapes...)
	var area float64
	for i, l := range all.loops {
		near := local{box: l.box}
		near.add(l, 0)
		all.overlapping(l.box, func(j int) {
			if j < i { // whose area has been counted
				near.add(all.loops[j], 1)
			}
		})
		for k, g := range groups {
			g.overlapping(l.box, func(j int) { near.add(g.loops[j], 2+k) })
		}
		area += near.area(2+len(groups), func(cover []int) bool {
			return cover[0] > 0 && cover[1] == 0 && keep(cover[2:])
		})
	}
	return area
}

// local is what bears on the area within a box: edges that lie in it, and
// those to the left of it, which tell what its left side lies in.
type local struct {
	box   Box
	edges []edge
	group []int // of each shape
}

func (n *local) add(l *Loop, group int) {
	shape := len(n.group)
	n.group = append(n.group, group)
	band := Box{Point{math.Inf(-1), n.box.Min.Y}, n.box.Max}
	l.overlapping(band, func(i int) bool {
		runs, count := monotone(l.segs[i])
		for _, k := range runs[:count] {
			if k.low.Y < n.box.Max.Y && k.high.Y > n.box.Min.Y {
				n.edges = append(n.edges, edge{run: k, shape: shape})
			}
		}
		return true
	})
}

// area returns the area to keep, all of which lies in the box.
func (n *local) area(groups int, keep func(cover []int) bool) float64 {
	var levels []float64
	var inside []edge
	for _, e := range n.edges {
		levels = append(levels, max(e.low.Y, n.box.Min.Y), min(e.high.Y, n.box.Max.Y))
		if e.box().Overlaps(n.box) {
			inside = append(inside, e)
		}
	}
	// In what order edges to the left of the box cross makes no difference.
	for _, y := range levelsOf(inside) {
		if n.box.Min.Y < y && y < n.box.Max.Y {
			levels = append(levels, y)
		}
	}
	slices.Sort(levels)
	if levels = slices.Compact(levels); len(levels) == 0 {
		return 0
	}
	slices.SortStableFunc(n.edges, func(a, b edge) int { return cmp.Compare(a.low.Y, b.low.Y) })
	c := covering{
		winding: make([]int, len(n.group)), group: n.group,
		cover: make([]int, groups), keep: keep, x0: math.Round(n.box.Min.X),
	}
	return c.sweep(n.edges, levels)
}
