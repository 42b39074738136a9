package rules

import (
	"math"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/finding"
)

var edgePullback = &checks.Rule{
	Name: "edge_pullback", Group: checks.GroupPlating, Category: finding.Risky,
	Finds:  "Copper comes nearer to a bare stretch of the profile, to an unplated hole or to a hole of a tab, than `edge_clearance_outer`, or on an inner layer `edge_clearance_inner`; or a cutout cuts a wrap that is not its own.",
	Why:    "The router that cuts a bare edge tears copper that reaches it, and what is left bare on the edge shorts to whatever touches it. A connector's own pin is not meant, nor a half hole's land on its edge, nor a feature of their net that lies on them; nor the bare edge that goes on from a wrap's own stretch, near the stretch's end.",
	Limits: []string{"edge_clearance_outer", "edge_clearance_inner"},
	Source: "fabricators' design rules: 0.127 to 0.30 mm outside, 0.38 to 0.50 mm inside",
	Bad:    platedWith("plane on top net GND pullback 0.2 mm"),
	Good:   platedWith("plane on top net GND pullback 0.25 mm"),
	Run: func(p *checks.Pass) {
		runPairs("edge_pullback", roundCorner)(p)
		for _, plane := range p.Board.Planes() {
			planeByEdge(p, plane, edgeClearance(p, plane.Layer.Text))
		}
	},
}

// roundCorner says what to do about a wrap that runs on to a sharp corner, where
// it lies on the bare edge across it.
func roundCorner(_ *checks.Pass, s short, f *finding.Finding) {
	wrap, edge := s.subject, s.other
	if wrap.Kind == copper.Wrap && edge.Kind == copper.Edge && wrap.Stretch().Profile == edge.Stretch().Profile && betweenAlong(wrap.Stretch(), edge.Stretch()) <= board.Tolerance {
		f.Message += "; end the plating short of the corner, or round it"
	}
}

// planeByEdge holds a plane, which follows the profile at its pullback, to the
// bare edges that it is really near.
func planeByEdge(p *checks.Pass, plane *board.Plane, need checks.Limit) {
	within := lookWithin(p, need.Value)
	if !below(plane.Pullback.Value, within) {
		return
	}
	m, nearest := survey(p), math.Inf(1)
	on := m.Layer(plane.Layer.Text)
	m.Each(func(x *copper.Piece) {
		if x.Kind == copper.Edge && x.Layers&on != 0 {
			d, _ := m.BorderOf(plane).Distance(x, within)
			nearest = min(nearest, d)
		}
	})
	if !below(nearest, within) {
		return
	}
	measured := plane.Pullback.Quantity
	if plane.Within != nil { // which may keep it farther off
		measured = length(nearest, plane.Pullback)
	}
	what := "distance from the plane on " + plane.Layer.Text + ofNet(plane.Net) + " to the bare edge"
	if !held(p, below(plane.Pullback.Value, need.Value) && below(nearest, need.Value), func() checks.Margin {
		return checks.Margin{At: plane.Pullback.At, What: what, Value: measured, Limit: need, Against: need.Quantity}
	}) {
		return
	}
	r := p.Report(plane.Pullback.At, []string{plane.Name.Text}, "%s", tooSmall(what, measured, need))
	relatedLimit(r, need)
	r.Fix = toLeast(p, "pull the plane back", plane.Pullback.At, need, plane.Pullback.Unit)
}
