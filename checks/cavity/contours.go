package cavity

import (
	"math"
	"slices"

	"hemline/lang/geom"
)

// Contours are the lines along which the field has a value, joined as far as they
// go; a closed one ends where it starts. They cross no cell of which a node has no
// value.
func (f Field) Contours(value float64) [][]geom.Point {
	if f.Columns < 2 || f.Rows < 2 || len(f.At) != f.Columns*f.Rows || math.IsNaN(value) {
		return nil
	}
	// Each crossing lies on a side of the grid: a level one has the number of its left
	// node, twice, an upright one that of its lower node, twice, and one more.
	ways := map[int][]int{}
	var order []int
	join := func(a, b int) {
		for _, k := range [2]int{a, b} {
			if _, known := ways[k]; !known {
				order = append(order, k)
			}
		}
		ways[a], ways[b] = append(ways[a], b), append(ways[b], a)
	}
	for row := range f.Rows - 1 {
		for column := range f.Columns - 1 {
			f.cell(row*f.Columns+column, value, join)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return len(ways[a]) - len(ways[b]) }) // ends first
	var lines [][]geom.Point
	for _, start := range order {
		if line := walk(ways, start); len(line) > 1 {
			points := make([]geom.Point, len(line))
			for i, k := range line {
				points[i] = f.crossing(k, value)
			}
			lines = append(lines, points)
		}
	}
	return lines
}

// cell joins the crossings of one cell. Where all four sides are crossed the middle
// decides which two belong together.
func (f Field) cell(at int, value float64, join func(a, b int)) {
	corners := [4]float64{f.At[at], f.At[at+1], f.At[at+f.Columns+1], f.At[at+f.Columns]}
	sides := [4]int{2 * at, 2*(at+1) + 1, 2 * (at + f.Columns), 2*at + 1}
	sum := 0.0
	var crossed []int
	for i, c := range corners {
		if math.IsNaN(c) || math.IsInf(c, 0) {
			return
		}
		sum += c
		if (c >= value) != (corners[(i+1)%4] >= value) {
			crossed = append(crossed, sides[i])
		}
	}
	switch {
	case len(crossed) == 2:
		join(crossed[0], crossed[1])
	case len(crossed) == 4 && (sum/4 >= value) == (corners[0] >= value):
		join(crossed[0], crossed[1])
		join(crossed[2], crossed[3])
	case len(crossed) == 4:
		join(crossed[3], crossed[0])
		join(crossed[1], crossed[2])
	}
}

// walk takes the ways from a crossing on, as far as they go.
func walk(ways map[int][]int, at int) []int {
	line := []int{at}
	for len(ways[at]) > 0 {
		next := ways[at][0]
		ways[at] = ways[at][1:]
		back := slices.Index(ways[next], at)
		ways[next] = slices.Delete(slices.Clone(ways[next]), back, back+1)
		line = append(line, next)
		at = next
	}
	return line
}

// crossing is where the field has a value on a side of the grid.
func (f Field) crossing(k int, value float64) geom.Point {
	a := k / 2
	b, along := a+1, geom.Point{X: f.Step}
	if k%2 == 1 {
		b, along = a+f.Columns, geom.Point{Y: f.Step}
	}
	return f.node(a).Add(along.Scale((value - f.At[a]) / (f.At[b] - f.At[a])))
}

// node is a node's place.
func (f Field) node(i int) geom.Point {
	return f.Min.Add(geom.Point{X: float64(i % f.Columns), Y: float64(i / f.Columns)}.Scale(f.Step))
}

// Strongest is where the field is greatest in size; of places alike, the lowest,
// then the one furthest left.
func (f Field) Strongest() geom.Point {
	best, at := math.Inf(-1), -1
	for i, v := range f.At {
		if size := math.Abs(v); size > best*(1+1e-9) {
			best, at = size, i
		}
	}
	if at < 0 || f.Columns < 1 {
		return f.Min
	}
	return f.node(at)
}
