package sheet

import (
	"cmp"
	"math"
	"slices"

	"hemline/lang/geom"
)

// Weights tell how a field's value at a place comes from four nodes.
type Weights struct {
	Nodes [4]int
	By    [4]float64 // their sum is 1
}

// Of is the value there.
func (w Weights) Of(field []float64) float64 {
	sum := 0.0
	for i, n := range w.Nodes {
		sum += w.By[i] * field[n]
	}
	return sum
}

// Piece is a stretch of a line in one cell, within one connected part of it.
type Piece struct {
	From, To geom.Point
	// Part numbers the part of a cell that it lies in or bounds.
	Part int

	s *Sheet
}

func (s *Sheet) piece(part int32, from, to geom.Point) Piece {
	return Piece{s.Min.Add(from.Scale(s.Step)), s.Min.Add(to.Scale(s.Step)), int(part), s}
}

// Length is the piece's.
func (p Piece) Length() float64 { return p.From.Dist(p.To) }

// Area is that of the part: at most a cell's.
func (p Piece) Area() float64 { return p.s.parts[p.Part].moments[0] * p.s.Step * p.s.Step }

// At gives the weights at a place by how far along the piece it is, 0 to 1.
func (p Piece) At(t float64) Weights {
	return p.s.weights(p.Part, p.From.Add(p.To.Sub(p.From).Scale(t)))
}

// Slope gives ∂/∂n there of the four, n pointing to the right of the piece's way:
// out of the region where it is one of Side.
func (p Piece) Slope(t float64) Weights {
	s, n := p.s, p.To.Sub(p.From).Unit().Left().Scale(-1)
	w, q := s.within(p.Part, p.From.Add(p.To.Sub(p.From).Scale(t)))
	for i := range w.By {
		x, y := shapes[i%2], shapes[i/2]
		w.By[i] = (n.X*x[1]*(y[0]+y[1]*q.Y) + n.Y*y[1]*(x[0]+x[1]*q.X)) / s.Step
	}
	return w
}

// Side is a side of a ring, from its start, cell by cell: those stretches of it
// that bound the sheet. The region lies on its left.
func (s *Sheet) Side(ring, side int) []Piece { return s.walls[s.rings[ring]+side] }

// Seam is a stretch of a slit with what faces each other across it: Left runs the
// slit's way, Right back, each with its part on its left.
type Seam struct{ Left, Right Piece }

// Seams is a slit, from its start, cell by cell: those stretches of it that have
// the sheet on both sides. Where a stretch ends inside a cell both sides are one part.
func (s *Sheet) Seams(slit int) []Seam { return s.seams[slit] }

// Along is a straight line, from its start, cell by cell: those stretches of it
// that run within the sheet.
func (s *Sheet) Along(from, to geom.Point) []Piece {
	a, b := s.inSteps(from), s.inSteps(to)
	if !finite(a.X) || !finite(a.Y) || !finite(b.X) || !finite(b.Y) {
		return nil
	}
	var pieces []Piece
	at := func(t float64) geom.Point { return a.Add(b.Sub(a).Scale(t)) }
	cuts := s.crossings(a, b)
	for i := range len(cuts) - 1 {
		from, to := at(cuts[i]), at(cuts[i+1])
		for _, k := range s.partsAt(from.Add(to).Scale(0.5)) {
			for _, r := range s.parts[k].stretches(from, to) {
				pieces = append(pieces, s.piece(k, from.Add(to.Sub(from).Scale(r[0])), from.Add(to.Sub(from).Scale(r[1]))))
			}
		}
	}
	slices.SortStableFunc(pieces, func(p, q Piece) int { return cmp.Compare(p.From.Dist(from), q.From.Dist(from)) })
	return pieces
}

// stretches are those of a line that run within a part, from and to in steps.
func (p *part) stretches(from, to geom.Point) [][2]float64 {
	long := from.Dist(to)
	if long <= tiny {
		return nil
	}
	if p.chips == nil {
		return [][2]float64{{0, 1}}
	}
	corner := geom.Point{X: float64(p.column), Y: float64(p.row)}
	var all [][2]float64
	for _, c := range p.chips {
		if t, u := c.clip(from.Sub(corner), to.Sub(corner)); t < u {
			all = append(all, [2]float64{t, u})
		}
	}
	slices.SortFunc(all, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	var joined [][2]float64
	for _, r := range all {
		if n := len(joined); n > 0 && r[0] <= joined[n-1][1]+tiny {
			joined[n-1][1] = max(joined[n-1][1], r[1])
		} else {
			joined = append(joined, r)
		}
	}
	return slices.DeleteFunc(joined, func(r [2]float64) bool { return (r[1]-r[0])*long <= tiny })
}

// At gives the weights at a place of the sheet; false for one off it by more
// than a thousandth of a step. In a cell of several parts it is the nearest's.
func (s *Sheet) At(p geom.Point) (Weights, bool) {
	q := s.inSteps(p)
	const off = 1e-3
	best, found := off, int32(-1)
	for _, dx := range []float64{0, -off, off} {
		for _, dy := range []float64{0, -off, off} {
			for _, k := range s.partsAt(q.Add(geom.Point{X: dx, Y: dy})) {
				if d := s.parts[k].dist(q); d < best {
					best, found = d, k
				}
			}
		}
	}
	if found < 0 {
		return Weights{}, false
	}
	return s.weights(int(found), p), true
}

func (s *Sheet) inSteps(p geom.Point) geom.Point { return p.Sub(s.Min).Scale(1 / s.Step) }

// weights are those of a part at a place in it.
func (s *Sheet) weights(part int, at geom.Point) Weights {
	w, q := s.within(part, at)
	for i := range w.By {
		x, y := shapes[i%2], shapes[i/2]
		w.By[i] = (x[0] + x[1]*q.X) * (y[0] + y[1]*q.Y)
	}
	return w
}

// within names a part's nodes, and gives a place in its cell's measure.
func (s *Sheet) within(part int, at geom.Point) (Weights, geom.Point) {
	p := &s.parts[part]
	var w Weights
	for i, n := range p.nodes {
		w.Nodes[i] = int(n)
	}
	return w, s.inSteps(at).Sub(geom.Point{X: float64(p.column), Y: float64(p.row)})
}

// partsAt numbers the parts of the cell at a place.
func (s *Sheet) partsAt(q geom.Point) []int32 {
	if !(q.X >= 0 && q.X <= float64(s.Columns) && q.Y >= 0 && q.Y <= float64(s.Rows)) {
		return nil
	}
	column, row := min(math.Floor(q.X), float64(s.Columns-1)), min(math.Floor(q.Y), float64(s.Rows-1))
	cell := int(column)*s.Rows + int(row)
	var parts []int32
	for k := s.cells[cell]; k < s.cells[cell+1]; k++ {
		parts = append(parts, k)
	}
	return parts
}

// crossings are where a line starts, meets a line of the grid, and ends, from 0 to 1.
func (s *Sheet) crossings(a, b geom.Point) []float64 {
	cuts := []float64{0, 1}
	add := func(from, to float64, most int) {
		low, high := max(math.Ceil(min(from, to)), 0), min(math.Floor(max(from, to)), float64(most))
		for at := low; at <= high; at++ {
			if t := (at - from) / (to - from); t > 0 && t < 1 {
				cuts = append(cuts, t)
			}
		}
	}
	add(a.X, b.X, s.Columns)
	add(a.Y, b.Y, s.Rows)
	slices.Sort(cuts)
	return cuts
}

// dist is how far a place is from a part, 0 inside it.
func (p *part) dist(q geom.Point) float64 {
	q = q.Sub(geom.Point{X: float64(p.column), Y: float64(p.row)})
	if p.chips == nil {
		return math.Hypot(max(-q.X, q.X-1, 0), max(-q.Y, q.Y-1, 0))
	}
	least := math.Inf(1)
	for _, c := range p.chips {
		least = min(least, c.dist(q))
	}
	return least
}

// clip gives where a line enters and leaves a chip, from 0 to 1.
func (s chip) clip(a, b geom.Point) (from, to float64) {
	from, to = 0, 1
	for i, p := range s {
		along := s[(i+1)%len(s)].Sub(p)
		u, v := along.Cross(a.Sub(p)), along.Cross(b.Sub(p)) // above 0 inside
		switch {
		case u < 0 && v < 0:
			return 0, 0
		case u < 0:
			from = max(from, u/(u-v))
		case v < 0:
			to = min(to, u/(u-v))
		}
	}
	return from, to
}

// dist is how far a place is from a chip, 0 inside it.
func (s chip) dist(q geom.Point) float64 {
	inside, least := true, math.Inf(1)
	for i, p := range s {
		along := s[(i+1)%len(s)].Sub(p)
		if along.Cross(q.Sub(p)) < 0 {
			inside = false
		}
		t := 0.0
		if n := along.Dot(along); n > 0 {
			t = min(max(q.Sub(p).Dot(along)/n, 0), 1)
		}
		least = min(least, q.Dist(p.Add(along.Scale(t))))
	}
	if inside {
		return 0
	}
	return least
}

// From gives, for each node, the weights of its place in another sheet of the
// same region, so that a field there can be had here.
func (s *Sheet) From(other *Sheet) []Weights {
	all, known := make([]Weights, s.Nodes), make([]bool, s.Nodes)
	for i := range s.parts {
		p := &s.parts[i]
		middle := geom.Point{X: float64(p.column), Y: float64(p.row)}.Add(geom.Point{X: p.moments[3], Y: p.moments[1]}.Scale(1 / p.moments[0]))
		q := other.inSteps(s.Min.Add(middle.Scale(s.Step)))
		nearest, found := math.Inf(1), -1
		for _, k := range other.partsAt(q) {
			if d := other.parts[k].dist(q); d < nearest {
				nearest, found = d, int(k)
			}
		}
		for _, n := range p.nodes {
			if found >= 0 && !known[n] {
				all[n], known[n] = other.weights(found, s.Place(int(n))), true
			}
		}
	}
	return all
}

// Around goes over the sheet as far as a circle reaches: places, the area that each
// stands for, and its weights. Sums over them are exact for polynomials up to the
// fourth degree in each cell; what varies faster takes each triangle of a cell in
// so many by so many.
func (s *Sheet) Around(at geom.Point, radius float64, split int, each func(p geom.Point, area float64, w Weights)) {
	low, high := s.inSteps(at.Sub(geom.Point{X: radius, Y: radius})), s.inSteps(at.Add(geom.Point{X: radius, Y: radius}))
	for column := max(int(low.X), 0); column < s.Columns && float64(column) <= high.X; column++ {
		for row := max(int(low.Y), 0); row < s.Rows && float64(row) <= high.Y; row++ {
			cell := column*s.Rows + row
			if middle := s.Min.Add(geom.Point{X: float64(column) + 0.5, Y: float64(row) + 0.5}.Scale(s.Step)); middle.Dist(at) > radius+s.Step {
				continue
			}
			for k := s.cells[cell]; k < s.cells[cell+1]; k++ {
				chips := s.parts[k].chips
				if chips == nil {
					chips = []chip{{{}, {X: 1}, {X: 1, Y: 1}, {Y: 1}}}
				}
				for _, c := range chips {
					c.sum(split, func(q geom.Point, area float64) {
						p := s.Min.Add(q.Add(geom.Point{X: float64(column), Y: float64(row)}).Scale(s.Step))
						each(p, area*s.Step*s.Step, s.weights(int(k), p))
					})
				}
			}
		}
	}
}
