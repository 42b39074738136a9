package geom

import (
	"cmp"
	"math"
	"slices"
	"sort"
)

// Interval is a stretch of a path between two distances along it, From < To.
type Interval struct{ From, To float64 }

// Length returns To - From.
func (v Interval) Length() float64 { return v.To - v.From }

// Intervals is a set of stretches of one path, sorted, none touching the next.
// On a ring the seam cuts a stretch that runs over it in two.
type Intervals []Interval

// OnRing returns the stretch of a ring of the given length forward from from
// to to. Both are taken modulo the length; when to does not exceed from, the
// stretch runs over the seam, and all round when they fall on the same place.
// It is empty when the length is not positive or a number is not finite.
func OnRing(from, to, length float64) Intervals {
	if !(length > 0) || !(Point{from, to}).finite() || math.IsInf(length, 1) {
		return nil
	}
	from, to = onRing(from, length), onRing(to, length)
	switch {
	case from < to:
		return Intervals{{from, to}}
	case from == to:
		return Intervals{{0, length}}
	case to == 0:
		return Intervals{{from, length}}
	}
	return Intervals{{0, to}, {from, length}}
}

// onRing brings s into [0, length).
func onRing(s, length float64) float64 {
	s = math.Mod(s, length)
	if s < 0 {
		s += length
	}
	if s >= length {
		return 0
	}
	return s
}

// Apart is the distance along a ring of a length between two stretches of it, 0
// where they meet.
func Apart(a, b Interval, length float64) float64 {
	least := math.Inf(1)
	for _, shift := range [...]float64{-length, 0, length} {
		least = math.Min(least, math.Max(0, math.Max(b.From+shift-a.To, a.From-b.To-shift)))
	}
	return least
}

// Union returns the set covered by any of the stretches of a, which may come
// in any order and overlap. Those with no more than tol between them become
// one, and those no longer than tol are left out, as are NaN.
func Union(a Intervals, tol float64) Intervals {
	if a.apart(tol) {
		return slices.Clone(a)
	}
	return union(a, tol)
}

// apart tells whether a is its own union.
func (a Intervals) apart(tol float64) bool {
	tol = max(tol, 0)
	for i, v := range a {
		if !(v.To-v.From > tol) || i > 0 && !(v.From-a[i-1].To > tol) {
			return false
		}
	}
	return len(a) > 0
}

// read is the union of a, to be read only: a itself where it is that.
func (a Intervals) read(tol float64) Intervals {
	if a.apart(tol) {
		return a
	}
	return union(a, tol)
}

func union(a Intervals, tol float64) Intervals {
	sorted := slices.Clone(a)
	slices.SortFunc(sorted, func(v, w Interval) int { return cmp.Compare(v.From, w.From) })
	merged := sorted[:0] // never ahead of what is read
	for _, v := range sorted {
		if !(v.From <= v.To) {
			continue
		}
		if n := len(merged); n > 0 && v.From-merged[n-1].To <= max(tol, 0) {
			merged[n-1].To = max(merged[n-1].To, v.To)
		} else {
			merged = append(merged, v)
		}
	}
	return longer(merged, tol)
}

// longer keeps in a what is longer than tol; nil when that is nothing.
func longer(a Intervals, tol float64) Intervals {
	kept := slices.DeleteFunc(a, func(v Interval) bool { return !(v.Length() > max(tol, 0)) })
	if len(kept) == 0 {
		return nil
	}
	return kept
}

// Subtract returns what of a is not covered by b, each in any order. Remains
// no longer than tol are left out.
func Subtract(a, b Intervals, tol float64) Intervals {
	cuts, whole := b.read(0), a.read(tol)
	rest := make(Intervals, 0, len(whole)+len(cuts))
	for _, v := range whole {
		from := v.From
		first := sort.Search(len(cuts), func(i int) bool { return cuts[i].To > v.From })
		for _, cut := range cuts[first:] {
			if cut.From >= v.To {
				break
			}
			rest = append(rest, Interval{from, cut.From})
			from = cut.To
		}
		rest = append(rest, Interval{from, v.To})
	}
	return longer(rest, tol)
}

// Intersect returns what both a and b cover, each in any order. Stretches no
// longer than tol are left out.
func Intersect(a, b Intervals, tol float64) Intervals {
	a, b = a.read(0), b.read(0)
	var both Intervals
	for i, j := 0, 0; i < len(a) && j < len(b); {
		both = append(both, Interval{max(a[i].From, b[j].From), min(a[i].To, b[j].To)})
		if a[i].To < b[j].To {
			i++
		} else {
			j++
		}
	}
	return longer(both, tol)
}

// Complement returns what of a path of the given length a does not cover.
func Complement(a Intervals, length float64) Intervals {
	return Subtract(Intervals{{0, length}}, a, 0)
}

// Total returns the length covered.
func (a Intervals) Total() float64 {
	var sum float64
	for _, v := range a {
		sum += v.Length()
	}
	return sum
}

// Contains says whether s lies in a stretch or at its end.
func (a Intervals) Contains(s float64) bool {
	i, found := slices.BinarySearchFunc(a, s, func(v Interval, s float64) int { return cmp.Compare(v.From, s) })
	return found || i > 0 && s <= a[i-1].To
}

// Runs returns the stretches of a ring of the given length as they are met
// going round: one that runs over the seam comes once, last, with To beyond
// the length. Ends within tol of the seam count as being on it. A set that
// covers the whole ring is the one run from 0 to length. The result may be a itself: it
// must not be changed.
func (a Intervals) Runs(length, tol float64) []Interval {
	runs := []Interval(a.read(tol))
	if len(runs) < 2 {
		return runs
	}
	first, last := runs[0], runs[len(runs)-1]
	if first.From > tol || last.To < length-tol {
		return runs
	}
	runs = slices.Clone(runs[1:])
	runs[len(runs)-1].To = length + first.To
	return runs
}
