package rules

import (
	"math"
	"slices"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
)

// What the lines of the table of pairs are not about.

func sameItem(_ *copper.Map, a, b *copper.Piece) bool { return a.Item == b.Item }

// ofKind sorts two pieces by whether they are of a kind.
func ofKind(k copper.Kind, a, b *copper.Piece) (is, other *copper.Piece) {
	if b.Kind == k {
		return b, a
	}
	return a, b
}

// onOuter tells whether two pieces meet on outer layers alone.
func onOuter(m *copper.Map, a, b *copper.Piece) bool {
	_, inner := m.Outer(a.Layers & b.Layers)
	return !inner
}

// betweenAlong is the least length of path between two stretches of one profile.
func betweenAlong(a, b board.Stretch) float64 {
	if a.Profile == nil || a.Profile != b.Profile {
		return math.Inf(1)
	}
	l := a.Profile.Path.Perimeter()
	least := math.Inf(1)
	for _, shift := range [...]float64{-l, 0, l} {
		least = min(least, max(0, a.From-(b.To+shift), b.From+shift-a.To))
	}
	return least
}

// oneCause tells of two wraps or strips whether their walls come as near along the edge,
// so that it is the walls that are at fault, and found.
func oneCause(p *checks.Pass, _ *copper.Map, n copper.Near) bool {
	along := betweenAlong(n.A.Stretch(), n.B.Stretch())
	return along <= n.D+board.Tolerance && below(along, p.Limits.Minimum("gap_width").Value)
}

// alongEdge tells of two walls whether they follow each other on one profile so
// nearly that net_conflict finds them.
func alongEdge(p *checks.Pass, _ *copper.Map, n copper.Near) bool {
	return below(betweenAlong(n.A.Stretch(), n.B.Stretch()), p.Limits.Minimum("gap_width").Value)
}

// ownBarrels tells of two coppers whether they are two half holes, or parts of
// one hole or of one pad.
func ownBarrels(_ *copper.Map, a, b *copper.Piece) bool {
	return a.Kind == copper.Barrel && b.Kind == copper.Barrel || a.Item == b.Item && a.Member == b.Member
}

// pads tells of a feature and a pin, a half hole or a plating's own copper whether
// they are of one net: what of the feature lies on that is held, or excused, as
// that is.
func pads(x, pad *copper.Piece) bool {
	return x.Kind == copper.Feature && x.Net().Given() && pad.Net().Text == x.Net().Text &&
		slices.Contains(of(copper.Pin, copper.Land, copper.Barrel, copper.Wrap, copper.Strip), pad.Kind)
}

// rootOfTab tells of a hole and an edge whether that is what a premetallised tab
// leaves bare of a wall, which is held itself.
func rootOfTab(_ *copper.Map, a, b *copper.Piece) bool {
	return isRoot(a) || isRoot(b)
}

func isRoot(x *copper.Piece) bool {
	_, tab := x.Item.(*board.Tab)
	return tab && x.Kind == copper.Edge
}

// ownCutout tells whether a wrap, or a tab's hole, is at the edge of a cutout.
func ownCutout(_ *copper.Map, a, b *copper.Piece) bool {
	cutout, x := ofKind(copper.Cutout, a, b)
	if t, ok := x.Item.(*board.Tab); ok {
		return t.Edge.Profile == cutout.Stretch().Profile
	}
	return x.Stretch().Profile == cutout.Stretch().Profile
}

func premetallised(_ *copper.Map, a, b *copper.Piece) bool {
	tab, _ := ofKind(copper.Tab, a, b)
	return tab.Item.(*board.Tab).Premetallised
}

func otherProfile(_ *copper.Map, a, b *copper.Piece) bool {
	return a.On().Profile != b.On().Profile
}

// notRelief tells of an opening and copper whether the opening is no relief's,
// or the copper is what the relief is over.
func notRelief(_ *copper.Map, a, b *copper.Piece) bool {
	open, x := ofKind(copper.Opening, a, b)
	r, ok := open.Item.(*board.Relief)
	return !ok || x.Item != nil && r.Lies(x.Name()) && slices.Contains(of(copper.Wrap, copper.Run, copper.Barrel, copper.Land), x.Kind)
}

// besideBody tells of a body and a feature whether the body does not say how far
// it stands over the board, or the feature is of its own signal.
func besideBody(_ *copper.Map, a, b *copper.Piece) bool {
	body, x := ofKind(copper.Body, a, b)
	c := body.Item.(*board.Connector)
	return !c.BodyReach.Given() || x.Net().Given() && x.Net().Text == c.Net.Text
}

// ownGround tells of a body and a feature whether the body stands on a wall of
// the feature's net.
func ownGround(_ *checks.Pass, m *copper.Map, n copper.Near) bool {
	body, x := ofKind(copper.Body, n.A, n.B)
	return x.Net().Given() && m.Touches(body, func(q *copper.Piece) bool { return q.Kind == copper.Wall && q.Net().Text == x.Net().Text })
}

// onPlated tells of a tab and a wall whether the tab stands on a plated stretch.
func onPlated(p *checks.Pass, _ *copper.Map, n copper.Near) bool {
	tab, _ := ofKind(copper.Tab, n.A, n.B)
	s := tab.Stretch()
	return board.Overlap(p.Board.Wall(s.Profile), s.From, s.To) > board.Tolerance
}
