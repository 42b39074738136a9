package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/geom"
)

// What fixes look at, to see whether they would bring another finding.

// edgeClearance is what copper of a layer keeps off a bare edge.
func edgeClearance(p *checks.Pass, layer string) checks.Limit {
	if _, outer := p.Board.FaceOf(layer); outer {
		return p.Limits.Minimum("edge_clearance_outer")
	}
	return p.Limits.Minimum("edge_clearance_inner")
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
			if d, _, _ := geom.ShapeDistance(x.Shape, c.Pad(pin)); d == 0 {
				return true
			}
		}
	}
	return false
}

// webAt is the mask left between a feature's own opening and one over a plating
// that reaches so far inward; short tells whether it is too little, and not none
// at all in one opening of both.
func webAt(p *checks.Pass, ft *board.Feature, pl *board.Plating, reach float64, need, margin checks.Limit) (left float64, short bool) {
	near := nearWall(p, ft.Shape, reach+margin.Value+need.Value, reach, false,
		func(s board.Stretch) bool { return s.Plating == pl },
		func(s board.Stretch) float64 { return stripDistance(ft.Shape, s, reach) })
	left = near.d - margin.Value
	return left, near.ok && below(left, need.Value) && (left > board.Tolerance || otherNet(ft.Net, pl))
}
