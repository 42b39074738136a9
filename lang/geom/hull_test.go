package geom

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestHull(t *testing.T) {
	a, b, c, d := Point{0, 0}, Point{10, 0}, Point{10, 10}, Point{0, 10}
	assert.Equal(t, []Point{a, b, c, d}, Hull([]Point{c, {5, 5}, a, {5, 0}, d, b, a, {10, 5}}))
	assert.Equal(t, []Point{a, c}, Hull([]Point{{5, 5}, a, c, {2, 2}}), "a line")
	assert.Equal(t, []Point{b}, Hull([]Point{b, b, b}), "a point")
	assert.Empty(t, Hull(nil))
	assert.Equal(t, []Point{b}, Hull([]Point{{math.NaN(), 0}, b, {0, math.Inf(1)}}))
}

func TestStrictlyInside(t *testing.T) {
	hull := Hull([]Point{{0, 0}, {30, 0}, {0, 40}})
	assert.True(t, StrictlyInside(hull, Point{10, 10}, tol))
	assert.False(t, StrictlyInside(hull, Point{10, 0}, tol), "on a side")
	assert.False(t, StrictlyInside(hull, Point{0, 0}, tol), "on a corner")
	assert.False(t, StrictlyInside(hull, Point{10, -1}, tol))
	assert.False(t, StrictlyInside(hull, Point{20, 20}, tol))
	// The incircle of a 3-4-5 triangle of this size has the radius 10.
	assert.True(t, StrictlyInside(hull, Point{10, 10}, 9.999))
	assert.False(t, StrictlyInside(hull, Point{10, 10}, 10.001))
	assert.False(t, StrictlyInside(Hull([]Point{{0, 0}, {10, 0}}), Point{5, 0}, tol), "a line has no inside")
	assert.False(t, StrictlyInside(Hull([]Point{{5, 0}}), Point{5, 0}, tol), "nor has a point")
	assert.False(t, StrictlyInside(nil, Point{}, tol))
}
