package rout

import (
	"math"
	"slices"
	"sort"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// ends are by how much a stretch's passes stay short of it at either end, nm, so that
// no edge of copper is crossed along its length.
type ends struct{ from, to float64 }

// ends works them out for one of its bits: none at a tab's side, where nothing is
// plated beyond.
func (x *Bits) ends(kind Kind, s board.Stretch, bit float64) (e ends) {
	if s.Round() {
		return e
	}
	c, plated := contourOf(s.Profile, bit/2), kind == First
	if !x.stands(s.Profile, s.From) {
		if from, _, in := c.left(s.From, x.least); in {
			e.from = from
		} else {
			_, e.from, _ = c.meeting(s.From, !plated)
		}
	}
	if !x.stands(s.Profile, s.To) {
		if _, to, in := c.left(s.To, x.least); in {
			e.to = to
		} else {
			e.to, _, _ = c.meeting(s.To, plated)
		}
	}
	most := s.Length()
	if e.from > 0 && e.to > 0 {
		most /= 2
	}
	return ends{min(e.from, most), min(e.to, most)}
}

// StaysShort tells whether passes end before the place anywhere that a plated stretch
// meets a bare one: all do but at sharp outside corners.
func (x *Bits) StaysShort() bool {
	for _, p := range x.b.Profiles() {
		for _, s := range x.Plated(p) {
			if x.ends(First, s, x.Bit(p)) != (ends{}) {
				return true
			}
		}
	}
	return false
}

// meeting is how far from a place where plated meets bare the pass that comes before it
// along the profile ends, and the one after it starts, nm. The first bit leaves a round
// flank with copper on it, from the profile outward. A final bit that began at the same
// place would run into that copper all along its length. So they stay apart by as much as
// makes the final bit cross it at 30 degrees, which leaves between them a crest of 1.7 %
// of the bit's diameter on a straight edge, and up to 4 % in a hollow. Each stays half of
// it back; but where one of them cannot, as it lies in an inside corner or in a hollow
// that the bit fits, the other stays back by all of it, and where either may the final one.
// At a sharp outside corner they cross as it is. Not ok where nothing helps: they both
// go to the place.
func (c *contour) meeting(at float64, platedBefore bool) (before, after float64, ok bool) {
	need := 2 * c.off * math.Sin(crossing/2)
	apart := func(before, after float64) float64 {
		a, _ := c.beside(at-before, false)
		b, _ := c.beside(at+after, true)
		return a.Dist(b)
	}
	if apart(0, 0) >= need {
		return 0, 0, true
	}
	const most = 0.55 // of the radius; on a straight edge it is 0.26
	if h, ok := least(most*c.off, need, func(h float64) float64 { return apart(h, h) }); ok {
		return h, h, true
	}
	_, gapBefore := c.beside(at, false)
	_, gapAfter := c.beside(at, true)
	before, okBefore := least(gapBefore+2*most*c.off, need, func(h float64) float64 { return apart(h, 0) })
	after, okAfter := least(gapAfter+2*most*c.off, need, func(h float64) float64 { return apart(0, h) })
	switch even := math.Abs(before-after) <= touching; {
	case okBefore && (!okAfter || before < after && !even || even && !platedBefore):
		return before, 0, true
	case okAfter:
		return 0, after, true
	}
	return 0, 0, false
}

// least is the least distance up to the most at which a measure that grows with it is
// as much as needed.
func least(most, need float64, measure func(float64) float64) (h float64, ok bool) {
	if measure(most) < need {
		return most, false
	}
	low := 0.0
	for range 40 {
		if h := (low + most) / 2; measure(h) < need {
			low = h
		} else {
			most = h
		}
	}
	return most, true
}

// left is how far from a place, along the profile onward and back, a bit stays that leaves
// to a finer one the part in which the place lies, so that it does not touch what lies
// beyond that; not, where it lies in none.
func (c *contour) left(at, finest float64) (onward, back float64, in bool) {
	round := c.profile.Path.Perimeter()
	for _, m := range c.missed {
		if m.passable(finest) {
			continue
		}
		for _, shift := range [...]float64{-round, 0, round} {
			if from, to := m.from+shift, m.to+shift; at >= from && at <= to {
				return to - at + grazing, at - from + grazing, true
			}
		}
	}
	return 0, 0, false
}

// beside is where the middle of the bit is when it has come along the profile to a place,
// or when it leaves from there, and how much short of it it stands where it cannot come
// there.
func (c *contour) beside(s float64, leaving bool) (at geom.Point, short float64) {
	n, round := len(c.pieces), c.profile.Path.Perimeter()
	if n == 0 {
		return c.at(s, leaving), 0
	}
	if s = math.Mod(s, round); s < 0 {
		s += round
	}
	if leaving {
		if s > round-1 {
			s -= round
		}
		i := sort.Search(n, func(i int) bool { return c.pieces[i].to > s+1 })
		g := c.pieces[i%n]
		if i == n {
			s -= round
		}
		if g.from >= s {
			return g.A, g.from - s
		}
		return g.beside(s), 0
	}
	if s < 1 {
		s += round
	}
	i := sort.Search(n, func(i int) bool { return c.pieces[i].from >= s-1 }) - 1
	g := c.pieces[(i+n)%n]
	if i < 0 {
		s += round
	}
	if g.to <= s {
		return g.B, s - g.to
	}
	return g.beside(s), 0
}

// beside is where on a piece the bit's middle is beside a place of the profile.
func (g piece) beside(s float64) geom.Point {
	return g.At(g.Length() * (s - g.from) / (g.to - g.from))
}

// stands tells whether a tab stands at a place of a profile, or begins there.
func (x *Bits) stands(p *board.Profile, at float64) bool {
	round := p.Path.Perimeter()
	return slices.ContainsFunc(x.tabs[p], func(t *board.Tab) bool {
		from, to := t.Range()
		return geom.Apart(geom.Interval{From: at, To: at}, geom.Interval{From: from, To: to}, round) <= board.Tolerance
	})
}
