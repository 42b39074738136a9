package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Centres of what is covered are those that closed forms give: of a loop alone its
// own centre, which is summed another way, and of half a disc 4r/3π off the diameter
// (standard results for composite areas).
func TestCentreCovered(t *testing.T) {
	one := func(cover []int) bool { return cover[0] > 0 }
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		at := Point{r.Float64()*2e8 - 1e8, r.Float64()*2e8 - 1e8}
		l := RectangleAt(at, 1e6+r.Float64()*1e8, 1e6+r.Float64()*1e8, r.Float64()*5e5)
		if r.IntN(3) == 0 {
			l = Circle(at, 1e6+r.Float64()*1e8)
		}
		area, centre := CentreCovered([][]*Loop{{l}}, one)
		assert.InEpsilon(t, math.Abs(l.area), area, 1e-9)
		assert.InDelta(t, 0, centre.Dist(l.centroid), 1)
	}
	disc, left := Circle(Point{3e7, -2e7}, 2e7), RectangleAt(Point{0, -5e7}, 3e7, 9e7, 0)
	area, centre := CentreCovered([][]*Loop{{disc}, {left}}, func(cover []int) bool { return cover[0] > 0 && cover[1] == 0 })
	assert.InEpsilon(t, math.Pi*1e14/2, area, 1e-9)
	assert.InDelta(t, 3e7+4e7/(3*math.Pi), centre.X, 1)
	assert.InDelta(t, -2e7, centre.Y, 1)
	// A plate with a hole: (60·40·30 - 39·30·39.5)/(60·40 - 39·30) = 20.9634.
	plate, hole := RectangleAt(Point{}, 6e7, 4e7, 0), RectangleAt(Point{2e7, 5e6}, 3.9e7, 3e7, 0)
	_, centre = CentreCovered([][]*Loop{{plate}, {hole}}, func(cover []int) bool { return cover[0] > 0 && cover[1] == 0 })
	assert.InDelta(t, 20.9634e6, centre.X, 50)
	assert.InDelta(t, 20e6, centre.Y, 1)
}
