package rout

import (
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Stray is edge that a pass of the other kind cuts as well, or all but: plated edge
// that the final bit mills bare, or bare edge that the first one cuts, so that it is
// plated. Of no length it is a place in a hollow, which the bit all but fits, at which the
// copper cannot end within Astray.
type Stray struct {
	board.Stretch
	Kind Kind    // of the pass
	Bit  float64 // diameter, nm
	Gap  float64 // between the bit and the edge, nm; 0 where it cuts it
}

const (
	// Grazing is how near a pass may come to edge across from it that the other one cuts, nm.
	Grazing = grazing
	// Astray is how far from its place plated may meet bare edge in a hollow, nm.
	Astray = astray
)

// Strays are a board's, found by running the passes of the profiles that are plated in
// part and where some bit has no room to keep from them.
func (x *Bits) Strays() (list []Stray) {
	for _, p := range x.b.Profiles() {
		if !x.parted(p) {
			continue
		}
		plated, bare := x.Plated(p), x.Bare(p)
		list = append(list, x.strays(First, plated, bare)...)
		list = append(list, x.strays(Final, bare, plated)...)
		list = append(list, x.scraped(p, plated, list)...)
	}
	return list
}

// scraped are the places in a profile's hollows at which no two passes end as they have to,
// but for those that others of it tell of.
func (x *Bits) scraped(p *board.Profile, plated []board.Stretch, others []Stray) (list []Stray) {
	round := p.Path.Perimeter()
	for _, m := range x.rooms[p.Index].met {
		bit := x.at(plated, m.at)
		if bit == 0 || x.stands(p, m.at) || contourOf(p, bit/2).meets(m, x.least) {
			continue
		}
		if !slices.ContainsFunc(others, func(o Stray) bool {
			return o.Profile == p && within(m.at, o.From-bit, o.To+bit, round)
		}) {
			list = append(list, Stray{board.Stretch{Profile: p, From: m.at, To: m.at}, First, bit, 0})
		}
	}
	return list
}

// at is the finest bit that cuts one of some stretches at a place, 0 where none does.
func (x *Bits) at(list []board.Stretch, place float64) (bit float64) {
	for _, s := range list {
		cuts, _ := x.Cuts(s)
		for _, c := range cuts {
			if within(place, c.From-board.Tolerance, c.To+board.Tolerance, s.Profile.Path.Perimeter()) && (bit == 0 || c.Bit < bit) {
				bit = c.Bit
			}
		}
	}
	return bit
}

// strays are what of others the passes of one kind along some stretches come too near to.
func (x *Bits) strays(kind Kind, own, others []board.Stretch) (list []Stray) {
	for _, s := range own {
		for _, pass := range x.run(kind, s) {
			if pass.Frame || !x.grazes(s.Profile, pass.Bit) {
				continue
			}
			box := geom.EmptyBox()
			for _, g := range pass.Path {
				box = box.Union(g.Box())
			}
			for _, other := range others {
				list = join(list, pass.strays(other, box.Grow(pass.Bit/2+grazing)))
			}
		}
	}
	return list
}

// strays are the parts of another stretch that a pass, which keeps within a box, comes
// too near to: nearer than grazing across from it, and in hollows as near as cuts it. At
// its ends, where the two passes cross, nothing is.
func (pass Pass) strays(other board.Stretch, box geom.Box) (list []Stray) {
	path, r := other.Profile.Path, pass.Bit/2
	segs := path.Segments()
	n := math.Ceil(math.Max(other.Length()/(0.02*mm), 2))
	step := other.Length() / n
	within := -1.0
	for k := range int(n) {
		at := other.From + (float64(k)+0.5)*step
		q := path.At(at)
		if !box.Contains(q) {
			within = -1
			continue
		}
		end := other.Length()
		if !other.Round() {
			end = min(at-other.From, other.To-at)
		}
		gap, limit := pass.from(q), cutting
		if i, _ := path.SegmentAt(math.Mod(at+path.Perimeter(), path.Perimeter())); end > 2*r && !other.Profile.Hollow(segs[i]) {
			limit = grazing
		}
		if gap >= limit || end < 2*r*math.Sin(crossing/2) {
			within = -1
			continue
		}
		if gap <= cutting {
			gap = 0
		}
		if within >= 0 {
			last := &list[len(list)-1]
			last.To, last.Gap = at+step/2, min(last.Gap, gap)
			if !other.Round() && other.To-at < 2*r+step {
				last.To = other.To
			}
			continue
		}
		within = at
		if !other.Round() && at-other.From < 2*r+step {
			at = other.From + step/2
		}
		list = append(list, Stray{board.Stretch{Profile: other.Profile, From: at - step/2, To: at + step/2}, pass.Kind, pass.Bit, gap})
	}
	return list
}

// cutting, nm, is how near a bit comes to edge that it cuts: what is left there is less
// than a wall's copper.
const cutting = 5e3

// from is how far a point is from what a pass cuts, nm.
func (pass Pass) from(q geom.Point) float64 {
	d := math.Inf(1)
	for _, g := range pass.Path {
		_, _, to := g.Nearest(q)
		d = min(d, to)
	}
	return d - pass.Bit/2
}

// join adds strays to others, those of one kind that overlap or touch as one.
func join(list, more []Stray) []Stray {
	for _, s := range more {
		known := false
		for i := range list {
			l := &list[i]
			if l.Profile == s.Profile && l.Kind == s.Kind && s.From <= l.To+board.Tolerance && s.To >= l.From-board.Tolerance {
				l.From, l.To, l.Gap, known = min(l.From, s.From), max(l.To, s.To), min(l.Gap, s.Gap), true
				break
			}
		}
		if !known {
			list = append(list, s)
		}
	}
	return list
}
