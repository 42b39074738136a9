package rout

import (
	"math"
	"slices"
	"sort"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// place is where plated meets bare, nm along a profile's path, and the sharp inside
// corner, or the round narrower than any bit, in which it lies and that a bit leaves
// round, with as much beside it as one pass stays back from there; from and to are the
// place itself where it lies in none.
type place struct {
	at           float64
	platedBefore bool
	from, to     float64
}

// places are a profile's, in order along its path.
type places struct {
	list  []place
	round float64
}

// placesOf are the places of a profile at which two passes meet, for a bit: not at tabs,
// where neither goes on.
func (x *Bits) placesOf(p *board.Profile, bit float64) places {
	key := trialOf{p, bit}
	if list, ok := x.places[key]; ok {
		return list
	}
	round := p.Path.Perimeter()
	all := places{round: round}
	for _, s := range x.Plated(p) {
		if s.Round() {
			continue
		}
		for _, m := range [...]place{{at: s.From}, {at: s.To, platedBefore: true}} {
			if x.stands(p, m.at) {
				continue
			}
			if m.at = math.Mod(m.at, round); m.at < 0 {
				m.at += round
			}
			if m.from, m.to = contourOf(p, bit/2).corner(m.at, x.least); m.from < m.to { // one pass stays back from there
				back := bit * math.Sin(crossing/2)
				m.from, m.to = m.from-back, m.to+back
			}
			all.list = append(all.list, m)
		}
	}
	slices.SortFunc(all.list, func(a, b place) int { return int(math.Copysign(1, a.at-b.at)) })
	x.places[key] = all
	return all
}

// corner is the part of the profile round a place that a bit leaves as no bit cuts it.
func (c *contour) corner(at, finest float64) (from, to float64) {
	round := c.profile.Path.Perimeter()
	for _, m := range c.missed {
		if !m.passable(finest) {
			continue
		}
		for _, shift := range [...]float64{-round, 0, round} {
			if from, to := m.from+shift, m.to+shift; at >= from-touching && at <= to+touching {
				return min(from, at), max(to, at)
			}
		}
	}
	return at, at
}

// apart is how far along the profile a place of it is from the nearest of them, nm, 0
// within the corner in which that lies, and infinite where there is none.
func (l places) apart(at float64) float64 {
	n := len(l.list)
	if n == 0 {
		return math.Inf(1)
	}
	least := math.Inf(1)
	i := sort.Search(n, func(i int) bool { return l.list[i].at >= at })
	for k := i - 2; k <= i+1; k++ {
		m := l.list[(k+2*n)%n]
		least = min(least, geom.Apart(geom.Interval{From: at, To: at}, geom.Interval{From: m.from, To: m.to}, l.round))
	}
	return least
}

// swaps are the places of a profile at which no two passes meet as they should, but for
// those that others of its strays tell of.
func (x *Bits) swaps(p *board.Profile, passes [2][]Pass, others []Stray) (list []Stray) {
	var boxes [2][]geom.Box
	widest := 0.0
	for kind := range passes {
		for _, pass := range passes[kind] {
			box := geom.EmptyBox()
			for _, g := range pass.Path {
				box = box.Union(g.Box())
			}
			boxes[kind] = append(boxes[kind], box)
			widest = max(widest, pass.Bit)
		}
	}
	all := x.placesOf(p, widest)
	for i, m := range all.list {
		if slices.ContainsFunc(others, func(o Stray) bool { return within(m.at, o.From-o.Bit, o.To+o.Bit, all.round) }) {
			continue
		}
		var near [2]cutter
		window := geom.BoxOf(p.Path.At(m.at)).Grow(3 * widest)
		for kind := range passes {
			for k, pass := range passes[kind] {
				if boxes[kind][k].Overlaps(window) {
					near[kind] = append(near[kind], pass)
				}
			}
		}
		if len(near[First]) == 0 || len(near[Final]) == 0 {
			continue // no bit gets there
		}
		before, after := all.room(i, 2*widest)
		if s := x.swap(p, m, before, after, near); s.Off > astray || s.Angle < crossing-slant {
			list = append(list, s)
		}
	}
	return list
}

// room is how far before and after one of the places it is to the middle between it and
// the next, nm, at most so far.
func (l places) room(i int, most float64) (before, after float64) {
	n := len(l.list)
	if n == 1 {
		return min(most, l.round/2), min(most, l.round/2)
	}
	gap := func(a, b place) float64 {
		d := math.Mod(b.at-a.at+l.round, l.round)
		return min(most, d/2)
	}
	return gap(l.list[(i+n-1)%n], l.list[i]), gap(l.list[i], l.list[(i+1)%n])
}

// cutter are the passes of one kind near a place.
type cutter []Pass

// from is how far a point is from what they cut, nm, the nearest place of a bit's middle,
// and that bit.
func (c cutter) from(q geom.Point) (d float64, middle geom.Point, bit float64) {
	d = math.Inf(1)
	for _, pass := range c {
		for _, g := range pass.Path {
			if n, _, to := g.Nearest(q); to-pass.Bit/2 < d {
				d, middle, bit = to-pass.Bit/2, n, pass.Bit
			}
		}
	}
	return d, middle, bit
}

// swap is how two passes meet at a place: how far from there the copper ends, and the
// angle at which the final bit crosses its edge.
func (x *Bits) swap(p *board.Profile, m place, before, after float64, near [2]cutter) Stray {
	const fine = step / 2
	s := Stray{Stretch: board.Stretch{Profile: p, From: m.at, To: m.at}, Kind: Final, Angle: math.Pi}
	nearest := math.Inf(1)
	last := 0.0
	n := int(math.Ceil((before + after) / fine))
	for k := range n {
		at := m.at - before + (float64(k)+0.5)*fine
		q := p.Path.At(math.Mod(at+2*p.Path.Perimeter(), p.Path.Perimeter()))
		first, a, one := near[First].from(q)
		final, b, other := near[Final].from(q)
		plated := (at < m.at) == m.platedBefore
		off := max(m.from-at, at-m.to, 0)
		if wrong := first > final+touching; plated == wrong && math.Abs(first-final) > touching && min(first, final) < 0.05*max(one, other) {
			s.Off = max(s.Off, off)
		}
		if sign := first - final; k > 0 && (sign < 0) != (last < 0) && math.Abs(at-m.at) < nearest {
			nearest = math.Abs(at - m.at)
			s.Bit, s.Angle = other, between(a.Dist(b), one/2, other/2)
		}
		last = first - final
	}
	return s
}

// between is the angle at which two circles cross, by how far their middles are apart.
func between(apart, r, s float64) float64 {
	return math.Acos(max(-1, min(1, (r*r+s*s-apart*apart)/(2*r*s))))
}
