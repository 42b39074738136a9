package figures

import (
	"cmp"
	"math"
	"slices"

	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/quantity"
)

// piece is an opening, or what a row of vias leaves of it.
type piece struct {
	from, to float64 // along the path, nm
	long     float64 // its longest dimension, nm
	least    float64 // what it counts with where any of it does, nm
	of       int     // the opening
}

func (p piece) middle() float64 { return (p.from + p.to) / 2 }

// pieces are openings as drawn or at worst. A row of vias leaks as the widest of what
// it leaves open, wherever a window meets it: its openings are alike and side by side,
// and the closer the vias the less gets through, which a sum of all would not have.
func pieces(list []Opening, worst bool) (out []piece) {
	for i, o := range list {
		if o.Behind != nil {
			way := o.Behind.Widest().of(worst)
			out = append(out, piece{o.Stretch.From, o.Stretch.To, way, way, i})
			continue
		}
		p := piece{o.Stretch.From, o.Stretch.To, o.of(worst), math.Min(o.of(worst), o.height.of(worst)), i}
		if worst {
			p.from, p.to = o.atWorst.From, o.atWorst.To
		}
		out = append(out, p)
	}
	return slices.DeleteFunc(out, func(p piece) bool { return p.long <= 0 })
}

// of is a size as drawn or at worst.
func (s Size) of(worst bool) float64 {
	if worst {
		return s.Worst
	}
	return s.Nominal
}

// leakOf is what leaks most of a ring: the window of half a wavelength in which
// openings are longest together, of all wavelengths in the board's band.
//
// An opening counts whole where its middle lies in the window. One that reaches in
// with less than its half counts with twice what lies in it, and at least with the
// board's height: it may be no less than a smaller opening in its place whose middle
// lies there. So the bound never rises when an opening grows, whichever way.
//
// A lower frequency has a wider window, which may take in one opening more: within a
// band the windows that just reach from one middle to another are tried too.
func leakOf(list []Opening, waves waves, round float64, worst bool) Leak {
	all := pieces(list, worst)
	best, at := Leak{DB: math.Inf(1), Half: waves.shortest / 2}, 0.0
	try := func(start, wide, sum float64) {
		if sum > 0 && sum*best.Half > best.Sum*wide*(1+1e-9) || best.Sum == 0 {
			best.Sum, best.Half, at = sum, wide, start
		}
	}
	start, sum := worstWindow(all, waves.shortest/2, round)
	try(start, waves.shortest/2, sum)
	if waves.longest > waves.shortest {
		start, sum = worstWindow(all, waves.longest/2, round)
		try(start, waves.longest/2, sum)
		stretchesOf(all, waves, round, try)
	}
	if best.Sum > 0 {
		best.DB, _ = physics.SlotShielding(quantity.InMetres(best.Sum), 2*quantity.InMetres(best.Half))
	}
	for _, p := range all {
		if p.in(at, best.Half, round) > 0 && !slices.Contains(best.Of, p.of) {
			best.Of = append(best.Of, p.of)
		}
	}
	after := func(i int) float64 {
		d := math.Mod(list[i].Stretch.To-at, round)
		if d < 0 {
			d += round
		}
		return d
	}
	slices.SortStableFunc(best.Of, func(a, b int) int { return cmp.Compare(after(a), after(b)) })
	return best
}

// stretchesOf tries the windows that reach from the middle of one piece to that of another,
// where they are half a wavelength of the band.
func stretchesOf(all []piece, waves waves, round float64, try func(start, wide, sum float64)) {
	list := slices.Clone(all)
	slices.SortStableFunc(list, func(a, b piece) int { return cmp.Compare(a.middle(), b.middle()) })
	n := len(list)
	for i := range list {
		sum := list[i].long
		for k := 1; k < n; k++ {
			next := list[(i+k)%n]
			wide := next.middle() - list[i].middle()
			if i+k >= n {
				wide += round
			}
			if wide > waves.longest/2 {
				break
			}
			if sum += next.long; wide > waves.shortest/2 {
				try(list[i].middle(), wide, sum)
			}
		}
	}
}

// in is how much of a piece counts in a window from `at`, so wide, on a ring; see leakOf.
func (p piece) in(at, wide, round float64) float64 {
	if wide >= round {
		return p.long
	}
	most := 0.0
	for k := -2.0; k <= 2; k++ {
		from, to := p.from+k*round, p.to+k*round
		lies := math.Min(to, at+wide) - math.Max(from, at)
		if lies < -board.Tolerance {
			continue
		}
		part := 2 * lies
		if middle := (from + to) / 2; middle >= at-board.Tolerance && middle <= at+wide+board.Tolerance {
			part = p.long
		}
		most = math.Max(most, math.Min(p.long, math.Max(part, p.least)))
	}
	return most
}

// turn is where, as a window moves along the ring, the sum of what counts in it
// jumps or begins to rise or fall.
type turn struct{ at, jump, slope float64 }

// worstWindow is where the window, so wide, starts in which most of the pieces of a
// ring counts together, and how much that is.
func worstWindow(all []piece, wide, round float64) (at, sum float64) {
	total := func(at float64) (sum float64) {
		for _, p := range all {
			sum += p.in(at, wide, round)
		}
		return sum
	}
	longest := 0.0
	for _, p := range all {
		if p.long > longest {
			longest, at = p.long, p.middle()-wide/2
		}
	}
	if longest >= wide || wide >= round {
		return at, total(at) // all is open, or all counts together
	}
	best := math.Inf(-1)
	value, slope, drop, last := 0.0, 0.0, 0.0, math.Inf(-1)
	turns := turnsOf(all, wide, round)
	for i, t := range turns {
		if t.at > last {
			value += drop // what ends at a place still counts there
			if drop = 0; slope != 0 {
				value += slope * (t.at - last)
			}
		}
		value, drop = value+math.Max(t.jump, 0), drop+math.Min(t.jump, 0)
		slope, last = slope+t.slope, t.at
		if (i+1 == len(turns) || turns[i+1].at > t.at) && t.at >= -wide && t.at <= round && value > best+board.Tolerance {
			best, at = value, t.at
		}
	}
	return at, total(at)
}

// turnsOf are a ring's turns in order.
func turnsOf(all []piece, wide, round float64) (list []turn) {
	for k := -2.0; k <= 2; k++ {
		for _, p := range all {
			from, to, middle := p.from+k*round, p.to+k*round, p.middle()+k*round
			list = append(list, turn{from - wide, p.least, 0}, turn{to, -p.least, 0})
			if half := p.least / 2; p.least < p.long && half < (to-from)/2 {
				list = append(list, turn{from - wide + half, 0, 2}, turn{middle - wide, 0, -2}, turn{middle, 0, -2}, turn{to - half, 0, 2})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b turn) int { return cmp.Compare(a.at, b.at) })
	return list
}
