package sheet

import (
	"cmp"
	"slices"

	"hemline/lang/geom"
)

// finish puts the parts of each cell together and numbers the nodes.
func (c *cutter) finish() {
	s := c.s
	merged := map[int32]*part{}
	for i := range c.parts {
		root := c.joined.of(int32(i))
		p := &c.parts[i]
		if int(root) == i {
			merged[root] = p
			continue
		}
		into := merged[root]
		for k := range p.moments {
			into.moments[k] += p.moments[k]
		}
		into.chips = append(into.chips, p.chips...)
	}
	var kept []int32
	for i := range c.parts {
		if p := merged[int32(i)]; p != nil && p.moments[0] > speck {
			kept = append(kept, int32(i))
		}
	}
	slices.SortStableFunc(kept, func(a, b int32) int {
		p, q := c.parts[a], c.parts[b]
		return cmp.Or(cmp.Compare(p.column, q.column), cmp.Compare(p.row, q.row))
	})
	numbers := make([]int32, len(c.parts))
	for i := range numbers {
		numbers[i] = -1
	}
	s.cells = make([]int32, s.Columns*s.Rows+1)
	for i, k := range kept {
		numbers[k] = int32(i)
		s.parts = append(s.parts, c.parts[k])
		s.cells[int(c.parts[k].column)*s.Rows+int(c.parts[k].row)+1]++
	}
	for i := range s.cells[1:] {
		s.cells[i+1] += s.cells[i]
	}
	for i := range numbers {
		numbers[i] = numbers[c.joined.of(int32(i))]
	}
	c.share(numbers)
	c.pieces(numbers)
}

// share makes one node of the corners that linked parts have in common.
func (c *cutter) share(numbers []int32) {
	same := newClasses(4 * len(c.s.parts))
	for _, l := range c.links {
		a, b := numbers[l.from], numbers[l.to]
		switch {
		case a < 0 || b < 0:
		case l.upward:
			same.join(4*a+2, 4*b)
			same.join(4*a+3, 4*b+1)
		default:
			same.join(4*a+1, 4*b)
			same.join(4*a+3, 4*b+2)
		}
	}
	c.s.number(same)
}

// pieces keeps the walls, each side's from its start to its end, and the seams of slits.
func (c *cutter) pieces(numbers []int32) {
	s := c.s
	all := make([][]Piece, len(c.walls))
	for i, walls := range c.walls {
		for _, w := range walls {
			if on := numbers[w.part]; on >= 0 {
				all[i] = append(all[i], s.piece(on, w.from, w.to))
			}
		}
		way := c.ways[i]
		start := func(p Piece) float64 { return min(p.From.Dot(way), p.To.Dot(way)) }
		slices.SortStableFunc(all[i], func(a, b Piece) int { return cmp.Compare(start(a), start(b)) })
	}
	sides := s.rings[len(s.rings)-1]
	s.walls = all[:sides]
	for i, pieces := range all[sides:] {
		s.seams = append(s.seams, seams(pieces, c.ways[sides+i].Unit()))
	}
}

// seams pairs the pieces on both sides of a slit where they face each other.
func seams(pieces []Piece, way geom.Point) (all []Seam) {
	var left, right []Piece
	for _, p := range pieces {
		if p.To.Sub(p.From).Dot(way) > 0 {
			left = append(left, p)
		} else {
			p.From, p.To = p.To, p.From
			right = append(right, p)
		}
	}
	for i, j := 0, 0; i < len(left) && j < len(right); {
		l, r := left[i], right[j]
		from, to := l.From, l.To
		if r.From.Sub(from).Dot(way) > 0 {
			from = r.From
		}
		if r.To.Sub(to).Dot(way) < 0 {
			to = r.To
		}
		if to.Sub(from).Dot(way) > tiny*l.s.Step {
			all = append(all, Seam{Piece{from, to, l.Part, l.s}, Piece{to, from, r.Part, r.s}})
		}
		if l.To.Sub(r.To).Dot(way) < 0 {
			i++
		} else {
			j++
		}
	}
	return all
}
