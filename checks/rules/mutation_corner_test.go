package rules

import (
	"fmt"
	"math"
	"slices"

	"hemline/lang/board"
)

// Mistakes that show only round a corner, or past an end of the plating.
var cornerMistakes = []kind{
	{rule: "wrap_clearance", mistake: "a part in a gap is too near the wrap's end", seed: featureInGap},
	{rule: "net_conflict", mistake: "a second net meets the first at a corner", seed: atCorner(func(s *subject, c platedCorner) (string, string) {
		return s.add(c.second(0, 6e6)), c.plating.Name.Text
	})},
	{rule: "net_conflict", mistake: "a second net comes near the first round a corner", seed: atCorner(func(s *subject, c platedCorner) (string, string) {
		return s.add(c.second(c.left(s.less(s.min("gap_width"))), 8e6)), c.plating.Name.Text
	})},
	{rule: "gap_narrow", mistake: "one plating nearly meets itself round a corner", seed: atCorner(func(s *subject, c platedCorner) (string, string) {
		from, to := c.stretch(c.left(s.less(s.min("gap_width"))), 8e6)
		return s.within(&c.plating.Item, `net `, fmt.Sprintf("along %s from %s to %s\n  net ", c.bare.Name, inMM(from), inMM(to))), c.plating.Name.Text
	})},
	{rule: "castellation_on_plating", mistake: "a half hole is too near a wall round the corner", seed: atCorner(func(s *subject, c platedCorner) (string, string) {
		where := c.at(5e5 + c.left(s.less(s.min("gap_width"))))
		return s.add(fmt.Sprintf("castellation near on %s at %s hole 1 mm land 1.6 mm by 1.2 mm net V9", c.bare.Name, inMM(where))), "near"
	})},
	{rule: "tab_gap_tight", mistake: "a tab is too near a wall round the corner", seed: atCorner(func(s *subject, c platedCorner) (string, string) {
		from, to := c.stretch(c.left(s.less(s.min("tab_gap"))), 2e6+s.min("tab_gap"))
		return s.add(fmt.Sprintf("tab near on %s at %s width %s solid", c.bare.Name, inMM((from+to)/2), inMM(to-from))), "near"
	})},
	{rule: "launch_blocked", mistake: "a pin lies on the wrap of the next edge", seed: pinAlongWall},
	{rule: "span_short", mistake: "a gap leaves next to nothing up to the edge's end", seed: endIsland},
	{rule: "gap_idle", mistake: "a gap lies beyond the end of the plating", seed: gapBeyondEnd},
}

// platedCorner is a sharp corner between an edge that is plated nearly up to it
// and one that is bare for ten millimetres from it.
type platedCorner struct {
	plating *board.Plating
	bare    *board.Edge
	last    bool    // the corner is where positions on the bare edge end
	off     float64 // how far from the corner the plating ends
}

// left is what of a length along the edge lies past the corner.
func (c platedCorner) left(nm float64) float64 { return math.Max(0, nm-c.off) }

// stretch is one on the bare edge, from so far off the corner to so far.
func (c platedCorner) stretch(near, far float64) (from, to float64) {
	if c.last {
		return math.Ceil(c.bare.Length - far), math.Floor(c.bare.Length - near)
	}
	return math.Ceil(near), math.Floor(far)
}

// at is the position so far off the corner.
func (c platedCorner) at(distance float64) float64 {
	if c.last {
		return c.bare.Length - distance
	}
	return distance
}

// second is a plating of another net on a stretch.
func (c platedCorner) second(near, far float64) string {
	from, to := c.stretch(near, far)
	return otherPlating(c.bare.Name, from, to, "V9")
}

func (s *subject) platedCorners() []platedCorner {
	var list []platedCorner
	edges := s.b.Outline().Edges
	if len(edges) < 2 || len(s.b.Outline().Corners) > 0 {
		return nil
	}
	l := s.b.Outline().Path.Perimeter()
	on := func(from, to float64) (pl *board.Plating) {
		s.b.Wall(s.b.Outline()).PlatedIn(from, to, func(x board.Stretch) { pl = x.Plating })
		return pl
	}
	for _, e := range edges {
		// Before the edge's start along the path, and after its end.
		if pl := on(math.Mod(e.From-nearly+l, l), math.Mod(e.From-nearly+50+l, l)); pl != nil && on(e.From+50, e.From+10e6) == nil {
			list = append(list, platedCorner{pl, e, e.Reversed, s.bareBefore(e.From, -1)})
		}
		if pl := on(math.Mod(e.To+nearly-50, l), math.Mod(e.To+nearly, l)); pl != nil && on(e.To-10e6, e.To-50) == nil {
			list = append(list, platedCorner{pl, e, !e.Reversed, s.bareBefore(e.To, 1)})
		}
	}
	return list
}

// nearly is how far off a corner plating may end that still ends at it.
const nearly = 6e5

// bareBefore is how far from a place on the outline plating starts, one way.
func (s *subject) bareBefore(along, way float64) float64 {
	l := s.b.Outline().Path.Perimeter()
	for d := 0.0; d <= nearly; d += 1e4 {
		found := false
		at := math.Mod(along+way*d+l, l)
		s.b.Wall(s.b.Outline()).PlatedIn(math.Max(0, at-50), math.Min(l, at+50), func(board.Stretch) { found = true })
		if found {
			return d
		}
	}
	return nearly
}

func atCorner(text func(*subject, platedCorner) (string, string)) seeder {
	return func(s *subject) (mutant, bool) {
		return anyOf(s, s.platedCorners(), func(c platedCorner) (mutant, bool) {
			if c.bare.Length < 12e6 {
				return none, false
			}
			t, on := text(s, c)
			return s.edit(t, on)
		})
	}
}

func featureInGap(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Gaps(), func(g *board.Gap) (mutant, bool) {
		const across = 4e5
		p := s.b.PlatingNamed(g.Of.Text)
		room := s.less(s.min("wrap_clearance"))
		if g.To-g.From < 2*across || g.Edge.Closed {
			return none, false
		}
		if !slices.Contains(s.outlineEdges(true), g.Edge) {
			return none, false
		}
		depth := p.Wrap[board.Top].Value / 2
		where := off(g.Edge, g.From+across/2+room, depth)
		return s.edit(s.add(fmt.Sprintf("feature stray on top circle %s at %s net V9", inMM(across), where)), "stray")
	})
}

// pinAlongWall puts a connector so near a corner that its pin lies on the wrap
// of the edge round it.
func pinAlongWall(s *subject) (mutant, bool) {
	if s.b.Outline().Kind != "rectangle" {
		return none, false // not all corners are right angles
	}
	return anyOf(s, s.platedCorners(), func(c platedCorner) (mutant, bool) {
		where := c.at(c.plating.Wrap[board.Top].Value * 0.7)
		return s.edit(s.add(fmt.Sprintf("connector jammed on %s at %s { body 0.4 mm; pin top width 0.3 mm length 3 mm; net RF9 }", c.bare.Name, inMM(where))), "jammed")
	})
}

func endIsland(s *subject) (mutant, bool) {
	return anyOf(s, s.platedCorners(), func(c platedCorner) (mutant, bool) {
		// The plated neighbour of the bare edge, and its end at the corner.
		for _, e := range s.b.Outline().Edges {
			first, last := e.Point(0), e.Point(e.Length)
			corner := c.bare.Point(0)
			if c.last {
				corner = c.bare.Point(c.bare.Length)
			}
			left, width := s.less(s.min("span_length"))+c.off, s.min("gap_width")
			from, to := left, left+width
			switch {
			case e == c.bare:
				continue
			case last.Dist(corner) < 1:
				from, to = math.Floor(e.Length)-left-width, e.Length-left
			case first.Dist(corner) >= 1:
				continue
			}
			if e.Length < 15e6 {
				continue
			}
			return s.edit(s.add(fmt.Sprintf("gap cut of %s on %s from %s to %s", c.plating.Name.Text, e.Name, inMM(from), inMM(to))), c.plating.Name.Text)
		}
		return none, false
	})
}

func gapBeyondEnd(s *subject) (mutant, bool) {
	return anyOf(s, s.b.Platings(), func(p *board.Plating) (mutant, bool) {
		if len(p.Along) == 0 || p.Along[0].From < 5e6 {
			return none, false
		}
		a := p.Along[0]
		return s.edit(s.add(fmt.Sprintf("gap beyond of %s on %s from %s to %s", p.Name.Text, a.Edge.Name, inMM(a.From-4e6), inMM(a.From-5e5))), "beyond")
	})
}
