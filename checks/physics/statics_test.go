package physics

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stub is what a tab of 2 mm holds back of turning: l²/3.
const stub = 2e-3 * 2e-3 / 3

// springs are supports at points in mm.
func springs(at ...[2]float64) []Spring {
	var list []Spring
	for _, p := range at {
		list = append(list, Spring{p[0] * 1e-3, p[1] * 1e-3, stub})
	}
	return list
}

// joined is the mass, g, of two masses and their centre, mm.
func joined(a, ax, ay, b, bx, by float64) (grams, x, y float64) {
	return a + b, (a*ax + b*bx) / (a + b), (a*ay + b*by) / (a + b)
}

// Worked by hand by the lever rule, three supports being enough for statics alone: a
// board of 100 × 80 mm, 23.68 g, with a part of 20 g at (60, 50) on tabs at (20, 0),
// (80, 0) and (50, 80); with 30 g at (25, 60) the second tab pulls.
func TestReactionsOfThreeTabs(t *testing.T) {
	tabs := springs([2]float64{20, 0}, [2]float64{80, 0}, [2]float64{50, 80})
	for _, c := range []struct {
		part, x, y, cx, cy float64
		want               [3]float64
	}{
		{20, 60, 50, 54.58, 44.58, [3]float64{0.0621, 0.1275, 0.2387}},
		{30, 25, 60, 36.03, 51.18, [3]float64{0.2173, -0.0278, 0.3368}},
	} {
		g, x, y := joined(23.68, 50, 40, c.part, c.x, c.y)
		assert.InDelta(t, c.cx, x, 0.005)
		assert.InDelta(t, c.cy, y, 0.005)
		got, ok := OnSprings(tabs, g*1e-3*Gravity, x*1e-3, y*1e-3)
		require.True(t, ok)
		for i, r := range got {
			assert.InDelta(t, c.want[i], r.Force, 0.0005, "tab %d, by the lever rule", i)
		}
	}
}

// The same board with a part of 20 g at (80, 40) on tabs in the middle of its west and
// east edges: 0.1553 and 0.2730 N by the lever rule. The line between them holds no
// moment beside it, and none is asked.
func TestReactionsOfTwoTabs(t *testing.T) {
	g, x, y := joined(23.68, 50, 40, 20, 80, 40)
	assert.InDelta(t, 63.74, x, 0.005)
	got, ok := OnSprings(springs([2]float64{0, 40}, [2]float64{100, 40}), g*1e-3*Gravity, x*1e-3, y*1e-3)
	require.True(t, ok)
	assert.InDelta(t, 0.1553, got[0].Force, 0.0003, "lever rule")
	assert.InDelta(t, 0.2730, got[1].Force, 0.0003, "lever rule")
}

// A board that hangs out from tabs on one edge is a cantilever: each tab bears a third
// of the weight, and a third of its moment about the edge, weight times 40 mm.
func TestTabsOnOneEdge(t *testing.T) {
	got, ok := OnSprings(springs([2]float64{20, 0}, [2]float64{50, 0}, [2]float64{80, 0}), 0.2322, 50e-3, 40e-3)
	require.True(t, ok)
	for _, r := range got {
		assert.InEpsilon(t, 0.2322/3, r.Force, 1e-9, "by symmetry")
		assert.InEpsilon(t, 0.2322*40e-3/3, r.Y, 1e-9, "moment about the edge, by hand")
		assert.InDelta(t, 0, r.X, 1e-12)
	}
}

// Whatever the supports are, forces and moments balance the weight, and neither
// turning, mirroring, moving nor the order changes what a support bears.
func TestReactionsBalance(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 500 {
		var at []Spring
		for range 1 + r.IntN(7) {
			at = append(at, Spring{r.Float64() * 0.2, r.Float64() * 0.1, stub * (0.2 + 3*r.Float64())})
		}
		w, x, y := 0.01+r.Float64(), r.Float64()*0.2, r.Float64()*0.1
		got, ok := OnSprings(at, w, x, y)
		require.True(t, ok)
		var f, mx, my float64
		for i, s := range at {
			f, mx, my = f+got[i].Force, mx+got[i].Force*s.X+got[i].X, my+got[i].Force*s.Y+got[i].Y
		}
		assert.InDelta(t, w, f, 1e-9)
		assert.InDelta(t, w*x, mx, 1e-9)
		assert.InDelta(t, w*y, my, 1e-9)

		sin, cos := math.Sincos(r.Float64() * 7)
		turn := func(x, y float64) (float64, float64) {
			if len(at)%2 == 0 {
				x = -x // mirrored
			}
			return 0.3 + cos*x - sin*y, -0.2 + sin*x + cos*y
		}
		shuffled, moved := r.Perm(len(at)), make([]Spring, len(at))
		for i, k := range shuffled {
			s := at[k]
			s.X, s.Y = turn(s.X, s.Y)
			moved[i] = s
		}
		tx, ty := turn(x, y)
		again, ok := OnSprings(moved, w, tx, ty)
		require.True(t, ok)
		for i, k := range shuffled {
			assert.InDelta(t, got[k].Force, again[i].Force, 1e-7*w*1e3)
			assert.InDelta(t, math.Hypot(got[k].X, got[k].Y), math.Hypot(again[i].X, again[i].Y), 1e-8)
		}
		twice, _ := OnSprings(at, 2*w, x, y)
		assert.InDelta(t, 2*got[0].Force, twice[0].Force, 1e-9, "in proportion to the weight")
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, ok := OnSprings(springs([2]float64{0, 0}), bad, 0, 0)
		assert.False(t, ok)
		_, ok = OnSprings([]Spring{{0, 0, bad}}, 1, 0, 0)
		assert.False(t, ok)
	}
	_, ok := OnSprings(nil, 1, 0, 0)
	assert.False(t, ok)
}

// Sag of a bare sheet held at both ends: 4.61 µm over 100 mm, 23.4 over 150, 44.3 over
// 176, 100.4 over 216, 180.2 over 250 at 1.6 mm, 177.1 over 176 at 0.8 mm (computed from
// 5·ρ·g·L⁴/(32·E·t²), E 24 GPa, ρ 1850 kg/m³).
func TestSag(t *testing.T) {
	for _, c := range []struct{ l, t, um float64 }{{100, 1.6, 4.61}, {150, 1.6, 23.4}, {176, 1.6, 44.3}, {216, 1.6, 100.4}, {250, 1.6, 180.2}, {176, 0.8, 177.1}} {
		const width = 0.08
		sag, ok := Sag(1850*c.l*1e-3*width*c.t*1e-3, c.l*1e-3, width, c.t*1e-3, YoungLengthwise)
		near(t, c.um*1e-6, sag, ok, "computed")
	}
	_, ok := Sag(0, 1, 1, 1, 1)
	assert.False(t, ok)
}
