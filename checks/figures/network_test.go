package figures

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"hemline/lang/geom"
)

// The resistance between two nodes of networks made at random is that of a dense
// solution of the whole (gonum), however the nodes are taken out; some hang together
// with nothing, some links are double, some lie in a row of any places.
func TestResistanceOfNetworks(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 7))
	apart, joined := 0, 0
	for range 300 {
		n := network{nodes: 3 + rng.IntN(120)}
		for range n.nodes - 1 + rng.IntN(3*n.nodes) {
			n.join(rng.IntN(n.nodes), rng.IntN(n.nodes), math.Exp(6*rng.Float64()))
		}
		if rng.IntN(2) == 0 {
			for range n.nodes * rng.IntN(3) / 2 { // not of all of them
				n.places = append(n.places, geom.Point{X: rng.Float64(), Y: rng.Float64()})
			}
		}
		n.places = n.places[:min(len(n.places), n.nodes)]
		a := rng.IntN(n.nodes)
		b := (a + 1 + rng.IntN(n.nodes-1)) % n.nodes
		ohms, ok := n.resistance(a, b)
		require.True(t, ok)
		w, reached := n.piece(a)
		whole := mat.NewSymDense(n.nodes, nil)
		for i := range n.nodes {
			if !slices.Contains(reached, i) {
				whole.SetSym(i, i, 1) // of no account
			}
			for _, v := range w.of(i) {
				whole.SetSym(i, i, whole.At(i, i)+v.by)
			}
		}
		for _, l := range n.links {
			whole.SetSym(l.a, l.b, whole.At(l.a, l.b)-l.by)
		}
		if !slices.Contains(reached, b) {
			apart++
			assert.Equal(t, math.Inf(1), ohms)
			continue
		}
		joined++
		earthed := mat.NewSymDense(n.nodes, nil)
		earthed.CopySym(whole)
		earthed.SetSym(b, b, whole.At(b, b)+1e6)
		var c mat.Cholesky
		require.True(t, c.Factorize(earthed))
		x := mat.NewVecDense(n.nodes, nil)
		at := mat.NewVecDense(n.nodes, nil)
		at.SetVec(a, 1)
		at.SetVec(b, -1)
		require.NoError(t, c.SolveVecTo(x, at))
		assert.InEpsilon(t, x.AtVec(a)-x.AtVec(b), ohms, 1e-6)
	}
	assert.Greater(t, apart, 10)
	assert.Greater(t, joined, 100)
}
