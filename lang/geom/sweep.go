package geom

import (
	"cmp"
	"math"
	"slices"
)

// run is a part of a boundary along which y only rises or only falls: a line,
// or a part of the right or the left half of a circle.
type run struct {
	low, high Point
	c         Point
	r         float64
	side      float64 // 0 on a line, 1 on the right half of a circle, -1 on the left
	way       int     // 1 when travelled upward, -1 downward
}

// monotone splits a segment into runs. Level lines, and arcs without height,
// have none.
func monotone(g Segment) (runs [4]run, n int) {
	add := func(from, to Point, side float64) {
		k := run{low: from, high: to, side: side, way: 1}
		if from.Y > to.Y {
			k.low, k.high, k.way = to, from, -1
		}
		if side != 0 {
			k.c, k.r = g.C, g.Radius()
		}
		if k.low.Y < k.high.Y {
			runs[n] = k
			n++
		}
	}
	sweep := g.Sweep()
	if sweep == 0 {
		add(g.A, g.B, 0)
		return runs, n
	}
	start := math.Atan2(g.A.Y-g.C.Y, g.A.X-g.C.X)
	sign := math.Copysign(1, sweep)
	from, t := g.A, 0.0
	side := func(t1 float64) float64 { return math.Copysign(1, math.Cos(start+(t+t1)/2)) }
	// The top and bottom of the circle lie at odd multiples of a quarter turn.
	for k := -5.0; k <= 5; k += 2 {
		e := sign*k*math.Pi/2 - start
		if e*sign <= 0 || e*sign >= sweep*sign || n == len(runs)-1 {
			continue
		}
		top := math.Copysign(g.Radius(), math.Sin(sign*k*math.Pi/2))
		p := Point{g.C.X, g.C.Y + top}
		add(from, p, side(e))
		from, t = p, e
	}
	add(from, g.B, side(sweep))
	return runs, n
}

func (k run) carrier() carrier {
	if k.side == 0 {
		return carrier{p: k.low, dir: k.high.Sub(k.low)}
	}
	return carrier{c: k.c, r: k.r, circle: true}
}

func (k run) box() Box {
	b := BoxOf(k.low, k.high)
	if k.side != 0 && k.low.Y <= k.c.Y && k.c.Y <= k.high.Y {
		p := Point{k.c.X + k.side*k.r, k.c.Y}
		b = b.Union(Box{p, p})
	}
	return b
}

// x returns the abscissa of the run at the height y within it.
func (k run) x(y float64) float64 {
	if k.side != 0 {
		u := y - k.c.Y
		return k.c.X + k.side*math.Sqrt(max(0, (k.r-u)*(k.r+u)))
	}
	if y-k.low.Y < k.high.Y-y {
		return k.low.X + (k.high.X-k.low.X)*((y-k.low.Y)/(k.high.Y-k.low.Y))
	}
	return k.high.X - (k.high.X-k.low.X)*((k.high.Y-y)/(k.high.Y-k.low.Y))
}

// rightOf says whether the run passes p, which is level with it, on the right.
func (k run) rightOf(p Point) bool {
	switch {
	case k.side == 0:
		return k.high.Sub(k.low).Cross(p.Sub(k.low)) > 0
	case k.side > 0:
		return p.X < k.c.X || p.Dist(k.c) < k.r
	}
	return p.X < k.c.X && p.Dist(k.c) > k.r
}

// area returns the area between the run and the upright at x0 from the height
// y0 up to y1: a trapezium and, on an arc, the circular segment beyond it.
func (k run) area(x0, y0, y1 float64) float64 {
	a, b := Point{k.x(y0), y0}, Point{k.x(y1), y1}
	area := (y1 - y0) * ((a.X - x0) + (b.X - x0)) / 2
	if k.side != 0 {
		// From the angle and not from the chord, whose length hardly tells
		// angles near a half turn apart.
		a, b = a.Sub(k.c), b.Sub(k.c)
		angle := math.Abs(math.Atan2(a.Cross(b), a.Dot(b)))
		area += k.side * k.r * k.r * sinDefect(angle) / 2
	}
	return area
}

// moment returns the first moments of that area: about the upright at x0, as X,
// and about the level y = 0, as Y. On a line they are the integrals of second
// degree that Simpson's rule gives exactly; on an arc x = c ± √(r² - u²) is
// integrated in closed form.
func (k run) moment(x0, y0, y1 float64) Point {
	h := y1 - y0
	if k.side == 0 {
		m, a, b, ym := k.x(y0+h/2)-x0, k.x(y0)-x0, k.x(y1)-x0, y0+h/2
		return Point{h / 12 * (a*a + 4*m*m + b*b), h / 6 * (y0*a + 4*ym*m + y1*b)}
	}
	c, u0, u1 := k.c.X-x0, y0-k.c.Y, y1-k.c.Y
	half := k.area(k.c.X, y0, y1) // of √(r² - u²), with the side's sign
	cube := func(u float64) float64 { w := math.Sqrt(max(0, (k.r-u)*(k.r+u))); return w * w * w }
	squares := c*c*h + 2*c*half + k.r*k.r*h - (u1*u1*u1-u0*u0*u0)/3
	return Point{squares / 2, c*(y1*y1-y0*y0)/2 + k.side*(cube(u0)-cube(u1))/3 + k.c.Y*half}
}

// edge is a run with the shape it bounds.
type edge struct {
	run
	shape int
	mid   float64 // abscissa at mid height of the slab being looked at
}

// AreaWhere returns the area, arcs exact, of the points p for which keep is
// true of inside, inside[i] saying whether p lies in shapes[i] (whether that
// loop winds round it). keep must not hold on to inside. Points outside every
// shape never count. A shape that is not finite is empty.
//
// The plane is cut into level slabs at all corners, tops and bottoms of arcs
// and crossings; in a slab the boundaries keep their order from left to right.
// Boundaries that coincide or touch need no care: in whichever order they are
// taken, nothing lies between them. The time grows with the number of slabs
// times the boundaries in each.
func AreaWhere(shapes []*Loop, keep func(inside []bool) bool) float64 {
	groups := make([][]*Loop, len(shapes))
	for i := range shapes {
		groups[i] = shapes[i : i+1]
	}
	inside := make([]bool, len(shapes))
	return AreaCovered(groups, func(cover []int) bool {
		for i, n := range cover {
			inside[i] = n > 0
		}
		return keep(inside)
	})
}

// AreaCovered is AreaWhere for shapes in groups: cover[i] is the number of
// shapes of groups[i] that p lies in. The time that keep takes then does not
// grow with the number of shapes.
func AreaCovered(groups [][]*Loop, keep func(cover []int) bool) float64 {
	area, _ := covered(groups, keep, false)
	return area
}

// CentreCovered is AreaCovered with the centre of the area; the origin where
// nothing is kept.
func CentreCovered(groups [][]*Loop, keep func(cover []int) bool) (area float64, centre Point) {
	return covered(groups, keep, true)
}

func covered(groups [][]*Loop, keep func(cover []int) bool, moments bool) (area float64, centre Point) {
	edges, group := edgesOf(groups)
	levels := levelsOf(edges)
	slices.SortStableFunc(edges, func(a, b edge) int { return cmp.Compare(a.low.Y, b.low.Y) })
	if len(levels) == 0 {
		return 0, Point{}
	}
	c := covering{
		winding: make([]int, len(group)), group: group,
		cover: make([]int, len(groups)), keep: keep, x0: math.Round(edges[0].low.X), moments: moments,
	}
	area = c.sweep(edges, levels)
	if area > 0 && moments {
		centre = Point{c.x0, 0}.Add(c.moment.Scale(1 / area))
	}
	return area, centre
}

// sweep returns the area to keep between the first level and the last. The
// edges come in order of their lower ends.
func (c *covering) sweep(edges []edge, levels []float64) float64 {
	var area float64
	var active []*edge
	for i, y0 := range levels[:len(levels)-1] {
		y1 := levels[i+1]
		active = slices.DeleteFunc(active, func(e *edge) bool { return e.high.Y <= y0 })
		for len(edges) > 0 && edges[0].low.Y <= y0 {
			active = append(active, &edges[0])
			edges = edges[1:]
		}
		for _, e := range active {
			e.mid = e.x(y0 + (y1-y0)/2)
		}
		slices.SortFunc(active, func(a, b *edge) int { return cmp.Compare(a.mid, b.mid) })
		area += c.slab(active, y0, y1)
	}
	return area
}

// edgesOf returns the runs of all shapes and the group of each shape.
func edgesOf(groups [][]*Loop) (edges []edge, group []int) {
	for i, shapes := range groups {
		for _, l := range shapes {
			for _, g := range l.segs {
				if !g.finite() {
					edges = slices.DeleteFunc(edges, func(e edge) bool { return e.shape == len(group) })
					break
				}
				runs, n := monotone(g)
				for _, k := range runs[:n] {
					edges = append(edges, edge{run: k, shape: len(group)})
				}
			}
			group = append(group, i)
		}
	}
	return edges, group
}

// levelsOf returns the heights between which the edges keep their order. A
// height too many does no harm, so crossings are not checked against the ends
// of the edges beyond their heights.
func levelsOf(edges []edge) []float64 {
	boxes := make([]Box, len(edges))
	var levels []float64
	for i, e := range edges {
		boxes[i] = e.box()
		levels = append(levels, e.low.Y, e.high.Y)
	}
	index := NewIndex(boxes)
	for i, e := range edges {
		from := e.carrier()
		index.Search(boxes[i], func(j int) bool {
			if j > i {
				m := meet(from, edges[j].carrier(), 0)
				low, high := max(e.low.Y, edges[j].low.Y), min(e.high.Y, edges[j].high.Y)
				for _, p := range m.points() {
					if low < p.Y && p.Y < high {
						levels = append(levels, p.Y)
					}
				}
			}
			return true
		})
	}
	slices.Sort(levels)
	return slices.Compact(levels)
}

// covering counts, from left to right through a slab, what covers it.
type covering struct {
	winding []int // of each shape
	group   []int // of each shape
	cover   []int // of each group
	keep    func(cover []int) bool
	x0      float64
	moments bool
	moment  Point // of what is kept, about x0 and y = 0; where moments are asked for
}

// slab returns the area to keep between the heights y0 and y1, which all of
// active cross in the order given.
func (c *covering) slab(active []*edge, y0, y1 float64) float64 {
	var area float64
	shapes, kept := 0, false
	for _, e := range active {
		before := c.winding[e.shape]
		c.winding[e.shape] += e.way
		if after := c.winding[e.shape]; before == 0 {
			c.cover[c.group[e.shape]]++
			shapes++
		} else if after == 0 {
			c.cover[c.group[e.shape]]--
			shapes--
		}
		if keep := shapes > 0 && c.keep(c.cover); keep != kept {
			sign := 1.0
			if keep {
				sign = -1
			}
			area += sign * e.area(c.x0, y0, y1)
			if c.moments {
				c.moment = c.moment.Add(e.moment(c.x0, y0, y1).Scale(sign))
			}
			kept = keep
		}
	}
	for _, e := range active { // paths that do not close leave counts behind
		c.winding[e.shape], c.cover[c.group[e.shape]] = 0, 0
	}
	return area
}
