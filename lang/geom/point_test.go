package geom

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Whole sides of right triangles, a = m²-n², b = 2mn, c = m²+n², give whole
// lengths, as far as their squares are exact.
func TestNormIsExactForWholeTriangles(t *testing.T) {
	for m := 2.0; m < 100; m++ {
		for n := 1.0; n < m; n++ {
			for _, k := range []float64{1, 977} {
				p := Point{k * (m*m - n*n), -k * 2 * m * n}
				if want := k * (m*m + n*n); p.Norm() != want {
					assert.Equal(t, want, p.Norm(), "%v", p)
				}
			}
		}
	}
	assert.InEpsilon(t, 5e-200, Point{3e-200, 4e-200}.Norm(), 1e-15, "too small to square")
	assert.InEpsilon(t, 5e200, Point{3e200, 4e200}.Norm(), 1e-15, "too large to square")
}

func TestRotate(t *testing.T) {
	p := Point{3, 1}
	assert.Equal(t, Point{-1, 3}, p.Rotate(math.Pi/2))
	assert.Equal(t, Point{-3, -1}, p.Rotate(math.Pi))
	assert.Equal(t, Point{1, -3}, p.Rotate(-math.Pi/2))
	samePoint(t, Point{3 * math.Sqrt2, 0}, Point{3, 3}.Rotate(-math.Pi/4), 1e-14)
	assert.Equal(t, Point{0.6, 0.8}, Point{3, 4}.Unit())
	assert.Equal(t, Point{}, Point{}.Unit())
}
