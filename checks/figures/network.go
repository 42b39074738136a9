package figures

import (
	"cmp"
	"math"
	"slices"
)

// network is what conducts between nodes. What it takes up is the sum over its
// links of the conductance by the square of the difference of their ends' voltages;
// single links of a sheet may be negative, their sum is not.
type network struct {
	nodes int
	links []link
}

// link is a conductance, S, between two nodes.
type link struct {
	a, b int
	by   float64
}

// node adds one.
func (n *network) node() int { n.nodes++; return n.nodes - 1 }

// join adds a conductance; none and what is no number is left out.
func (n *network) join(a, b int, by float64) {
	if a != b && by != 0 && !math.IsNaN(by) && !math.IsInf(by, 0) {
		n.links = append(n.links, link{a, b, by})
	}
}

// tie holds the voltages of two places to each other, each being a sum of nodes by
// weights: by times the square of their difference is taken up.
func (n *network) tie(nodes []int, weights []float64, by float64) {
	for i, a := range nodes {
		for k := range i {
			n.join(a, nodes[k], -by*weights[i]*weights[k])
		}
	}
}

// resistance between two nodes, Ω: 0 where they are one, +Inf where nothing joins
// them. ok is false where the reckoning did not settle, which rounding alone can
// bring about.
func (n *network) resistance(a, b int) (ohms float64, ok bool) {
	if a == b {
		return 0, true
	}
	m, from, to, joined := n.piece(a, b)
	if !joined {
		return math.Inf(1), true
	}
	return m.solve(from, to)
}

// piece is the matrix of what hangs together with a, by rows, and which rows a and
// b have.
func (n *network) piece(a, b int) (m *matrix, from, to int, joined bool) {
	begins := make([]int, n.nodes+1)
	for _, l := range n.links {
		begins[l.a+1]++
		begins[l.b+1]++
	}
	for i := range n.nodes {
		begins[i+1] += begins[i]
	}
	ends := slices.Clone(begins[:n.nodes])
	ways := make([]entry, 2*len(n.links))
	for _, l := range n.links {
		ways[ends[l.a]], ways[ends[l.b]] = entry{l.b, l.by}, entry{l.a, l.by}
		ends[l.a]++
		ends[l.b]++
	}
	row := make([]int, n.nodes)
	for i := range row {
		row[i] = -1
	}
	reached := []int{a}
	row[a] = 0
	for i := 0; i < len(reached); i++ {
		for _, w := range ways[begins[reached[i]]:begins[reached[i]+1]] {
			if row[w.column] < 0 {
				row[w.column] = len(reached)
				reached = append(reached, w.column)
			}
		}
	}
	if row[b] < 0 {
		return nil, 0, 0, false
	}
	m = &matrix{begins: make([]int, 1, len(reached)+1)}
	for _, at := range reached {
		m.row(ways[begins[at]:begins[at+1]], row)
	}
	return m, 0, row[b], true
}

// matrix is symmetric, row by row, without its diagonal, which is apart.
type matrix struct {
	begins   []int
	entries  []entry
	diagonal []float64
}

type entry struct {
	column int
	by     float64
}

// row adds one, links of the same two nodes being one.
func (m *matrix) row(ways []entry, number []int) {
	slices.SortFunc(ways, func(x, y entry) int { return cmp.Compare(number[x.column], number[y.column]) })
	first, sum := len(m.entries), 0.0
	for _, w := range ways {
		sum += w.by
		if last := len(m.entries) - 1; last >= first && m.entries[last].column == number[w.column] {
			m.entries[last].by += w.by
			continue
		}
		m.entries = append(m.entries, entry{number[w.column], w.by})
	}
	m.begins, m.diagonal = append(m.begins, len(m.entries)), append(m.diagonal, sum)
}

// solve gives the voltage between two nodes at 1 A, by conjugate gradients with the
// diagonal before them (Hestenes and Stiefel, Journal of Research of the National
// Bureau of Standards 49, 1952).
func (m *matrix) solve(from, to int) (ohms float64, ok bool) {
	n := len(m.diagonal)
	u, r, p, q := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	inverse := make([]float64, n)
	for i, d := range m.diagonal {
		if inverse[i] = 1; d > 0 {
			inverse[i] = 1 / d
		}
	}
	r[from], r[to] = 1, -1
	size := 0.0
	for i := range r {
		p[i] = inverse[i] * r[i]
		size += r[i] * p[i]
	}
	for end, step := 1e-22*size, 0; size > end; step++ {
		if step > 20*n+2000 {
			return 0, false
		}
		taken := m.times(p, q)
		if !(taken > 0) {
			return 0, false
		}
		along, next := size/taken, 0.0
		for i := range u {
			u[i] += along * p[i]
			r[i] -= along * q[i]
			next += r[i] * r[i] * inverse[i]
		}
		for i := range p {
			p[i] = inverse[i]*r[i] + next/size*p[i]
		}
		size = next
	}
	ohms = u[from] - u[to]
	return ohms, ohms > 0 && !math.IsInf(ohms, 1)
}

// times puts the matrix times p into q, and gives p·q.
func (m *matrix) times(p, q []float64) (sum float64) {
	for i, d := range m.diagonal {
		v := d * p[i]
		for _, e := range m.entries[m.begins[i]:m.begins[i+1]] {
			v -= e.by * p[e.column]
		}
		q[i] = v
		sum += p[i] * v
	}
	return sum
}
