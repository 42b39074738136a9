package checks

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"

	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// spot names a point of a profile in the author's terms: "south at 12.50 mm".
func spot(p *board.Profile, along float64) string {
	if e := p.EdgeAt(along); e != nil {
		position := e.Position(math.Mod(along, p.Path.Perimeter()))
		return fmt.Sprintf("%s at %s", e.Name, quantity.Nanometres(math.Round(position)))
	}
	return "the corner at " + point(p.Path.At(along))
}

// run names a stretch: "west from 1.00 mm to 3.00 mm", or over a corner "from
// south at 1.00 mm to east at 3.00 mm".
func run(s board.Stretch) string {
	if s.Round() {
		return "all round " + s.Profile.Name
	}
	for _, e := range s.Profile.Edges {
		if !e.Closed && e.From-board.Tolerance <= s.From && s.To <= e.To+board.Tolerance {
			a, b := math.Round(e.Position(s.From)), math.Round(e.Position(s.To))
			return fmt.Sprintf("%s from %s to %s", e.Name, quantity.Nanometres(min(a, b)), quantity.Nanometres(max(a, b)))
		}
	}
	return fmt.Sprintf("from %s to %s", spot(s.Profile, s.From), spot(s.Profile, s.To))
}

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
	l := s.Profile.Path.Perimeter()
	for _, shift := range [...]float64{-l, 0, l} {
		c := s
		c.From, c.To = math.Max(s.From, from+shift), math.Min(s.To, to+shift)
		if c.To-c.From > board.Tolerance {
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
func (p *Pass) nearWall(shape *geom.Loop, reach, pad float64, bare bool, want func(board.Stretch) bool, measure func(board.Stretch) float64) nearest {
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

// edgeDistance is the least distance between a shape and a run of the profile.
func edgeDistance(shape *geom.Loop, s board.Stretch) float64 {
	least := math.Inf(1)
	for _, piece := range s.Segments() {
		if shape.Contains(piece.At(piece.Length() / 2)) {
			return 0
		}
		for _, side := range shape.Segments() {
			if d, _, _ := geom.Distance(piece, side); d < least {
				least = d
			}
		}
	}
	return least
}

// bandDistance is the least distance between a shape and the copper that a
// stretch turns over a face.
func bandDistance(shape *geom.Loop, s board.Stretch, f board.Face) float64 {
	if s.Plating == nil || s.Plating.Wrap[f].Value <= 0 {
		return math.Inf(1)
	}
	return stripDistance(shape, s, s.Plating.Wrap[f].Value)
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
func (p *Pass) platedOn() []*board.Plating {
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

// anyBare tells whether a stretch of the board's edge is bare.
func (p *Pass) anyBare() bool {
	for _, profile := range p.Board.Profiles() {
		if len(p.Board.Wall(profile).Bare) > 0 {
			return true
		}
	}
	return false
}

// gapRange is where a gap lies along its profile's path.
type gapRange struct {
	gap      *board.Gap
	from, to float64
}

// gapsOn lists the gaps on a profile by where they start along its path.
func (p *Pass) gapsOn(profile *board.Profile) []gapRange {
	if list, ok := p.gaps[profile]; ok {
		return list
	}
	if p.gaps == nil {
		p.gaps = map[*board.Profile][]gapRange{}
		for _, g := range p.Board.Gaps {
			from, to := g.Edge.Range(g.From, g.To)
			p.gaps[g.Edge.Profile] = append(p.gaps[g.Edge.Profile], gapRange{g, from, to})
		}
		for _, list := range p.gaps {
			slices.SortStableFunc(list, func(a, b gapRange) int { return cmp.Compare(a.from, b.from) })
		}
	}
	return p.gaps[profile]
}

// gapAt finds a gap that makes a bare stretch: one that starts or ends where
// the stretch does.
func (p *Pass) gapAt(s board.Stretch) *board.Gap {
	list := p.gapsOn(s.Profile)
	l := s.Profile.Path.Perimeter()
	for _, shift := range [...]float64{0, -l, l} {
		i := sort.Search(len(list), func(i int) bool { return list[i].from >= s.From+shift-board.Tolerance })
		for ; i < len(list) && list[i].from <= s.To+shift; i++ {
			if list[i].to > list[i].from {
				return list[i].gap
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
