package cavity

import (
	"context"
	"errors"
	"math"
)

// banded is a symmetric matrix: row i holds its entries from the diagonal to
// column ends[i]-1, no row ending before the one above. The factoring is here rather
// than gonum's, which takes 128 ms for 6,767 rows, 68 wide, where this takes 17
// (BenchmarkFactor, two busy cores), wants a band that is as wide everywhere, and
// cannot be ended early.
type banded struct {
	starts, ends []int
	a            []float64
}

// newBanded takes, for each row, the last column that it has an entry in.
func newBanded(last []int) *banded {
	m := &banded{make([]int, len(last)), make([]int, len(last)), nil}
	size, end := 0, 0
	for i, k := range last {
		end = max(end, k+1, i+1)
		m.starts[i], m.ends[i] = size, end
		size += end - i
	}
	m.a = make([]float64, size)
	return m
}

func (m *banded) row(i int) []float64 { return m.a[m.starts[i]:][: m.ends[i]-i : m.ends[i]-i] }

// add adds to an entry and to its mirror image.
func (m *banded) add(i, j int, v float64) {
	if i <= j {
		m.row(i)[j-i] += v
	}
}

var errIndefinite = errors.New("planes of this shape, with the walls and fences that join them, give no answer in the cells that they are cut into; a measurement tells")

// factor leaves the upper Cholesky factor, the inverse of its diagonal on the diagonal.
func (m *banded) factor(ctx context.Context) error {
	first := 0 // the first row above that reaches this one
	for i := range m.ends {
		if i%32 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		for m.ends[first] <= i {
			first++
		}
		y, k := m.row(i), first
		for ; k+3 < i; k += 4 {
			// Four rows above at once; the higher ones end sooner.
			a, b, c, d := m.row(k)[i-k:], m.row(k + 1)[i-k-1:], m.row(k + 2)[i-k-2:], m.row(k + 3)[i-k-3:]
			n := len(a)
			take4(y[:n], a, b, c, d)
			take(y[n:], b[n:], b[0])
			take(y[n:], c[n:], c[0])
			take(y[n:], d[n:], d[0])
		}
		for ; k < i; k++ {
			a := m.row(k)[i-k:]
			take(y, a, a[0])
		}
		if !(y[0] > 0) || math.IsInf(y[0], 1) {
			return errIndefinite
		}
		u := 1 / math.Sqrt(y[0])
		y[0] = u
		for j := 1; j < len(y); j++ {
			y[j] *= u
		}
	}
	return nil
}

// take takes u times a row from y.
func take(y, a []float64, u float64) {
	y = y[:len(a)]
	for i, v := range a {
		y[i] -= u * v
	}
}

// take4 takes from y each of four rows by its first entry.
func take4(y, a, b, c, d []float64) {
	u, v, w, z := a[0], b[0], c[0], d[0]
	a, b, c, d = a[:len(y)], b[:len(y)], c[:len(y)], d[:len(y)]
	for i := range y {
		y[i] -= u*a[i] + v*b[i] + w*c[i] + z*d[i]
	}
}

// four are four fields, side by side at each node.
type four [][4]float64

// solve puts the solution in the place of the right-hand sides.
func (m *banded) solve(x four) {
	for i := range x {
		row, p := m.row(i), &x[i]
		u := row[0]
		p[0], p[1], p[2], p[3] = p[0]*u, p[1]*u, p[2]*u, p[3]*u
		a, b, c, d := p[0], p[1], p[2], p[3]
		below := x[i+1 : m.ends[i]]
		row = row[1 : 1+len(below)]
		for k, v := range row {
			q := &below[k]
			q[0], q[1], q[2], q[3] = q[0]-v*a, q[1]-v*b, q[2]-v*c, q[3]-v*d
		}
	}
	for i := len(x) - 1; i >= 0; i-- {
		row, p := m.row(i), &x[i]
		u := row[0]
		a, b, c, d := p[0], p[1], p[2], p[3]
		below := x[i+1 : m.ends[i]]
		row = row[1 : 1+len(below)]
		for k, v := range row {
			q := &below[k]
			a, b, c, d = a-v*q[0], b-v*q[1], c-v*q[2], d-v*q[3]
		}
		p[0], p[1], p[2], p[3] = a*u, b*u, c*u, d*u
	}
}
