package cavity

import (
	"context"
	"math"

	"hemline/checks/sheet"
	"hemline/lang/geom"
)

// system is a shape on one grid: stiffness K with its walls and fences, mass M.
type system struct {
	*sheet.Sheet
	elements []sheet.Element
	shifted  *banded // K + shift·M, then its factor
	shift    float64
	border   *border
	free     []four // a constant each on what no wall or fence holds, in their first places
}

// newSystem cuts a shape into cells and factors what its modes come from.
func newSystem(ctx context.Context, s Shape, step float64) (*system, error) {
	cut, err := sheet.Mesh(s.region(), step, s.slits()...)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	y := &system{Sheet: cut, elements: cut.Elements(), shift: 0.5 / cut.Area()}
	y.shifted = newBanded(y.reaches(len(s.slits())))
	for _, e := range y.elements {
		for i, a := range e.Nodes {
			for j, b := range e.Nodes {
				y.shifted.add(int(a), int(b), e.Stiffness[i][j]+y.shift*e.Mass[i][j])
			}
		}
	}
	long := y.heldIn(s)
	held := y.walls(s, long)
	held = append(held, y.fences(s, long)...)
	if err := y.shifted.factor(ctx); err != nil {
		return nil, err
	}
	y.border = y.newBorder(s.corners(cut.Area()))
	y.release(held)
	return y, ctx.Err()
}

// size is how many figures a field is made of: one a node, and one a corner.
func (y *system) size() int { return y.Nodes + len(y.border.corners) }

// reaches are, for each node, the last one that it has an entry with.
func (y *system) reaches(slits int) []int {
	last := make([]int, y.Nodes)
	note := func(a, b int) { last[min(a, b)] = max(last[min(a, b)], a, b) }
	for _, e := range y.elements {
		for _, a := range e.Nodes {
			for _, b := range e.Nodes {
				note(int(a), int(b))
			}
		}
	}
	for i := range slits {
		for _, m := range y.Seams(i) {
			for _, a := range m.Left.At(0).Nodes {
				for _, b := range m.Right.At(0).Nodes {
					note(a, b)
				}
			}
		}
	}
	return last
}

// Gauss's three places and weights on 0 to 1, exact to the fifth degree.
var gauss = [3]struct{ at, weight float64 }{
	{0.5 - 0.5*0.7745966692414834, 5. / 18}, {0.5, 8. / 18}, {0.5 + 0.5*0.7745966692414834, 5. / 18},
}

// electric are the pieces of the sides that are walls.
func (y *system) electric(s Shape) (pieces []sheet.Piece) {
	for i, ring := range s.Rings {
		for j, side := range ring {
			if side.Electric {
				pieces = append(pieces, y.Side(i, j)...)
			}
		}
	}
	return pieces
}

// heldIn is how long walls and fences together run along each part of a cell: a penalty must
// outweigh what flows through all of them.
func (y *system) heldIn(s Shape) map[int]float64 {
	long := map[int]float64{}
	for _, p := range y.electric(s) {
		long[p.Part] += p.Length()
	}
	slit := 0
	for _, f := range s.Fences {
		for range f.lines() {
			for _, m := range y.Seams(slit) {
				long[m.Left.Part] += m.Left.Length()
				long[m.Right.Part] += m.Right.Length()
			}
			slit++
		}
	}
	return long
}

// walls holds the field at zero along electric sides (Nitsche 1971, Über ein
// Variationsprinzip zur Lösung von Dirichlet-Problemen): a penalty on its square,
// and its flow through the wall, with which the penalty shifts nothing. It gives
// a node of each place that is held.
func (y *system) walls(s Shape, long map[int]float64) (held []int) {
	for _, p := range y.electric(s) {
		penalty := 4*long[p.Part]/p.Area() + 4/y.Step
		for _, g := range gauss {
			n, d, w := p.At(g.at), p.Slope(g.at), g.weight*p.Length()
			for i, a := range n.Nodes {
				for j, b := range n.Nodes {
					y.shifted.add(a, b, w*(penalty*n.By[i]*n.By[j]-n.By[i]*d.By[j]-d.By[i]*n.By[j]))
				}
			}
		}
		held = append(held, p.At(0).Nodes[0])
	}
	return held
}

// fences lets each row of vias draw a current by the field along it. The row is a
// slit in the sheet, so that the field may bend there: across it the field is one
// (Nitsche's terms on the difference), and what flows out of it on both sides is
// its mean by the reach. The terms for the mean hold however short the reach
// (Juntunen and Stenberg, Nitsche's method for general boundary conditions,
// Mathematics of Computation 78, 2009).
func (y *system) fences(s Shape, long map[int]float64) (held []int) {
	slit := 0
	for _, f := range s.Fences {
		for range f.lines() {
			for _, m := range y.Seams(slit) {
				y.seam(m, max(f.reach(), 0), long)
				held = append(held, m.Left.At(0).Nodes[0], m.Right.At(0).Nodes[0])
			}
			slit++
		}
	}
	return held
}

// seam adds a stretch of a fence.
func (y *system) seam(m sheet.Seam, reach float64, long map[int]float64) {
	penalty := 0.0
	for _, p := range [2]sheet.Piece{m.Left, m.Right} {
		penalty += 4*long[p.Part]/p.Area() + 4/y.Step
	}
	share := 1 / penalty
	for _, g := range gauss {
		w := g.weight * m.Left.Length()
		var nodes [8]int
		var mean, jump, out, through [8]float64
		for side, p := range [2]sheet.Piece{m.Left, m.Right} {
			at, sign := g.at, 1.0
			if side == 1 {
				at, sign = 1-g.at, -1
			}
			n, d := p.At(at), p.Slope(at)
			for i := range 4 {
				k := 4*side + i
				nodes[k], mean[k], jump[k] = n.Nodes[i], n.By[i]/2, sign*n.By[i]
				out[k], through[k] = d.By[i], sign*d.By[i]/2
			}
		}
		for i, a := range nodes {
			for j, b := range nodes {
				y.shifted.add(a, b, w*(penalty/2*jump[i]*jump[j]-through[i]*jump[j]-jump[i]*through[j]+
					(mean[i]*mean[j]-share*(out[i]*mean[j]+mean[i]*out[j])-reach*share*out[i]*out[j])/(reach+share)))
			}
		}
	}
}

// reach is how far behind its line a row of vias acts like a wall: the sheet
// condition [∂E/∂n] = E/δ, δ = p/(2π)·ln(p/(π·D)) of pitch p and holes D, a
// grating of thin wires along the field (Marcuvitz, Waveguide Handbook, 1951,
// ch. 5, from memory).
func (f Fence) reach() float64 {
	return f.Pitch / (2 * math.Pi) * math.Log(f.Pitch/(math.Pi*f.Hole))
}

// slits are the lines of all fences.
func (s Shape) slits() (slits []sheet.Slit) {
	for _, f := range s.Fences {
		for _, l := range f.lines() {
			slits = append(slits, l)
		}
	}
	return slits
}

// lines are the path's, half a pitch longer at each free end.
func (f Fence) lines() (lines [][2]geom.Point) {
	for i := range max(len(f.Path)-1, 0) {
		lines = append(lines, [2]geom.Point{f.Path[i], f.Path[i+1]})
	}
	if n := len(lines); n > 0 && f.Path[0] != f.Path[n] {
		first, last := &lines[0], &lines[n-1]
		first[0] = first[0].Add(first[0].Sub(first[1]).Unit().Scale(f.Pitch / 2))
		last[1] = last[1].Add(last[1].Sub(last[0]).Unit().Scale(f.Pitch / 2))
	}
	return lines
}

// release notes the constants of those pieces of the sheet that nothing holds:
// they are no modes.
func (y *system) release(held []int) {
	of, count := y.Pieces()
	stays := make([]bool, count)
	for _, n := range held {
		stays[of[n]] = true
	}
	for k := range count {
		if stays[k] {
			continue
		}
		f := make(four, y.size())
		for i, piece := range of {
			if piece == k {
				f[i][0] = 1
			}
		}
		mf := y.mass(f)
		by := 1 / math.Sqrt(inner(f, mf)[0][0])
		for i := range f {
			f[i][0] *= by
		}
		y.free = append(y.free, f)
	}
}

// mass is M times fields.
func (y *system) mass(x four) four {
	out := make(four, len(x))
	y.border.addMass(y.Nodes, x, out)
	for _, e := range y.elements {
		for i, a := range e.Nodes {
			to, by := &out[a], &e.Mass[i]
			for j, b := range e.Nodes {
				v, from := by[j], &x[b]
				to[0] += v * from[0]
				to[1] += v * from[1]
				to[2] += v * from[2]
				to[3] += v * from[3]
			}
		}
	}
	return out
}

// inner is xᵀ·z.
func inner(x, z four) (sums [4][4]float64) {
	for n := range x {
		a, b := &x[n], &z[n]
		for i := range 4 {
			for j := range 4 {
				sums[i][j] += a[i] * b[j]
			}
		}
	}
	return sums
}
