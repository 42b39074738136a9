package geom

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func boxGen() *rapid.Generator[Box] {
	at := rapid.Float64Range(-100, 100)
	size := rapid.Float64Range(0, 20)
	return rapid.Custom(func(t *rapid.T) Box {
		if rapid.IntRange(0, 9).Draw(t, "kind") == 0 {
			return EmptyBox()
		}
		p := Point{at.Draw(t, "x"), at.Draw(t, "y")}
		return Box{p, p.Add(Point{size.Draw(t, "w"), size.Draw(t, "h")})}
	})
}

func TestIndexAgainstAllBoxes(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		boxes := rapid.SliceOfN(boxGen(), 0, 400).Draw(t, "boxes")
		b := boxGen().Draw(t, "sought")
		var want, got []int
		nearest := math.Inf(1)
		for i, c := range boxes {
			if c.Overlaps(b) {
				want = append(want, i)
			}
			nearest = min(nearest, c.DistanceTo(b))
		}
		x := NewIndex(boxes)
		x.Search(b, func(i int) bool { got = append(got, i); return true })
		slices.Sort(got)
		require.Equal(t, want, got)

		visits := 0
		x.Search(b, func(int) bool { visits++; return false })
		require.Equal(t, min(len(want), 1), visits, "stops when told to")

		found := math.Inf(1)
		x.near(b, found, func(i int) float64 { found = min(found, boxes[i].DistanceTo(b)); return found })
		require.Equal(t, nearest, found)
	})
}

func TestBox(t *testing.T) {
	a := Box{Point{0, 0}, Point{10, 5}}
	assert.True(t, a.Contains(Point{10, 5}))
	assert.False(t, a.Contains(Point{10.1, 5}))
	assert.True(t, a.Overlaps(Box{Point{10, 5}, Point{11, 6}}), "touching")
	assert.False(t, a.Overlaps(Box{Point{10.1, 5}, Point{11, 6}}))
	assert.Equal(t, 5.0, a.DistanceTo(Box{Point{13, 9}, Point{20, 20}}))
	assert.Equal(t, 3.0, a.DistanceTo(Box{Point{-5, -9}, Point{20, -3}}))
	assert.Zero(t, a.DistanceTo(a))
	assert.Equal(t, Box{Point{-1, -1}, Point{11, 6}}, a.Grow(1))
	assert.True(t, a.Grow(-3).Empty())
	assert.Equal(t, Point{5, 2.5}, a.Center())

	e := EmptyBox()
	assert.True(t, e.Empty())
	assert.True(t, e.Grow(100).Empty())
	assert.Equal(t, a, e.Union(a))
	assert.Equal(t, a, a.Union(e))
	assert.False(t, e.Overlaps(a))
	assert.True(t, math.IsInf(e.DistanceTo(a), 1))
	assert.Equal(t, Box{Point{1, 2}, Point{3, 4}}, BoxOf(Point{1, 4}, Point{3, 2}, Point{math.NaN(), 3}))
}
