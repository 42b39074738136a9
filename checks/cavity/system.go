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
	free     []four // a constant each on what no wall or fence holds, in their first places
}

// newSystem cuts a shape into cells and factors what its modes come from.
func newSystem(ctx context.Context, s Shape, step float64) (*system, error) {
	cut, err := sheet.Mesh(s.region(), step)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	y := &system{Sheet: cut, elements: cut.Elements(), shifted: newBanded(cut.Nodes, cut.Band), shift: 0.5 / cut.Area()}
	for _, e := range y.elements {
		for i, a := range e.Nodes {
			for j, b := range e.Nodes {
				y.shifted.add(int(a), int(b), e.Stiffness[i][j]+y.shift*e.Mass[i][j])
			}
		}
	}
	held := y.walls(s)
	held = append(held, y.fences(s)...)
	y.release(held)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return y, y.shifted.factor(ctx)
}

// Gauss's three places and weights on 0 to 1, exact to the fifth degree.
var gauss = [3]struct{ at, weight float64 }{
	{0.5 - 0.5*0.7745966692414834, 5. / 18}, {0.5, 8. / 18}, {0.5 + 0.5*0.7745966692414834, 5. / 18},
}

// walls holds the field at zero along electric sides (Nitsche 1971, Über ein
// Variationsprinzip zur Lösung von Dirichlet-Problemen): a penalty on its square,
// and its flow through the wall, with which the penalty shifts nothing. It gives
// a node of each place that is held.
func (y *system) walls(s Shape) (held []int) {
	var pieces []sheet.Piece
	long := map[int]float64{} // in each part
	for i, ring := range s.Rings {
		for j, side := range ring {
			if side.Electric {
				for _, p := range y.Side(i, j) {
					pieces = append(pieces, p)
					long[p.Part] += p.Length()
				}
			}
		}
	}
	for _, p := range pieces {
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

// fences lets each row of vias draw a current by the field along it.
func (y *system) fences(s Shape) (held []int) {
	for _, f := range s.Fences {
		reach := max(f.reach(), 1e-3*f.Pitch)
		for _, line := range f.lines() {
			for _, p := range y.Along(line[0], line[1]) {
				for _, g := range gauss {
					n, w := p.At(g.at), g.weight*p.Length()/reach
					for i, a := range n.Nodes {
						for j, b := range n.Nodes {
							y.shifted.add(a, b, w*n.By[i]*n.By[j])
						}
					}
				}
				held = append(held, p.At(0).Nodes[0])
			}
		}
	}
	return held
}

// reach is how far behind its line a row of vias acts like a wall: the sheet
// condition [∂E/∂n] = E/δ, δ = p/(2π)·ln(p/(π·D)) of pitch p and holes D, a
// grating of thin wires along the field (Marcuvitz, Waveguide Handbook, 1951,
// ch. 5, from memory).
func (f Fence) reach() float64 {
	return f.Pitch / (2 * math.Pi) * math.Log(f.Pitch/(math.Pi*f.Hole))
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
		f := make(four, y.Nodes)
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
