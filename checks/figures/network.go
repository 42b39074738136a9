package figures

import (
	"cmp"
	"math"
	"slices"

	"hemline/lang/geom"
)

// network is what conducts between nodes. What it takes up is the sum over its
// links of the conductance by the square of the difference of their ends' voltages;
// single links of a sheet may be negative, their sum is not.
type network struct {
	nodes int
	links []link
	// places are where the nodes lie, nm, as far as that is known: the order in which they
	// are taken out goes by it.
	places []geom.Point
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
// them. ok is false where rounding spoils the reckoning.
func (n *network) resistance(a, b int) (ohms float64, ok bool) {
	if a == b {
		return 0, true
	}
	ways, reached := n.piece(a)
	if !slices.Contains(reached, b) {
		return math.Inf(1), true
	}
	// With b at 0 V and a taken out last, what is left on the diagonal is the
	// conductance between them.
	list := slices.DeleteFunc(reached, func(i int) bool { return i == a || i == b })
	order := append(n.dissect(list, ways), a)
	left, ok := ways.eliminate(order)
	return 1 / left, ok
}

// ways are a network's links from each node.
type ways struct {
	begins []int
	list   []way
}

type way struct {
	to int
	by float64
}

func (w *ways) of(node int) []way { return w.list[w.begins[node]:w.begins[node+1]] }

// piece is what hangs together with a node, in the order in which it is reached.
func (n *network) piece(a int) (w *ways, reached []int) {
	w = &ways{make([]int, n.nodes+1), make([]way, 2*len(n.links))}
	for _, l := range n.links {
		w.begins[l.a+1]++
		w.begins[l.b+1]++
	}
	for i := range n.nodes {
		w.begins[i+1] += w.begins[i]
	}
	ends := slices.Clone(w.begins[:n.nodes])
	for _, l := range n.links {
		w.list[ends[l.a]], w.list[ends[l.b]] = way{l.b, l.by}, way{l.a, l.by}
		ends[l.a]++
		ends[l.b]++
	}
	known := make([]bool, n.nodes)
	reached, known[a] = []int{a}, true
	for i := 0; i < len(reached); i++ {
		for _, v := range w.of(reached[i]) {
			if !known[v.to] {
				known[v.to] = true
				reached = append(reached, v.to)
			}
		}
	}
	return w, reached
}

// dissect is the order in which nodes are taken out: those of one half of them, then those
// of the other, and last those between, in each half in the same way, which leaves few links
// to be made (nested dissection: A. George, SIAM Journal on Numerical Analysis 10, 1973).
func (n *network) dissect(list []int, w *ways) (order []int) {
	where := make([]geom.Point, n.nodes)
	for i, node := range list { // in the order in which it was reached, without a place
		where[node] = geom.Point{X: float64(i)}
		if node < len(n.places) {
			where[node] = n.places[node]
		}
	}
	side := make([]int, n.nodes)
	number := 0
	var halve func(part []int)
	halve = func(part []int) {
		const few = 24
		if len(part) <= few {
			order = append(order, part...)
			return
		}
		box := geom.EmptyBox()
		for _, node := range part {
			box = box.Union(geom.Box{Min: where[node], Max: where[node]})
		}
		wide := box.Max.X-box.Min.X >= box.Max.Y-box.Min.Y
		slices.SortFunc(part, func(a, b int) int {
			if wide {
				return cmp.Or(cmp.Compare(where[a].X, where[b].X), cmp.Compare(a, b))
			}
			return cmp.Or(cmp.Compare(where[a].Y, where[b].Y), cmp.Compare(a, b))
		})
		number++
		second := number
		for _, node := range part[len(part)/2:] {
			side[node] = second
		}
		var first, between []int
		for _, node := range part[:len(part)/2] {
			if slices.ContainsFunc(w.of(node), func(v way) bool { return side[v.to] == second }) {
				between = append(between, node)
			} else {
				first = append(first, node)
			}
		}
		rest := slices.Clone(part[len(part)/2:])
		halve(first)
		halve(rest)
		order = append(order, between...)
	}
	halve(slices.Clone(list))
	return order
}

// eliminate takes nodes out in an order and gives what conductance is left between the last
// of them and what is not among them: the last pivot of a sparse factor L·D·Lᵀ, row by row
// (T. A. Davis, ACM Transactions on Mathematical Software 31, 2005).
func (w *ways) eliminate(order []int) (left float64, ok bool) {
	n := len(order)
	row := make([]int, len(w.begins)-1)
	for i := range row {
		row[i] = -1
	}
	for k, node := range order {
		row[node] = k
	}
	parent, mark, filled := make([]int, n), make([]int, n), make([]int, n)
	for k, node := range order {
		parent[k], mark[k] = -1, k
		for _, v := range w.of(node) {
			for i := row[v.to]; i >= 0 && i < k && mark[i] != k; i = parent[i] {
				if parent[i] < 0 {
					parent[i] = k
				}
				filled[i]++
				mark[i] = k
			}
		}
	}
	begins := make([]int, n+1)
	for i := range n {
		begins[i+1] = begins[i] + filled[i]
		filled[i], mark[i] = 0, -1
	}
	rows, values := make([]int32, begins[n]), make([]float64, begins[n])
	pivot, y, pattern := make([]float64, n), make([]float64, n), make([]int, n)
	for k, node := range order {
		mark[k] = k
		top := n
		for _, v := range w.of(node) {
			pivot[k] += v.by
			i := row[v.to]
			if i < 0 || i >= k {
				continue
			}
			y[i] -= v.by
			long := 0
			for ; mark[i] != k; i = parent[i] {
				pattern[long] = i
				long++
				mark[i] = k
			}
			top -= long
			copy(pattern[top:], pattern[:long])
		}
		for _, i := range pattern[top:] {
			by := y[i]
			y[i] = 0
			from := begins[i]
			col, val := rows[from:from+filled[i]], values[from:from+filled[i]]
			for p, r := range col {
				y[r] -= val[p] * by
			}
			l := by / pivot[i]
			pivot[k] -= l * by
			rows[from+filled[i]], values[from+filled[i]] = int32(k), l
			filled[i]++
		}
		if !(pivot[k] > 0) || math.IsInf(pivot[k], 1) {
			return 0, false
		}
	}
	return pivot[n-1], true
}
