package rules

import (
	"math"
	"slices"
	"sort"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/source"
)

// later is whichever of two places of one text stands further down.
func later(a, b source.Place) (last, first source.Place) {
	if a.Anchor != nil && b.Anchor != nil && (a.Anchor.Order > b.Anchor.Order || a.Anchor == b.Anchor && a.Start > b.Start) {
		return a, b
	}
	return b, a
}

// otherNet tells whether copper of a net may not touch a wall: of another net, or of none.
func otherNet(net board.Name, p *board.Plating) bool {
	return !net.Given() || net.Text != p.Net.Text
}

// clip cuts a stretch down to what lies between two points along the path, so
// that a wall of metres is not measured for a part near one end of it. It
// calls visit once for each side of the path's start on which they overlap.
func clip(s board.Stretch, from, to float64, visit func(board.Stretch)) {
	for c := range s.Parts(from, to) {
		if c.Length() > board.Tolerance {
			visit(c)
			if c.Round() {
				return
			}
		}
	}
}

// nearest is the least distance from a shape to the stretches of a wall that
// measure measures, within reach; ok is false where there is none within it.
type nearest struct {
	d       float64
	stretch board.Stretch
	ok      bool
}

// nearWall looks for the plated (or bare) stretch nearest to a shape, among
// those for which want holds. measure gives a stretch's distance; pad is how
// far beyond what is near along the path a stretch still matters for it.
func nearWall(p *checks.Pass, shape *geom.Loop, reach, pad float64, bare bool, want func(board.Stretch) bool, measure func(board.Stretch) float64) nearest {
	best := nearest{d: math.Inf(1)}
	box := shape.Box()
	p.Board.ProfilesNear(box, reach, func(profile *board.Profile) {
		wall := p.Board.Wall(profile)
		profile.Near(box, reach, func(from, to float64) {
			look := func(s board.Stretch) {
				if !want(s) {
					return
				}
				clip(s, from-pad, to+pad, func(c board.Stretch) {
					if d := measure(c); d < best.d {
						best = nearest{d, s, true}
					}
				})
			}
			if bare {
				wall.BareIn(from, to, look)
			} else {
				wall.PlatedIn(from, to, look)
			}
		})
	})
	best.ok = best.ok && best.d <= reach
	return best
}

// stripDistance is the least distance between a shape and the strip of a width
// along a stretch, on the board's side.
func stripDistance(shape *geom.Loop, s board.Stretch, width float64) float64 {
	least := math.Inf(1)
	for _, piece := range s.Inward(width) {
		if d, _, _ := geom.ShapeDistance(shape, piece); d < least {
			least = d
		}
	}
	return least
}

// platedOn lists the platings that have copper on any profile.
func platedOn(p *checks.Pass) []*board.Plating {
	var list []*board.Plating
	for _, profile := range p.Board.Profiles() {
		for _, s := range p.Board.Wall(profile).Plated {
			if !slices.Contains(list, s.Plating) {
				list = append(list, s.Plating)
			}
		}
	}
	return list
}

// gapRanges is the key under which a pass keeps where the gaps lie.
type gapRanges struct{}

// gapAt finds a gap that makes a bare stretch: one that starts or ends where
// the stretch does.
func gapAt(p *checks.Pass, s board.Stretch) *board.Gap {
	list := checks.Once(p, gapRanges{}, func() map[*board.Profile][]figures.GapRange { return figures.GapRanges(p.Board) })[s.Profile]
	l := s.Profile.Path.Perimeter()
	for _, shift := range [...]float64{0, -l, l} {
		i := sort.Search(len(list), func(i int) bool { return list[i].From >= s.From+shift-board.Tolerance })
		for ; i < len(list) && list[i].From <= s.To+shift; i++ {
			if list[i].To > list[i].From {
				return list[i].Gap
			}
		}
	}
	return nil
}

// alongAt is the part of a plating's statement that brings a point of the profile in.
func alongAt(pl *board.Plating, profile *board.Profile, along float64) board.Along {
	l := profile.Path.Perimeter()
	for _, a := range pl.Along {
		if a.Edge.Profile != profile {
			continue
		}
		from, to := a.Edge.Range(a.From, a.To)
		for _, shift := range [...]float64{-l, 0, l} {
			if from-board.Tolerance <= along+shift && along+shift <= to+board.Tolerance {
				return a
			}
		}
	}
	if len(pl.Along) > 0 {
		return pl.Along[0]
	}
	return board.Along{At: pl.Name.At}
}
