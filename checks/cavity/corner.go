package cavity

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"hemline/checks/sheet"
	"hemline/lang/geom"
)

// corner is a place on the boundary where the field goes like r^α, α under 1: where
// a wall begins along a straight edge (√r), and at corners that jut in. Bilinear
// cells follow that badly, so the function itself is one of those that a field is
// made of: s = r^α·sin or cos of α·θ, times a step that falls smoothly from 1 to 0 at reach (Strang
// and Fix, An Analysis of the Finite Element Method, 1973, ch. 8). It is harmonic and
// keeps to what holds on its two sides, so its energy with any field v is -∫ v·∆(step·s),
// and ∆(step·s) is nothing near the corner.
type corner struct {
	at, along    geom.Point // along is the way of the side that starts here
	angle, power float64    // of the region, and α
	sine         bool
	reach        float64
}

const (
	mostCorners  = 32
	smooth       = 0.9 // what goes like a higher power needs no function of its own
	reachOfSheet = 0.8 // of the root of the area, the furthest that one goes
	leastReach   = 1.0 // steps; one that ends sooner is left out
)

// corners are the places whose functions a shape needs, those that reach furthest first.
func (s Shape) corners(area float64) []corner {
	var found []corner
	rings := make([]Ring, len(s.Rings))
	for i, r := range s.Rings {
		rings[i] = r.plain()
	}
	for i, r := range rings {
		for j := range r {
			before, after := r[(j+len(r)-1)%len(r)], r[(j+1)%len(r)]
			in, out := r[j].At.Sub(before.At), after.At.Sub(r[j].At)
			c := corner{at: r[j].At, along: out.Unit(), angle: math.Pi - math.Atan2(in.Cross(out), in.Dot(out))}
			c.power, c.sine = math.Pi/c.angle, r[j].Electric
			if r[j].Electric != before.Electric {
				c.power /= 2
			}
			if !(c.power < smooth) {
				continue
			}
			c.reach = min(s.clear(rings, i, j)*0.9, reachOfSheet*math.Sqrt(area))
			found = append(found, c)
		}
	}
	slices.SortStableFunc(found, func(a, b corner) int { return cmp.Compare(b.reach, a.reach) })
	return found[:min(len(found), mostCorners)]
}

// plain is a ring without sides of no length, and without corners where nothing changes.
func (r Ring) plain() Ring {
	var out Ring
	for i, side := range r {
		if side.At != r[(i+1)%len(r)].At {
			out = append(out, side)
		}
	}
	ring := out
	return slices.DeleteFunc(slices.Clone(ring), func(side Side) bool {
		i := slices.Index(ring, side)
		before, after := ring[(i+len(ring)-1)%len(ring)], ring[(i+1)%len(ring)]
		in, out := side.At.Sub(before.At), after.At.Sub(side.At)
		return before.Electric == side.Electric && in.Dot(out) > 0 && math.Abs(in.Cross(out)) < 1e-9*in.Norm()*out.Norm()
	})
}

// clear is how far a corner is from everything but its own two sides, and no
// further than they go.
func (s Shape) clear(rings []Ring, ring, side int) float64 {
	at := rings[ring][side].At
	least := math.Inf(1)
	for i, r := range rings {
		for j := range r {
			a, b := r[j].At, r[(j+1)%len(r)].At
			switch {
			case i == ring && j == side:
				least = min(least, at.Dist(b))
			case i == ring && (j+1)%len(r) == side:
				least = min(least, at.Dist(a))
			default:
				least = min(least, distance(at, a, b))
			}
		}
	}
	for _, f := range s.Fences {
		for _, l := range f.lines() {
			least = min(least, distance(at, l[0], l[1]))
		}
	}
	return least
}

// distance is that of a place from a line.
func distance(p, a, b geom.Point) float64 {
	along, t := b.Sub(a), 0.0
	if n := along.Dot(along); n > 0 {
		t = min(max(p.Sub(a).Dot(along)/n, 0), 1)
	}
	return p.Dist(a.Add(along.Scale(t)))
}

// of is the function at a place, and ∆ of it.
func (c *corner) of(p geom.Point) (value, laplacian float64) {
	d := p.Sub(c.at)
	square := d.Dot(d)
	if square >= c.reach*c.reach || square == 0 {
		return 0, 0
	}
	r := math.Sqrt(square)
	theta := math.Atan2(c.along.Cross(d), c.along.Dot(d))
	if theta < c.angle/2-math.Pi {
		theta += 2 * math.Pi
	}
	s := math.Exp(c.power / 2 * math.Log(square))
	if c.sine {
		s *= math.Sin(c.power * theta)
	} else {
		s *= math.Cos(c.power * theta)
	}
	t := r / c.reach
	step := 1 - t*t*t*(10-15*t+6*t*t)
	slope := -30 * t * t * (1 - t) * (1 - t) / c.reach
	bend := -60 * t * (1 - t) * (1 - 2*t) / (c.reach * c.reach)
	return s * step, s * (bend + slope*(1+2*c.power)/r)
}

// share is what one function has with one node.
type share struct {
	node          int
	shifted, mass float64
}

// border is what the corners' functions add to a system: rows and columns after the nodes'.
type border struct {
	corners []corner
	shares  [][]share     // by corner
	mass    *mat.SymDense // among themselves
	inverse mat.Cholesky  // of their part of K + shift·M, less what the nodes answer for
	answers fields        // of the nodes to each
}

// newBorder works out the functions of those corners that reach some steps.
func (y *system) newBorder(corners []corner) *border {
	b := &border{}
	for _, c := range corners {
		if c.reach >= leastReach*y.Step {
			b.corners = append(b.corners, c)
		}
	}
	n := len(b.corners)
	if n == 0 {
		return b
	}
	stiffness := mat.NewDense(n, n, nil)
	b.mass = mat.NewSymDense(n, nil)
	sums := make([]share, y.Nodes)
	for k := range b.corners {
		c := &b.corners[k]
		clear(sums)
		y.Around(c.at, c.reach, int(math.Ceil(8*y.Step/c.reach)), func(p geom.Point, area float64, w sheet.Weights) {
			value, laplacian := c.of(p)
			if value == 0 && laplacian == 0 {
				return
			}
			for i, node := range w.Nodes {
				sums[node].shifted -= area * laplacian * w.By[i]
				sums[node].mass += area * value * w.By[i]
			}
			for j := range b.corners {
				if at := &b.corners[j]; at.at.Dist(c.at) < at.reach+c.reach {
					other, _ := at.of(p)
					stiffness.Set(k, j, stiffness.At(k, j)-area*laplacian*other)
					if j >= k {
						b.mass.SetSym(k, j, b.mass.At(k, j)+area*value*other)
					}
				}
			}
		})
		var shares []share
		for node, s := range sums {
			if s.mass != 0 || s.shifted != 0 {
				shares = append(shares, share{node, s.shifted + y.shift*s.mass, s.mass})
			}
		}
		b.shares = append(b.shares, shares)
	}
	b.close(y, stiffness)
	return b
}

// close works out the nodes' answers, once the nodes' part has been factored.
func (b *border) close(y *system, stiffness *mat.Dense) {
	n := len(b.corners)
	b.answers = make(fields, (n+3)/4)
	for i := range b.answers {
		b.answers[i] = make(four, y.Nodes)
	}
	for k, shares := range b.shares {
		for _, s := range shares {
			b.answers[k/4][s.node][k%4] = s.shifted
		}
	}
	for _, a := range b.answers {
		y.shifted.solve(a)
	}
	rest := mat.NewSymDense(n, nil)
	for k := range n {
		for j := k; j < n; j++ {
			v := (stiffness.At(k, j)+stiffness.At(j, k))/2 + y.shift*b.mass.At(k, j)
			for _, s := range b.shares[k] {
				v -= s.shifted * b.answers[j/4][s.node][j%4]
			}
			rest.SetSym(k, j, v)
		}
	}
	if !b.inverse.Factorize(rest) {
		b.corners, b.shares = nil, nil // of no use on this grid
	}
}

// solve puts the solution of the bordered system in the place of the right-hand sides.
func (y *system) solve(x four) {
	y.shifted.solve(x[:y.Nodes])
	b := y.border
	n := len(b.corners)
	if n == 0 {
		return
	}
	right := mat.NewDense(n, 4, nil)
	for k, shares := range b.shares {
		for j := range 4 {
			v := x[y.Nodes+k][j]
			for _, s := range shares {
				v -= s.shifted * x[s.node][j]
			}
			right.Set(k, j, v)
		}
	}
	var c mat.Dense
	if b.inverse.SolveTo(&c, right) != nil && c.IsEmpty() {
		return
	}
	for k := range n {
		for j := range 4 {
			x[y.Nodes+k][j] = c.At(k, j)
		}
		for i := range y.Nodes {
			if a := b.answers[k/4][i][k%4]; a != 0 {
				for j := range 4 {
					x[i][j] -= a * x[y.Nodes+k][j]
				}
			}
		}
	}
}

// addMass adds what the corners' functions have to M·x.
func (b *border) addMass(nodes int, x, out four) {
	for k, shares := range b.shares {
		for j := range 4 {
			for _, s := range shares {
				out[s.node][j] += s.mass * x[nodes+k][j]
				out[nodes+k][j] += s.mass * x[s.node][j]
			}
			for i := range b.shares {
				out[nodes+k][j] += b.mass.At(k, i) * x[nodes+i][j]
			}
		}
	}
}
