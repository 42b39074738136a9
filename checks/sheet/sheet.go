// Package sheet cuts a flat region into square cells, for what a field in it
// obeys: the flow of current in a plane of copper, the voltage between two.
//
// A field is bilinear in each cell: four values, one a corner. A cell that the
// region's edge cuts is integrated over what the region has of it, exactly, so an
// edge need not follow the grid. What a slit parts stays parted, however thin it
// is: each connected part of a cell has four values of its own, and shares two
// of them with a part of the next cell where the two meet along their common
// border.
//
// The method is Galerkin's (Strang and Fix, An Analysis of the Finite Element
// Method, 1973), on cut cells: energies of the stiffness come out too high, never
// too low, as step² where the field is smooth, as step^4/3 beside a corner of
// three quarters of a turn, as step beside the tip of a slit.
//
// Lengths are in whichever unit the region has. Places are rounded to a millionth
// of a step; what is smaller does not exist here.
package sheet

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"hemline/lang/geom"
)

// Region is bounded by closed rings of straight sides: the outer ones run
// counterclockwise, those of holes clockwise. What lies within an outer ring more
// often than within holes belongs to it, so rings may touch, share sides and cross.
type Region [][]geom.Point

// Slit is a straight line that parts what lies on both sides of it, as far as it
// reaches, and takes nothing away. On the region's edge it does nothing.
type Slit [2]geom.Point

// Sheet is a region that has been cut into cells.
type Sheet struct {
	// Min is the grid's lower left node, Step the side of a cell; there are Columns
	// by Rows cells.
	Min           geom.Point
	Step          float64
	Columns, Rows int
	// Nodes is how many values a field has. Two nodes of one cell are at most
	// Band apart in number.
	Nodes, Band int

	parts  []part
	cells  []int32   // by column, then row: the first part in each, and one more
	walls  [][]Piece // by side, in the order of the rings
	seams  [][]Seam  // by slit
	rings  []int     // the first side of each ring
	places []place   // of the nodes
}

// place is a corner of the grid.
type place struct{ column, row int32 }

// part is a connected part of the region in one cell.
type part struct {
	place
	nodes   [4]int32 // lower left, lower right, upper left, upper right
	moments moments
	chips   []chip // none in a cell that the region fills
}

// Errors of Mesh, beside those that name a number.
var (
	ErrEmpty    = errors.New("the rings bound no area")
	ErrCrossing = errors.New("the rings cross too often")
)

// most is how many cells a sheet may have, and how many on one side.
const (
	most     = 1 << 20
	mostWide = 1 << 14
)

// Mesh cuts a region into cells of a step's side, the first at the lower left
// corner of its box, and along slits.
func Mesh(r Region, step float64, slits ...Slit) (*Sheet, error) {
	box := geom.EmptyBox()
	for _, l := range slits {
		if !finite(l[0].X) || !finite(l[0].Y) || !finite(l[1].X) || !finite(l[1].Y) {
			return nil, errors.New("a slit's end that is not a number")
		}
	}
	for _, ring := range r {
		for _, p := range ring {
			if !finite(p.X) || !finite(p.Y) {
				return nil, errors.New("a corner that is not a number")
			}
			box = box.Union(geom.BoxOf(p))
		}
	}
	if box.Empty() || !(box.Max.X > box.Min.X) || !(box.Max.Y > box.Min.Y) {
		return nil, ErrEmpty
	}
	columns, rows := math.Ceil((box.Max.X-box.Min.X)/step-1e-6), math.Ceil((box.Max.Y-box.Min.Y)/step-1e-6)
	columns, rows = max(columns, 1), max(rows, 1)
	if !(step > 0) || !(columns <= mostWide && rows <= mostWide && columns*rows <= most) {
		return nil, fmt.Errorf("a step of %g in a box of %g by %g", step, box.Max.X-box.Min.X, box.Max.Y-box.Min.Y)
	}
	s := &Sheet{Min: box.Min, Step: step, Columns: int(columns), Rows: int(rows)}
	c := newCutter(s, r, slits)
	if err := c.cut(); err != nil {
		return nil, err
	}
	if len(s.parts) == 0 {
		return nil, ErrEmpty
	}
	return s, nil
}

func finite(x float64) bool { return math.Abs(x) < 1e100 }

// number gives the nodes their numbers, along the grid's short side, so that
// neighbours are near each other in number. same tells which corners of which
// parts are one node, 4·part+corner each.
func (s *Sheet) number(same *classes) {
	type corner struct {
		place
		class int32
	}
	var corners []corner
	seen := map[int32]bool{}
	for i := range s.parts {
		for k := range int32(4) {
			class := same.of(int32(i)*4 + k)
			if !seen[class] {
				seen[class] = true
				corners = append(corners, corner{place{s.parts[i].column + k%2, s.parts[i].row + k/2}, class})
			}
		}
	}
	tall := s.Rows > s.Columns
	slices.SortFunc(corners, func(a, b corner) int {
		if tall {
			return cmp.Or(cmp.Compare(a.row, b.row), cmp.Compare(a.column, b.column), cmp.Compare(a.class, b.class))
		}
		return cmp.Or(cmp.Compare(a.column, b.column), cmp.Compare(a.row, b.row), cmp.Compare(a.class, b.class))
	})
	numbers := make(map[int32]int32, len(corners))
	s.Nodes, s.places = len(corners), make([]place, len(corners))
	for i, c := range corners {
		numbers[c.class], s.places[i] = int32(i), c.place
	}
	for i := range s.parts {
		p := &s.parts[i]
		for k := range int32(4) {
			p.nodes[k] = numbers[same.of(int32(i)*4+k)]
		}
		s.Band = max(s.Band, int(slices.Max(p.nodes[:])-slices.Min(p.nodes[:])))
	}
}

// Place is where a node is. It may lie off the region, by less than a cell.
func (s *Sheet) Place(node int) geom.Point {
	p := s.places[node]
	return s.Min.Add(geom.Point{X: float64(p.column), Y: float64(p.row)}.Scale(s.Step))
}

// Pieces numbers the connected pieces of the sheet, from 0, and tells of each
// node which it is in.
func (s *Sheet) Pieces() (of []int, count int) {
	joined := newClasses(s.Nodes)
	for _, p := range s.parts {
		for _, n := range p.nodes[1:] {
			joined.join(p.nodes[0], n)
		}
	}
	of = make([]int, s.Nodes)
	numbers := map[int32]int{}
	for i := range of {
		class := joined.of(int32(i))
		if _, known := numbers[class]; !known {
			numbers[class] = len(numbers)
		}
		of[i] = numbers[class]
	}
	return of, len(numbers)
}

// Area is the region's.
func (s *Sheet) Area() float64 {
	sum := 0.0
	for _, p := range s.parts {
		sum += p.moments[0]
	}
	return sum * s.Step * s.Step
}

// classes tells what has been joined to what.
type classes struct{ up []int32 }

func newClasses(n int) *classes {
	c := &classes{make([]int32, n)}
	for i := range c.up {
		c.up[i] = int32(i)
	}
	return c
}

func (c *classes) add() int32 {
	c.up = append(c.up, int32(len(c.up)))
	return int32(len(c.up) - 1)
}

// of is the least member of i's class.
func (c *classes) of(i int32) int32 {
	for c.up[i] != i {
		c.up[i] = c.up[c.up[i]]
		i = c.up[i]
	}
	return i
}

func (c *classes) join(a, b int32) {
	a, b = c.of(a), c.of(b)
	c.up[max(a, b)] = min(a, b)
}
