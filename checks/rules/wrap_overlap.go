package rules

import (
	"fmt"
	"math"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

var wrapOverlap = &checks.Rule{
	Name: "wrap_overlap", Group: checks.GroupPlating, Category: finding.Risky,
	Finds:  "Between two plated stretches of one net that face each other the board is narrower than their two wraps on a face.",
	Why:    "The wraps run into each other: neither is as wide as it says, and the strip between is all copper on that face. Stretches face each other where the way from one to the other leaves both within 45° of straight inward, so that wraps that meet in a corner are none. Wraps of two nets are other rules'.",
	Source: "common practice, no source",
	Bad:    platedWith(tongue("1.5 mm")),
	Good:   platedWith(tongue("1.6 mm")),
	Run: func(p *checks.Pass) {
		w := wrapPairs{p: p, least: map[wrapPair]strait{}}
		for _, pl := range p.Board.Platings() {
			for f := range w.widest {
				w.widest[f] = math.Max(w.widest[f], pl.Wrap[f].Value)
			}
		}
		reach := 2 * math.Max(w.widest[board.Top], w.widest[board.Bottom])
		for _, profile := range p.Board.Profiles() {
			if wall := p.Board.Wall(profile); len(wall.Plated) > 0 && reach > 0 {
				w.on(profile, wall, reach)
			}
		}
		for _, k := range w.order {
			w.report(k)
		}
	},
}

// wrapPair is two platings, perhaps one with itself, on a face.
type wrapPair struct {
	a, b *board.Plating
	face board.Face
}

// strait is the narrowest place between two platings' stretches.
type strait struct {
	d    float64
	a, b board.Stretch
	from geom.Point
	to   geom.Point
}

type wrapPairs struct {
	p      *checks.Pass
	widest [2]float64
	least  map[wrapPair]strait
	order  []wrapPair
}

// on looks for what faces the stretches of a profile within reach of the wraps,
// where anything lies so near: on most boards nothing does.
func (w *wrapPairs) on(profile *board.Profile, wall *board.Wall, reach float64) {
	for i, g := range profile.Path.Segments() {
		if !w.p.Board.Crowded(profile, i, reach) {
			continue
		}
		start := profile.Path.Start(i)
		wall.PlatedIn(start, start+g.Length(), func(s board.Stretch) {
			clip(s, start, start+g.Length(), func(part board.Stretch) { w.from(s, part, reach) })
		})
	}
}

// from looks for what faces a part of a stretch.
func (w *wrapPairs) from(s, part board.Stretch, reach float64) {
	for _, piece := range part.Segments() {
		box := piece.Box()
		w.p.Board.ProfilesNear(box, reach, func(o *board.Profile) {
			wall := w.p.Board.Wall(o)
			o.Near(box, reach, func(from, to float64) {
				wall.PlatedIn(from, to, func(x board.Stretch) {
					if x.Plating.Net.Text == s.Plating.Net.Text {
						clip(x, from, to, func(near board.Stretch) { w.between(s, piece, x, near) })
					}
				})
			})
		})
	}
}

// between measures from a piece of a stretch to a part of another.
func (w *wrapPairs) between(s board.Stretch, piece geom.Segment, x, part board.Stretch) {
	for _, other := range part.Segments() {
		d, a, b := geom.Distance(piece, other)
		if d <= board.Tolerance || !inward(s.Profile, piece, a, b) || !inward(x.Profile, other, b, a) {
			continue
		}
		for _, f := range board.Faces {
			if !below(d, s.Plating.Wrap[f].Value+x.Plating.Wrap[f].Value) {
				continue
			}
			k := wrapPair{s.Plating, x.Plating, f}
			mirrored := wrapPair{x.Plating, s.Plating, f}
			if _, ok := w.least[mirrored]; ok && k != mirrored {
				continue // it is measured from the other side
			}
			old, known := w.least[k]
			if !known {
				w.order = append(w.order, k)
			}
			if !known || d < old.d {
				w.least[k] = strait{d, s, x, a, b}
			}
		}
	}
}

// inward tells whether the way from a point of a profile's piece to another
// point is within 45° of straight into the board.
func inward(p *board.Profile, piece geom.Segment, from, to geom.Point) bool {
	_, at, _ := piece.Nearest(from)
	in := piece.Tangent(at).Left()
	if p.Cutout {
		in = in.Scale(-1)
	}
	way := to.Sub(from)
	return way.Dot(in) > math.Sqrt2/2*way.Norm()
}

func (w *wrapPairs) report(k wrapPair) {
	n := w.least[k]
	along := func(s board.Stretch, at geom.Point) board.Along {
		_, d, _ := s.Profile.Path.Nearest(at)
		return alongAt(s.Plating, s.Profile, d)
	}
	at, other := later(along(n.a, n.from).At, along(n.b, n.to).At)
	on, whose := []string{k.a.Name.Text}, "the wraps of plating "+k.a.Name.Text
	if k.a != k.b {
		on, whose = append(on, k.b.Name.Text), fmt.Sprintf("the wraps of platings %s and %s", k.a.Name.Text, k.b.Name.Text)
	}
	d, both := quantity.Pair(length(n.d), length(k.a.Wrap[k.face].Value+k.b.Wrap[k.face].Value))
	r := w.p.Report(at, on, "between %s and %s the board is %s wide; %s take %s of it on %s",
		board.Coordinates(n.from), board.Coordinates(n.to), d, whose, both, k.face)
	if at != other {
		related(r, other, "the other side")
	}
}
