package cavity

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mat"
)

// fields are several at once, by fours.
type fields []four

// modes are the lowest eigenvalues of K·x = λ·M·x and their fields, M-orthonormal.
type modes struct {
	values []float64
	fields fields
}

// iterate finds a system's lowest modes by subspace iteration with Ritz steps
// (Bathe and Wilson 1973; Parlett, The Symmetric Eigenvalue Problem, ch. 14), from
// given fields on, until the first few change by less than a part.
func (y *system) iterate(ctx context.Context, x fields, first int, part float64) (modes, error) {
	const rounds = 60
	var last []float64
	for range rounds {
		if err := ctx.Err(); err != nil {
			return modes{}, err
		}
		w := y.masses(x)
		y.project(w)
		z := make(fields, len(w))
		for i := range w {
			z[i] = append(four(nil), w[i]...)
			y.solve(z[i])
			if err := ctx.Err(); err != nil {
				return modes{}, err
			}
		}
		// Of the solved fields z: (K + shift·M)·z = w.
		values, turn, ok := ritz(gram(z, w), gram(z, y.masses(z)))
		if !ok {
			return modes{}, errIndefinite
		}
		x = z.times(turn)
		for i := range values {
			values[i] -= y.shift
		}
		if settled(values, last, first, part) {
			return modes{values, x}, nil
		}
		last = values
	}
	return modes{last, x}, nil
}

// settled tells whether the first values are what they were: the very first by a
// part, the others by a hundred times as much.
func settled(now, before []float64, first int, part float64) bool {
	if before == nil {
		return false
	}
	for i := range min(first, len(now)) {
		if off := math.Abs(now[i] - before[i]); i >= len(before) || !(off <= part*now[i]*[2]float64{1, 100}[min(i, 1)]) {
			return false
		}
	}
	return true
}

func (y *system) masses(x fields) fields {
	out := make(fields, len(x))
	for i := range x {
		out[i] = y.mass(x[i])
	}
	return out
}

// project takes the free constants out of w = M·x.
func (y *system) project(w fields) {
	for _, f := range y.free {
		mf := y.mass(f)
		for k := range w {
			by := inner(f, w[k])[0]
			for n := range w[k] {
				for j := range 4 {
					w[k][n][j] -= by[j] * mf[n][0]
				}
			}
		}
	}
}

// gram is xᵀ·z.
func gram(x, z fields) *mat.SymDense {
	n := 4 * len(x)
	g := mat.NewSymDense(n, nil)
	for i := range x {
		for j := i; j < len(z); j++ {
			s := inner(x[i], z[j])
			for a := range 4 {
				for b := range 4 {
					if 4*i+a <= 4*j+b {
						g.SetSym(4*i+a, 4*j+b, s[a][b])
					}
				}
			}
		}
	}
	return g
}

// times is the fields' combinations, a column each.
func (x fields) times(turn *mat.Dense) fields {
	_, columns := turn.Dims()
	out := make(fields, len(x))
	for k := range out {
		out[k] = make(four, len(x[0]))
		for i := range x {
			var t [4][4]float64
			for a := range 4 {
				for b := range 4 {
					if 4*k+b < columns {
						t[a][b] = turn.At(4*i+a, 4*k+b)
					}
				}
			}
			for n := range out[k] {
				to, from := &out[k][n], &x[i][n]
				for a := range 4 {
					v := from[a]
					to[0] += v * t[a][0]
					to[1] += v * t[a][1]
					to[2] += v * t[a][2]
					to[3] += v * t[a][3]
				}
			}
		}
	}
	return out
}

// ritz solves a·v = θ·b·v for small matrices, the lowest θ first, b-orthonormal.
// What of b is nothing beside the rest is left out.
func ritz(a, b *mat.SymDense) (values []float64, turn *mat.Dense, ok bool) {
	n := a.SymmetricDim()
	scale := make([]float64, n)
	for i := range scale {
		if d := b.At(i, i); d > 0 {
			scale[i] = 1 / math.Sqrt(d)
		}
	}
	scaled := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			scaled.SetSym(i, j, b.At(i, j)*scale[i]*scale[j])
		}
	}
	var of mat.EigenSym
	if !of.Factorize(scaled, true) {
		return nil, nil, false
	}
	var vectors mat.Dense
	of.VectorsTo(&vectors)
	sizes := of.Values(nil)
	basis := mat.NewDense(n, n, nil)
	kept := 0
	for k, size := range sizes {
		if size > 1e-12*sizes[n-1] {
			for i := range n {
				basis.Set(i, kept, vectors.At(i, k)*scale[i]/math.Sqrt(size))
			}
			kept++
		}
	}
	if kept == 0 {
		return nil, nil, false
	}
	used := basis.Slice(0, n, 0, kept)
	var half, whole mat.Dense
	half.Mul(a, used)
	whole.Mul(used.T(), &half)
	small := mat.NewSymDense(kept, nil)
	for i := range kept {
		for j := i; j < kept; j++ {
			small.SetSym(i, j, (whole.At(i, j)+whole.At(j, i))/2)
		}
	}
	if !of.Factorize(small, true) {
		return nil, nil, false
	}
	var turned mat.Dense
	of.VectorsTo(&turned)
	turn = new(mat.Dense)
	turn.Mul(used, &turned)
	return of.Values(nil), turn, true
}
