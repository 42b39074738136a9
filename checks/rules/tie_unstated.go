package rules

import (
	"fmt"
	"math"
	"strings"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var tieUnstated = &checks.Rule{
	Name: "tie_unstated", Group: checks.GroupPlating, Category: finding.Risky,
	Finds: "On an inner layer that a plating's `layers` leaves out, a feature or a plane of the wall's own net comes nearer than `edge_clearance_inner` to the wall.",
	Why: "Copper that reaches the routed edge is joined by the plating, whatever the text says; what ends just short of it is joined or not as the router happens to run. The notes tell the shop that the wall does not join that layer, and its engineer has to ask. " +
		"Where the plating states no `layers`, copper of its net may meet it, and nothing is said.",
	Limits: []string{"edge_clearance_inner"},
	Source: "0.38 to 0.50 mm of inner copper to a routed edge in fabricators' design rules; that it is enough at a plated one: common practice, no source",
	Bad:    apart("(1.39 mm, 20 mm)"),
	Good:   apart("(1.4 mm, 20 mm)"),
	Run: func(p *checks.Pass) {
		runPairs("tie_unstated", func(p *checks.Pass, s short, f *finding.Finding) {
			x := s.subject.Item.(*board.Feature)
			f.Message += joinOr(p.Board, s.other.Item.(*board.Plating), x.Layer.Text, length(s.need.Value-s.d))
		})(p)
		need := p.Limits.Minimum("edge_clearance_inner")
		for _, plane := range p.Board.Planes() {
			planeApart(p, plane, need)
		}
	},
}

// apart is a board whose wall joins one inner layer, and copper of its net on the other.
func apart(at string) string {
	return layered(plated(append([]string{"layers ground"}, wholeWraps...)...) + "plane on ground net GND pullback 0.5 mm\nfeature c7 on power rectangle 2 mm by 1 mm at " + at + " net GND\n")
}

// joinOr says what to do about copper of a wall's net that the wall does not join.
func joinOr(b *board.Board, pl *board.Plating, layer string, by quantity.Quantity) string {
	var list []string
	for _, l := range b.Layers() {
		if b.Joins(pl, l) || b.SameLayer(l, layer) {
			list = append(list, l)
		}
	}
	return fmt.Sprintf("; state `layers %s` in plating %s if it is to join it, or pull it back by %s", strings.Join(list, " "), pl.Name.Text, by)
}

// leavesOut tells whether a wall's plating says which layers it joins, and none of
// them is one of these.
func leavesOut(m *copper.Map, wall *copper.Piece, layers copper.Layers) bool {
	pl := wall.Item.(*board.Plating)
	_, inner := m.Outer(layers)
	for _, l := range pl.Layers {
		inner = inner && m.Layer(l.Text)&layers == 0
	}
	return inner && len(pl.Layers) > 0 && !pl.AllLayers
}

// joinedOrSilent tells of a wall and a feature whether the wall joins the feature's
// layer, or does not say which layers it joins.
func joinedOrSilent(m *copper.Map, a, b *copper.Piece) bool {
	wall, x := ofKind(copper.Wall, a, b)
	return !leavesOut(m, wall, x.Layers)
}

// finishedWall is how near a piece comes to what of a wall there is on the finished
// board: not to the roots of premetallised tabs.
func finishedWall(p *checks.Pass, n copper.Near) copper.Near {
	wall, x := ofKind(copper.Wall, n.A, n.B)
	n.D = math.Inf(1)
	for s := range p.Board.Walled(wall.Stretch()) {
		for _, line := range s.Segments() {
			if d, at, on := copper.ToLine(x, line); d < n.D {
				n.D, n.PA, n.PB = d, on, at
			}
		}
	}
	if x == n.A {
		n.PA, n.PB = n.PB, n.PA
	}
	return n
}

// planeApart holds a plane, which follows the profile at its pullback, to the walls
// of its net that do not join it.
func planeApart(p *checks.Pass, plane *board.Plane, need checks.Limit) {
	within := lookWithin(p, need.Value)
	if !plane.Net.Given() || !below(plane.Pullback.Value, within) {
		return
	}
	m := survey(p)
	for _, near := range nearPlane(m, plane, copper.Wall, within, func(x *copper.Piece) bool {
		return x.Net().Text == plane.Net.Text && leavesOut(m, x, m.Layer(plane.Layer.Text))
	}) {
		if !near.lacks(p, plane, need, need.Value) {
			continue
		}
		f := near.report(p, plane, need)
		f.Message += joinOr(p.Board, near.piece.Item.(*board.Plating), plane.Layer.Text, length(need.Value-near.d, plane.Pullback))
	}
}
