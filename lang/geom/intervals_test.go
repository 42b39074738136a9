package geom

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestOnRing(t *testing.T) {
	assert.Equal(t, Intervals{{10, 30}}, OnRing(10, 30, 100))
	assert.Equal(t, Intervals{{0, 10}, {90, 100}}, OnRing(90, 10, 100))
	assert.Equal(t, Intervals{{0, 10}, {90, 100}}, OnRing(-10, 110, 100))
	assert.Equal(t, Intervals{{90, 100}}, OnRing(90, 100, 100))
	assert.Equal(t, Intervals{{0, 10}}, OnRing(100, 10, 100))
	assert.Equal(t, Intervals{{0, 100}}, OnRing(0, 100, 100))
	assert.Equal(t, Intervals{{0, 100}}, OnRing(40, 40, 100))
	assert.Empty(t, OnRing(1, 2, 0))
	assert.Empty(t, OnRing(1, 2, math.NaN()))
	assert.Empty(t, OnRing(math.Inf(1), 2, 10))
}

func TestUnion(t *testing.T) {
	assert.Equal(t, Intervals{{0, 30}, {40, 50}}, Union(Intervals{{40, 50}, {0, 20}, {10, 30}}, tol))
	assert.Equal(t, Intervals{{0, 50}}, Union(Intervals{{0, 20}, {20.01, 50}}, 0.02), "within tol")
	assert.Len(t, Union(Intervals{{0, 20}, {20.03, 50}}, 0.02), 2)
	assert.Equal(t, Intervals{{0, 50}}, Union(Intervals{{0, 50}, {10, 20}}, tol), "one in the other")
	assert.Empty(t, Union(Intervals{{5, 5}, {9, 7}, {math.NaN(), 3}}, tol))
}

func TestSubtractIntersectComplement(t *testing.T) {
	a := Intervals{{0, 30}, {40, 80}}
	assert.Equal(t, Intervals{{0, 10}, {20, 30}, {60, 80}}, Subtract(a, Intervals{{35, 60}, {10, 20}}, tol))
	assert.Equal(t, a, Subtract(a, nil, tol))
	assert.Empty(t, Subtract(a, Intervals{{0, 100}}, tol))
	assert.Equal(t, Intervals{{40, 80}}, Subtract(a, Intervals{{0.005, 29.995}}, tol), "splinters are left out")
	assert.Equal(t, Intervals{{10, 30}, {40, 50}}, Intersect(a, Intervals{{10, 50}}, tol))
	assert.Equal(t, Intervals{{30, 40}, {80, 100}}, Complement(a, 100))
	assert.Equal(t, Intervals{{0, 100}}, Complement(nil, 100))
	assert.Empty(t, Complement(Intervals{{0, 100}}, 100))
}

func TestRuns(t *testing.T) {
	assert.Equal(t, []Interval{{10, 30}, {90, 110}}, Intervals{{0, 10}, {10, 30}, {90, 110}}[1:].Runs(120, tol))
	assert.Equal(t, []Interval{{20, 30}, {90, 110}}, Intervals{{0, 10}, {20, 30}, {90, 100}}.Runs(100, tol), "over the seam once")
	assert.Equal(t, []Interval{{90, 110}}, OnRing(90, 10, 100).Runs(100, tol))
	assert.Equal(t, []Interval{{90, 110}}, Intervals{{0.005, 10}, {90, 99.995}}.Runs(100, tol))
	assert.Equal(t, []Interval{{1, 10}, {90, 100}}, Intervals{{1, 10}, {90, 100}}.Runs(100, tol), "not up to the seam")
	assert.Equal(t, []Interval{{0, 100}}, Intervals{{0, 40}, {40, 100}}.Runs(100, tol), "all round")
	assert.Empty(t, Intervals(nil).Runs(100, tol))
}

func TestIntervalProperties(t *testing.T) {
	t.Parallel()
	const length = 100
	// Whole numbers, so that sums are exact and touching happens.
	set := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Interval {
		from := rapid.IntRange(0, length-1).Draw(t, "from")
		return Interval{float64(from), float64(rapid.IntRange(from+1, length).Draw(t, "to"))}
	}), 0, 8)
	rapid.Check(t, func(t *rapid.T) {
		a, b := Intervals(set.Draw(t, "a")), Intervals(set.Draw(t, "b"))
		union, common, rest := Union(append(append(Intervals{}, a...), b...), 0), Intersect(a, b, 0), Subtract(a, b, 0)
		ua, ub := Union(a, 0), Union(b, 0)
		require.Equal(t, ua.Total()+ub.Total()-common.Total(), union.Total())
		require.Equal(t, ua.Total()-common.Total(), rest.Total())
		require.Equal(t, ua, Union(append(append(Intervals{}, rest...), common...), 0), "the two parts make up the whole")
		require.Equal(t, ua, Union(ua, 0))
		require.Equal(t, ua, Complement(Complement(a, length), length))
		require.Equal(t, length-ua.Total(), Complement(a, length).Total())
		for s := 0.5; s < length; s++ {
			require.Equal(t, contains(a, s), ua.Contains(s))
			require.Equal(t, contains(a, s) && !contains(b, s), rest.Contains(s))
			require.Equal(t, contains(a, s) && contains(b, s), common.Contains(s))
		}
		var round float64
		for _, run := range ua.Runs(length, 0) {
			require.Less(t, run.From, run.To)
			round += run.Length()
		}
		require.Equal(t, ua.Total(), round)
	})
}

func contains(a Intervals, s float64) bool {
	for _, v := range a {
		if v.From <= s && s <= v.To {
			return true
		}
	}
	return false
}
