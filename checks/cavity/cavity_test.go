package cavity

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/geom"
)

const mm = 1e-3

// ring is one of sides, x and y in mm by turns, all open.
func ring(mms ...float64) Ring {
	var r Ring
	for i := 0; i < len(mms); i += 2 {
		r = append(r, Side{At: geom.Point{X: mms[i] * mm, Y: mms[i+1] * mm}})
	}
	return r
}

func rectangle(x0, y0, x1, y1 float64) Ring { return ring(x0, y0, x1, y0, x1, y1, x0, y1) }

// plated is a ring whose sides of these numbers are electric, all of them where none is named.
func plated(r Ring, sides ...int) Ring {
	for i := range r {
		r[i].Electric = len(sides) == 0
	}
	for _, i := range sides {
		r[i].Electric = true
	}
	return r
}

// circle is a ring of chords.
func circle(x, y, radius float64, sides int) Ring {
	var r Ring
	for i := range sides {
		r = append(r, Side{At: geom.Point{X: x * mm, Y: y * mm}.Add(geom.Point{X: radius * mm}.Rotate(2 * math.Pi * float64(i) / float64(sides)))})
	}
	return r
}

// hole is a ring the other way round, each of its sides as it was.
func hole(r Ring) Ring {
	n := len(r)
	out := make(Ring, n)
	for i := range r {
		out[i] = Side{r[(n-i)%n].At, r[n-1-i].Electric}
	}
	return out
}

// points are a path's, x and y in mm by turns.
func points(mms ...float64) (path []geom.Point) {
	for _, side := range ring(mms...) {
		path = append(path, side.At)
	}
	return path
}

func solve(t testing.TB, s Shape, w Want) []Mode {
	t.Helper()
	modes, err := Solve(context.Background(), s, w)
	require.NoError(t, err)
	return modes
}

// The closed forms for rectangles (separation of variables; Pozar, Microwave
// Engineering, from memory), as GHz: sides 0 south, 1 east, 2 north, 3 west.
func TestRectangles(t *testing.T) {
	for i, sides := range [][]int{{0, 1, 2, 3}, {0, 1, 2}, {1, 2, 3}, {0, 2}, {1, 3}, {0, 1}, {0}, {1}, {-1}} {
		for _, c := range []struct {
			a, b, er float64
			ghz      [9]float64
		}{
			{100, 80, 4.3, [9]float64{1.1571, 0.9732, 0.8524, 0.9036, 0.7229, 0.5786, 0.4518, 0.3614, 0.7229}},
			{62, 38, 3.9, [9]float64{2.3428, 2.0891, 1.5799, 1.9974, 1.2242, 1.1714, 0.9987, 0.6121, 1.2242}},
			{30, 20, 3.66, [9]float64{4.7084, 4.1295, 3.2647, 3.9176, 2.6117, 2.3542, 1.9588, 1.3059, 2.6117}},
		} {
			r := rectangle(0, 0, c.a, c.b)
			if sides[0] >= 0 {
				r = plated(r, sides...)
			}
			m := solve(t, Shape{Rings: []Ring{r}, Permittivity: c.er}, Want{Modes: 6, Accuracy: 0.005})
			require.Len(t, m, 6)
			assert.InEpsilon(t, c.ghz[i]*1e9, m[0].F, 0.001, "%g by %g, %v", c.a, c.b, sides)
			assert.True(t, m[0].Least <= c.ghz[i]*1.0001e9 && c.ghz[i]*0.9999e9 <= m[0].Most, "%g to %g of %g", m[0].Least, m[0].Most, c.ghz[i])
		}
	}
}
