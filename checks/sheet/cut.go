package sheet

import (
	"cmp"
	"math"
	"slices"

	"hemline/lang/geom"
)

// Places are counted in steps from the grid's corner while the cells are cut.
const (
	quantum = 1.0 / (1 << 20) // what places are rounded to, a power of two
	tiny    = quantum / 2     // a shorter border joins nothing
	speck   = 1e-10           // a part of less area is left out
)

// chip is a convex piece of a part, counterclockwise, its cell being the unit square.
type chip []geom.Point

// side is a side of a ring, the region on its left, or a slit.
type side struct {
	a, b geom.Point
	of   int32 // its number, slits after the sides
	slit bool
}

// at is the height of a slanting side at x.
func (s side) at(x float64) float64 {
	switch x {
	case s.a.X:
		return s.a.Y
	case s.b.X:
		return s.b.Y
	}
	return s.a.Y + (s.b.Y-s.a.Y)*((x-s.a.X)/(s.b.X-s.a.X))
}

// across is a side's stretch in a slab: its heights at the slab's left and right.
type across struct {
	side        side
	left, right float64
	slack       float64 // the height that rounding may have moved it by
}

// span is what a chip has of a slab's left or right end.
type span struct {
	low, high float64
	row, part int32
}

// link tells that two parts of neighbouring cells meet along their border.
type link struct {
	from, to int32
	upward   bool // to lies above; else on the right
}

// cutter goes over the region from left to right, in slabs with no corner and
// no crossing of sides inside them, none wider than a column. In a slab the region is a pile of
// trapezoids, which the rows cut into chips.
type cutter struct {
	s       *Sheet
	columns [][]side // the slanting and level sides in each
	upright []side   // from left to right
	touched []bool   // rows of this column that a side runs in or along
	whole   []int32  // the part of a row that none does, -1 before it is known
	open    []block  // the last block of each row
	here    []side   // the upright sides on the left border of this slab

	parts  []part
	joined *classes // of parts, in one cell
	links  []link
	walls  [][]wall     // by side
	ways   []geom.Point // of the sides
}

// block is a part that is a rectangle as high as its row, so far.
type block struct {
	part, column int32
	right        float64
}

// wall is a stretch of a side, and the part on its left.
type wall struct {
	from, to geom.Point
	part     int32
}

func newCutter(s *Sheet, r Region, slits []Slit) *cutter {
	c := &cutter{s: s, columns: make([][]side, s.Columns), touched: make([]bool, s.Rows), whole: make([]int32, s.Rows), open: make([]block, s.Rows), joined: newClasses(0)}
	limit := geom.Point{X: float64(s.Columns), Y: float64(s.Rows)}
	inSteps := func(p geom.Point) geom.Point {
		p = p.Sub(s.Min).Scale(1 / s.Step)
		return geom.Point{X: min(math.Round(p.X/quantum)*quantum, limit.X), Y: min(math.Round(p.Y/quantum)*quantum, limit.Y)}
	}
	n := int32(0)
	for _, ring := range r {
		s.rings = append(s.rings, int(n))
		for i, p := range ring {
			c.side(side{a: inSteps(p), b: inSteps(ring[(i+1)%len(ring)]), of: n})
			n++
		}
	}
	s.rings = append(s.rings, int(n))
	for _, l := range slits {
		d := side{of: n, slit: true}
		if a, b, ok := inBox(l[0].Sub(s.Min).Scale(1/s.Step), l[1].Sub(s.Min).Scale(1/s.Step), limit); ok {
			d.a, d.b = inSteps(s.Min.Add(a.Scale(s.Step))), inSteps(s.Min.Add(b.Scale(s.Step)))
		}
		c.side(d)
		n++
	}
	c.walls = make([][]wall, n)
	slices.SortStableFunc(c.upright, func(a, b side) int { return cmp.Compare(a.a.X, b.a.X) })
	return c
}

// side files a side under the columns that it runs in.
func (c *cutter) side(d side) {
	c.ways = append(c.ways, d.b.Sub(d.a))
	switch {
	case d.a.X != d.b.X:
		for k := int(min(d.a.X, d.b.X)); k < int(math.Ceil(max(d.a.X, d.b.X))); k++ {
			c.columns[k] = append(c.columns[k], d)
		}
	case d.a.Y != d.b.Y:
		c.upright = append(c.upright, d)
	}
}

// inBox is what of a line lies between the grid's corner and its opposite.
func inBox(a, b, limit geom.Point) (from, to geom.Point, ok bool) {
	box := chip{{}, {X: limit.X}, limit, {Y: limit.Y}}
	t, u := box.clip(a, b)
	along := b.Sub(a)
	return a.Add(along.Scale(t)), a.Add(along.Scale(u)), t < u
}

// mostWork is how much the slabs of a column may take, in sides that are sorted:
// a scribble has crossings without number.
const mostWork = 1 << 19

// cut fills in the sheet.
func (c *cutter) cut() error {
	var ends []span // the right end of the slab before
	upright := c.upright
	for column, sides := range c.columns {
		c.touch(float64(column), sides)
		borders := c.borders(float64(column), sides)
		slices.SortStableFunc(sides, func(a, b side) int { return cmp.Compare(min(a.a.X, a.b.X), min(b.a.X, b.b.X)) })
		var running []side // those that have begun and not ended
		work := 0
		for i, right := range borders[1:] {
			for left := borders[i]; left < right; {
				for len(sides) > 0 && min(sides[0].a.X, sides[0].b.X) <= left {
					running, sides = append(running, sides[0]), sides[1:]
				}
				running = slices.DeleteFunc(running, func(d side) bool { return max(d.a.X, d.b.X) <= left })
				pile, till := pileOf(running, left, right)
				if work += len(running)/16 + len(pile); work > mostWork {
					return ErrCrossing
				}
				c.here = upright
				for len(upright) > 0 && upright[0].a.X <= left {
					upright = upright[1:]
				}
				c.here = c.here[:len(c.here)-len(upright)]
				starts, rightEnds := c.slab(int32(column), left, till, pile)
				c.meet(ends, starts, c.here, left == float64(column))
				c.wallsAt(c.here, ends, starts)
				ends, left = rightEnds, till
			}
		}
	}
	c.wallsAt(upright, ends, nil)
	c.finish()
	return nil
}

// touch notes the rows of a column that a side runs in or along.
func (c *cutter) touch(x float64, sides []side) {
	clear(c.touched)
	for i := range c.whole {
		c.whole[i] = -1
	}
	mark := func(a, b float64) {
		for r := max(int(math.Ceil(min(a, b)))-1, 0); r <= int(max(a, b)) && r < len(c.touched); r++ {
			c.touched[r] = true
		}
	}
	for _, d := range sides {
		mark(d.at(min(max(d.a.X, x), x+1)), d.at(min(max(d.b.X, x), x+1)))
	}
	for _, d := range c.upright {
		if d.a.X > x && d.a.X < x+1 {
			mark(d.a.Y, d.b.Y)
		}
	}
}

// borders are where the slabs of a column begin and end.
func (c *cutter) borders(x float64, sides []side) []float64 {
	xs := []float64{x, x + 1}
	for _, d := range sides {
		for _, at := range []float64{d.a.X, d.b.X} {
			if at > x && at < x+1 {
				xs = append(xs, at)
			}
		}
	}
	for _, d := range c.upright {
		if d.a.X > x && d.a.X < x+1 {
			xs = append(xs, d.a.X)
		}
	}
	slices.Sort(xs)
	return slices.Compact(xs)
}

// pileOf are the sides across a slab, which they all reach over, from below. The slab ends before right
// where two of them cross.
func pileOf(sides []side, left, right float64) (pile []across, till float64) {
	for _, d := range sides {
		slope := math.Abs((d.b.Y - d.a.Y) / (d.b.X - d.a.X))
		pile = append(pile, across{d, d.at(left), d.at(right), 4 * quantum * (1 + slope)})
	}
	slices.SortFunc(pile, func(a, b across) int {
		return cmp.Or(cmp.Compare(a.left, b.left), cmp.Compare(a.right, b.right), cmp.Compare(a.side.of, b.side.of))
	})
	till = right
	for i := range max(len(pile)-1, 0) {
		// The first two that cross are neighbours before they do.
		a, b := pile[i], pile[i+1]
		before, after, slack := b.left-a.left, a.right-b.right, max(a.slack, b.slack)
		if before > slack && after > slack {
			if x := left + (right-left)*before/(before+after); x > left+tiny && x < right-tiny {
				till = min(till, x)
			}
		}
	}
	for i := range pile {
		pile[i].right = pile[i].side.at(till)
	}
	slices.SortFunc(pile, func(a, b across) int {
		return cmp.Or(cmp.Compare(a.left+a.right, b.left+b.right), cmp.Compare(a.side.of, b.side.of))
	})
	return pile, till
}

// slab makes the chips between two borders, and gives what they have of its
// left and right ends, from below.
func (c *cutter) slab(column int32, left, right float64, pile []across) (starts, ends []span) {
	depth, low := 0, across{}
	for i := 0; i < len(pile); {
		// Sides that lie on one another count together.
		first, before, edge, parts := pile[i], depth, pile[i], false
		for ; i < len(pile); i++ {
			next := pile[i]
			slack := max(first.slack, next.slack)
			if math.Abs(next.left-first.left) > slack || math.Abs(next.right-first.right) > slack {
				break
			}
			step := 1
			switch {
			case next.side.slit:
				if parts = true; before > 0 && depth > 0 {
					edge = next
				}
				continue
			case next.side.b.X < next.side.a.X:
				step = -1
			}
			depth += step
			if (step > 0) == (before <= 0) {
				edge = next
			}
		}
		switch {
		case before <= 0 && depth > 0:
			low = edge
		case before > 0 && (depth <= 0 || parts):
			edge.left, edge.right = max(edge.left, low.left), max(edge.right, low.right)
			starts, ends = c.trapezoid(column, left, right, low, edge, starts, ends)
			low = edge
		}
	}
	return starts, ends
}

// trapezoid cuts what lies between two sides in a slab along the rows.
func (c *cutter) trapezoid(column int32, left, right float64, low, high across, starts, ends []span) (_, _ []span) {
	corners := [4]geom.Point{{X: left, Y: low.left}, {X: right, Y: low.right}, {X: right, Y: high.right}, {X: left, Y: high.left}}
	below := int32(-1)
	top := int32(math.Ceil(max(high.left, high.right)))
	for row := int32(min(low.left, low.right)); row < top; row++ {
		y := float64(row)
		var on int32
		meets := true
		if !c.touched[row] {
			if on = c.whole[row]; on < 0 {
				on = c.add(part{place: place{column, row}, moments: full})
				c.whole[row] = on
			}
		} else if max(low.left, low.right) <= y && min(high.left, high.right) >= y+1 {
			on = c.block(place{column, row}, left, right)
			c.wall(low, left, right, y, on, false)
			c.wall(high, left, right, y, on, true)
		} else {
			shape := clipped(clipped(corners[:], y+1, -1), y, 1)
			if on = c.chip(place{column, row}, shape, left, right); on < 0 {
				below = -1
				continue
			}
			c.wall(low, left, right, y, on, false)
			c.wall(high, left, right, y, on, true)
			meets = widthAt(shape, y) > tiny
		}
		if below >= 0 && meets {
			c.links = append(c.links, link{below, on, true})
		}
		below = on
		if a, b := max(low.left, y), min(high.left, y+1); b-a > tiny {
			starts = append(starts, span{a, b, row, on})
		}
		if a, b := max(low.right, y), min(high.right, y+1); b-a > tiny {
			ends = append(ends, span{a, b, row, on})
		}
	}
	return starts, ends
}

// block is the part of a rectangle as high as its row: the one beside it in its cell, if
// nothing lies between, made wider; a slab of many ends would leave many.
func (c *cutter) block(at place, left, right float64) int32 {
	o, x, y := &c.open[at.row], float64(at.column), float64(at.row)
	on := o.part
	if wider := o.column == at.column && o.right == left && left > x; !wider || slices.ContainsFunc(c.here, func(d side) bool {
		return d.slit && max(d.a.Y, d.b.Y) > y && min(d.a.Y, d.b.Y) < y+1
	}) {
		on = c.add(part{place: at, chips: []chip{{{X: left - x}, {}, {}, {X: left - x, Y: 1}}}})
	}
	*o = block{on, at.column, right}
	p := &c.parts[on]
	from, to := p.chips[0][0].X, right-x
	if from == 0 && to == 1 {
		p.moments, p.chips = full, nil
		return on
	}
	p.chips[0][1], p.chips[0][2] = geom.Point{X: to}, geom.Point{X: to, Y: 1}
	p.moments = full
	power := [3]float64{to - from, to*to - from*from, to*to*to - from*from*from}
	for k := range p.moments {
		p.moments[k] *= power[k/3]
	}
	return on
}

// chip adds a part that a shape makes up, or gives -1 for one without area.
func (c *cutter) chip(at place, shape []geom.Point, left, right float64) int32 {
	corner := geom.Point{X: float64(at.column), Y: float64(at.row)}
	p := part{place: at, moments: full}
	if whole := right-left == 1 && widthAt(shape, corner.Y) == 1 && widthAt(shape, corner.Y+1) == 1; !whole {
		in := make(chip, len(shape))
		for i, q := range shape {
			in[i] = q.Sub(corner)
		}
		if p.moments, p.chips = in.moments(), []chip{in}; !(p.moments[0] > 0) {
			return -1
		}
	}
	return c.add(p)
}

// clipped is what lies above a height of a convex shape, or below it where way is -1.
func clipped(shape []geom.Point, y, way float64) []geom.Point {
	var kept []geom.Point
	for i, p := range shape {
		q := shape[(i+1)%len(shape)]
		a, b := (p.Y-y)*way, (q.Y-y)*way
		if a >= 0 {
			kept = append(kept, p)
		}
		if a > 0 && b < 0 || a < 0 && b > 0 {
			kept = append(kept, geom.Point{X: p.X + (q.X-p.X)*(a/(a-b)), Y: y})
		}
	}
	return kept
}

// widthAt is how much of a level line bounds a convex shape.
func widthAt(shape []geom.Point, y float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range shape {
		if p.Y == y {
			low, high = min(low, p.X), max(high, p.X)
		}
	}
	return high - low
}

func (c *cutter) add(p part) int32 {
	c.parts = append(c.parts, p)
	return c.joined.add()
}

// wall notes the stretch of a side that bounds a chip of a row.
func (c *cutter) wall(a across, left, right, y float64, part int32, back bool) {
	from, to := 0.0, 1.0
	if a.left != a.right {
		t, u := (y-a.left)/(a.right-a.left), (y+1-a.left)/(a.right-a.left)
		from, to = max(min(t, u), 0), min(max(t, u), 1)
	} else if a.left < y || a.left > y+1 || a.left == y && back || a.left == y+1 && !back {
		return
	}
	at := func(t float64) geom.Point {
		return geom.Point{X: left + t*(right-left), Y: a.left + t*(a.right-a.left)}
	}
	p, q := at(from), at(to)
	if !(from < to) || p.Dist(q) <= tiny {
		return
	}
	if back {
		p, q = q, p
	}
	c.walls[a.side.of] = append(c.walls[a.side.of], wall{p, q, part})
}

// meet joins what lies on both sides of a border between slabs: parts of one
// cell, or, where a column begins there, of two. Slits on the border part them.
func (c *cutter) meet(left, right []span, upright []side, column bool) {
	for i, j := 0, 0; i < len(left) && j < len(right); {
		a, b := left[i], right[j]
		if a.row == b.row && longest(max(a.low, b.low), min(a.high, b.high), upright) > tiny {
			if column {
				c.links = append(c.links, link{a.part, b.part, false})
			} else {
				c.joined.join(a.part, b.part)
			}
		}
		if a.high < b.high {
			i++
		} else {
			j++
		}
	}
}

// longest is the longest stretch of an upright one that no slit covers.
func longest(low, high float64, upright []side) float64 {
	for _, d := range upright {
		from, to := min(d.a.Y, d.b.Y), max(d.a.Y, d.b.Y)
		switch {
		case !d.slit || to <= low || from >= high:
		default:
			return max(longest(low, from, upright), longest(to, high, upright))
		}
	}
	return high - low
}

// wallsAt notes the stretches of the upright sides at a border where the region
// lies on one side alone, and those of slits where it lies on both.
func (c *cutter) wallsAt(upright []side, left, right []span) {
	for _, d := range upright {
		within, beyond := left, right
		low, high := d.a.Y, d.b.Y
		if low > high {
			within, beyond, low, high = right, left, high, low
		}
		for _, w := range within {
			from := max(low, w.low)
			to := min(high, w.high)
			for _, b := range beyond {
				switch lower, upper := max(from, b.low), min(to, b.high); {
				case lower >= upper:
				case d.slit:
					c.uprightWall(d, lower, upper, w.part)
					c.uprightWall(side{d.b, d.a, d.of, true}, lower, upper, b.part)
				default:
					c.uprightWall(d, from, lower, w.part)
					from = upper
				}
			}
			if !d.slit {
				c.uprightWall(d, from, to, w.part)
			}
		}
	}
}

func (c *cutter) uprightWall(d side, low, high float64, part int32) {
	if high-low <= tiny {
		return
	}
	p, q := geom.Point{X: d.a.X, Y: low}, geom.Point{X: d.a.X, Y: high}
	if d.a.Y > d.b.Y {
		p, q = q, p
	}
	c.walls[d.of] = append(c.walls[d.of], wall{p, q, part})
}
