package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
)

var edgePullback = &checks.Rule{
	Name: "edge_pullback", Group: checks.GroupPlating, Category: finding.Risky,
	Finds:  "Copper comes nearer to a bare stretch of the profile than `edge_clearance_outer`, or on an inner layer `edge_clearance_inner`.",
	Why:    "The router that cuts a bare edge tears copper that reaches it, and what is left bare on the edge shorts to whatever touches it. A connector's own pin is not meant, nor is a feature of its net that lies on it.",
	Limits: []string{"edge_clearance_outer", "edge_clearance_inner"},
	Source: "fabricators' design rules: 0.127 to 0.30 mm outside, 0.38 to 0.50 mm inside",
	Bad:    platedWith("plane on top net GND pullback 0.2 mm"),
	Good:   platedWith("plane on top net GND pullback 0.25 mm"),
	Run: func(p *checks.Pass) {
		p.EachFeature(max(p.Limits.Minimum("edge_clearance_outer").Value, p.Limits.Minimum("edge_clearance_inner").Value), func(x *board.Feature) {
			need := edgeClearance(p, x.Layer.Text)
			near := nearWall(p, x.Shape, need.Value, 0, true,
				func(board.Stretch) bool { return true },
				func(s board.Stretch) float64 { return edgeDistance(x.Shape, s) })
			if !near.ok || !below(near.d, need.Value) || onOwnPin(p.Board, x) {
				return
			}
			on := []string{x.Name.Text}
			if near.stretch.Profile.Cutout {
				on = append(on, near.stretch.Profile.Name)
			}
			r := p.Report(x.ShapeAt, on, "%s", tooSmall(fmt.Sprintf("%s on %s to the bare edge", x.Name.Text, x.Layer.Text), length(near.d), need))
			relatedLimit(r, need)
		})
		if anyBare(p) {
			for _, plane := range p.Board.Planes() {
				planeByEdge(p, plane, edgeClearance(p, plane.Layer.Text))
			}
		}
	},
}

// edgeClearance is what copper of a layer keeps off a bare edge.
func edgeClearance(p *checks.Pass, layer string) checks.Limit {
	if _, outer := p.Board.FaceOf(layer); outer {
		return p.Limits.Minimum("edge_clearance_outer")
	}
	return p.Limits.Minimum("edge_clearance_inner")
}

func planeByEdge(p *checks.Pass, plane *board.Plane, need checks.Limit) {
	if !below(plane.Pullback.Value, need.Value) {
		return
	}
	r := p.Report(plane.Pullback.At, []string{plane.Name.Text}, "%s", tooSmall(fmt.Sprintf("plane on %s to the bare edge", plane.Layer.Text), plane.Pullback.Quantity, need))
	relatedLimit(r, need)
	r.Fix = p.Edit("pull the plane back", plane.Pullback.At, written(need.Quantity, plane.Pullback.Unit))
}

// onOwnPin tells whether a feature is the copper of a connector's own pin.
func onOwnPin(b *board.Board, x *board.Feature) bool {
	for _, c := range b.Connectors() {
		if !c.Net.Given() || c.Net.Text != x.Net.Text {
			continue
		}
		for _, pin := range c.Pins {
			if !b.SameLayer(x.Layer.Text, b.OuterLayer(pin.Face)) {
				continue
			}
			if d, _, _ := geom.ShapeDistance(x.Shape, pinShape(c, pin)); d == 0 {
				return true
			}
		}
	}
	return false
}
