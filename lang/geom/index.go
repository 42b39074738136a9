package geom

import (
	"cmp"
	"math"
	"slices"
)

// fanout is the number of entries of a node; 16 boxes fill a few cache lines.
const fanout = 16

// Index finds the boxes near a place among many that do not change. It is an
// R-tree packed by sorting into tiles (sort-tile-recursive), and safe for use
// by several goroutines.
type Index struct {
	// levels[0] holds the given boxes in packed order, each further level the
	// boxes round fanout entries of the level below, the last one box.
	levels [][]Box
	order  []int32 // given number of each entry of levels[0]
}

// NewIndex returns an index over the boxes. Empty boxes are never found.
func NewIndex(boxes []Box) *Index {
	x := &Index{order: tile(boxes)}
	level := make([]Box, len(x.order))
	for k, i := range x.order {
		level[k] = boxes[i]
	}
	x.levels = append(x.levels, level)
	for len(level) > 1 {
		above := make([]Box, 0, (len(level)+fanout-1)/fanout)
		for group := range slices.Chunk(level, fanout) {
			b := EmptyBox()
			for _, c := range group {
				b = b.Union(c)
			}
			above = append(above, b)
		}
		x.levels = append(x.levels, above)
		level = above
	}
	return x
}

// tile orders the boxes by upright strips, and in each strip upward, so that
// runs of fanout boxes lie close together.
func tile(boxes []Box) []int32 {
	order := make([]int32, 0, len(boxes))
	center := make([]Point, len(boxes))
	for i, b := range boxes {
		if center[i] = b.Center(); !b.Empty() {
			order = append(order, int32(i))
		}
	}
	slices.SortFunc(order, func(i, j int32) int { return cmp.Compare(center[i].X, center[j].X) })
	leaves := math.Ceil(float64(len(order)) / fanout)
	strip := fanout * max(1, int(math.Ceil(math.Sqrt(leaves))))
	for part := range slices.Chunk(order, strip) {
		slices.SortFunc(part, func(i, j int32) int { return cmp.Compare(center[i].Y, center[j].Y) })
	}
	return order
}

// Search calls visit with the number of each box that overlaps b, in no
// particular order, until visit returns false.
func (x *Index) Search(b Box, visit func(i int) bool) {
	top := len(x.levels) - 1
	if len(x.levels[top]) > 0 && x.levels[top][0].Overlaps(b) {
		x.search(top, 0, b, visit)
	}
}

func (x *Index) search(level, k int, b Box, visit func(i int) bool) bool {
	if level == 0 {
		return visit(int(x.order[k]))
	}
	below := x.levels[level-1]
	for c := k * fanout; c < min((k+1)*fanout, len(below)); c++ {
		if below[c].Overlaps(b) && !x.search(level-1, c, b, visit) {
			return false
		}
	}
	return true
}

// near calls visit with boxes that are nearer to b than limit, the nearest
// first as far as that comes cheap. visit returns the limit from then on.
func (x *Index) near(b Box, limit float64, visit func(i int) float64) {
	top := len(x.levels) - 1
	if len(x.levels[top]) > 0 && x.levels[top][0].DistanceTo(b) < limit {
		x.nearIn(top, 0, b, limit, visit)
	}
}

func (x *Index) nearIn(level, k int, b Box, limit float64, visit func(i int) float64) float64 {
	if level == 0 {
		return visit(int(x.order[k]))
	}
	type entry struct {
		at int
		d  float64
	}
	var entries [fanout]entry
	n := 0
	below := x.levels[level-1]
	for c := k * fanout; c < min((k+1)*fanout, len(below)); c++ {
		if d := below[c].DistanceTo(b); d < limit {
			entries[n] = entry{c, d}
			n++
		}
	}
	slices.SortFunc(entries[:n], func(p, q entry) int { return cmp.Compare(p.d, q.d) })
	for _, e := range entries[:n] {
		if e.d < limit {
			limit = x.nearIn(level-1, e.at, b, limit, visit)
		}
	}
	return limit
}
