package rout

import (
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Stray is edge that a pass of the other kind cuts as well, or all but: plated edge
// that the final bit mills bare, or bare edge that the first one cuts, so that it is
// plated. Of no length it is a place at which the two passes do not end as they should:
// the copper ends farther from there than Astray, or the final bit crosses its edge at
// less than 30 degrees.
type Stray struct {
	board.Stretch
	Kind Kind    // of the pass
	Bit  float64 // diameter, nm
	Gap  float64 // between the bit and the edge, nm; 0 where it cuts it
	Lead bool    // it is where the bit is let down, or lifted
	// Off is how far from the place the copper would end, nm; Angle the one at which the
	// final bit crosses its edge, radians.
	Off, Angle float64
}

const (
	// Grazing is how near a pass may come to edge across from it that the other one cuts, nm.
	Grazing = grazing
	// Astray is how far from its place the copper may end, nm.
	Astray = astray
	// cutting, nm, is how near a bit comes to edge that it cuts: what is left there is less
	// than a wall's copper.
	cutting = 5e3
	// step, nm, is how far from each other places of the profile are at most that are
	// looked at where a bit is near.
	step = 0.02 * mm
	// slant, radians, is how much less than 30 degrees the bit may cross an edge of copper
	// at: the crest that the two passes leave is not quite on the profile.
	slant = 3 * math.Pi / 180
)

// Strays are a board's, found by running the passes of the profiles that are plated in part.
func (x *Bits) Strays() (list []Stray) {
	for _, p := range x.b.Profiles() {
		if x.parted(p) {
			list = append(list, x.trial(p, x.of[p])...)
		}
	}
	return list
}

// trial is what goes wrong where a profile that is plated in part is cut by a bit of a
// diameter, and by finer ones where it does not reach.
func (x *Bits) trial(p *board.Profile, d float64) []Stray {
	key := trialOf{p, d}
	if list, ok := x.trials[key]; ok {
		return list
	}
	var list []Stray
	var passes [2][]Pass
	for kind, stretches := range [2][]board.Stretch{First: x.Plated(p), Final: x.Bare(p)} {
		for _, s := range stretches {
			passes[kind] = append(passes[kind], x.beside(Kind(kind), s, d)...)
		}
		for _, pass := range passes[kind] {
			list = join(list, x.strays(pass))
		}
	}
	for i := range list {
		list[i].toPlaces(x.placesOf(p, list[i].Bit))
	}
	list = append(list, x.swaps(p, passes, list)...)
	x.trials[key] = list
	return list
}

// toPlaces lets edge that a pass comes too near to begin and end where plated meets bare,
// if it is no farther from there than the round of the bit hides.
func (s *Stray) toPlaces(l places) {
	near := s.Bit + 2*step
	for _, m := range l.list {
		for _, shift := range [...]float64{-l.round, 0, l.round} {
			if by := s.From - m.at - shift; by > 0 && by < near && m.at+shift >= 0 {
				s.From = m.at + shift
			}
			if by := m.at + shift - s.To; by > 0 && by < near {
				s.To = m.at + shift
			}
		}
	}
}

type trialOf struct {
	profile *board.Profile
	bit     float64
}

// keeps tells whether the bit of a part of a stretch keeps off what the other pass cuts.
func (x *Bits) keeps(s board.Stretch, c Cut) bool {
	return !x.parted(s.Profile) || !slices.ContainsFunc(x.cut(x.kindOf(s), s, c), func(pass Pass) bool { return len(x.strays(pass)) > 0 })
}

// kindOf is the pass that cuts a stretch along the profile.
func (x *Bits) kindOf(s board.Stretch) Kind {
	kind, at := Final, (s.From+s.To)/2
	x.b.Wall(s.Profile).PlatedIn(at, at, func(board.Stretch) { kind = First })
	return kind
}

// strays are the parts of its profile that the other pass cuts and that one comes too near
// to: nearer than grazing across from it, and in hollows and beside the place where the
// two meet as near as cuts it.
func (x *Bits) strays(pass Pass) (list []Stray) {
	p, round := pass.Of.Profile, pass.Of.Profile.Path.Perimeter()
	visit := x.b.Wall(p).PlatedIn
	if pass.Kind == First {
		visit = x.b.Wall(p).BareIn
	}
	places, reach := x.placesOf(p, pass.Bit), pass.Bit/2+grazing
	run := func(g geom.Segment, lead bool) {
		p.Near(g.Box(), reach, func(from, to float64) {
			visit(from, to, func(s board.Stretch) {
				parts := geom.Intersect(ring(s.From, s.To, round), geom.Intervals{{From: from, To: to}}, board.Tolerance)
				for _, part := range geom.Subtract(parts, x.roots(p), board.Tolerance) {
					found := pass.near(g, part, places)
					for i := range found {
						found[i].Lead = lead
					}
					list = join(list, found)
				}
			})
		})
	}
	for _, g := range pass.In {
		run(g, true)
	}
	for _, g := range pass.Path {
		run(g, false)
	}
	for _, g := range pass.Out {
		run(g, true)
	}
	return list
}

// near are the parts of a part of the profile that a segment of a pass comes too near to.
func (pass Pass) near(g geom.Segment, part geom.Interval, places places) (list []Stray) {
	p, r := pass.Of.Profile, pass.Bit/2
	segs := p.Path.Segments()
	most := astray
	if pass.Kind == First { // the final one takes off what it leaves there
		most = pass.Bit * math.Sin(crossing/2)
	}
	open := false
	for at := part.From + min(step, part.Length())/2; at < part.To; {
		_, _, d := g.Nearest(p.Path.At(at))
		gap, limit, end := d-r, cutting, places.apart(at)
		if i, _ := p.Path.SegmentAt(at); end > max(2*r, 4*grazing) && !p.Hollow(segs[i]) {
			limit = grazing
		}
		switch {
		case gap >= limit-board.Tolerance || end <= most:
			open = false
		case open:
			last := &list[len(list)-1]
			last.To, last.Gap = at+step/2, min(last.Gap, gap)
		default:
			open = true
			list = append(list, Stray{Stretch: board.Stretch{Profile: p, From: at - step/2, To: at + step/2}, Kind: pass.Kind, Bit: pass.Bit, Gap: gap})
		}
		at += max(step, gap-grazing)
	}
	for i := range list {
		if list[i].Gap <= cutting {
			list[i].Gap = 0
		}
	}
	return list
}

// join adds strays to others, those of one kind that overlap or touch as one.
func join(list, more []Stray) []Stray {
	for _, s := range more {
		known := false
		for i := range list {
			l := &list[i]
			if l.Profile == s.Profile && l.Kind == s.Kind && s.From <= l.To+step && s.To >= l.From-step {
				l.Lead = l.Lead && s.Lead
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
