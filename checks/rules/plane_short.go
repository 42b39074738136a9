package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var planeShort = &checks.Rule{
	Name: "plane_short", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "Inner copper of another net comes nearer than `inner_clearance` to a plated stretch.",
	Why:    "The wall joins every inner layer that reaches it. A supply plane that is not pulled back is shorted to the wall, on every board of the batch. Copper with no net counts as another net.",
	Limits: []string{"inner_clearance"},
	Source: "0.25 to 0.8 mm in fabricators' published rules on edge plating; common practice",
	Bad:    layered(platedWith("plane on power net V5 pullback 0.4 mm")),
	Good:   layered(platedWith("plane on power net V5 pullback 0.5 mm")),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("inner_clearance")
		p.EachFeature(need.Value, func(x *board.Feature) {
			if _, outer := p.Board.FaceOf(x.Layer.Text); !outer {
				featureByWall(p, x, need)
			}
		})
		for _, plane := range p.Board.Planes() {
			if _, outer := p.Board.FaceOf(plane.Layer.Text); outer || !below(plane.Pullback.Value, need.Value) {
				continue
			}
			for _, pl := range platedOn(p) {
				if !otherNet(plane.Net, pl) {
					continue
				}
				what := fmt.Sprintf("plane on %s%s to the plating %s", plane.Layer.Text, ofNet(plane.Net), pl.Name.Text)
				r := p.Report(plane.Pullback.At, []string{plane.Name.Text, pl.Name.Text}, "%s", tooSmall(what, plane.Pullback.Quantity, need))
				related(r, pl.Name.At, "the wall, net %s", pl.Net.Text)
				relatedLimit(r, need)
				r.Fix = p.Edit("pull the plane back", plane.Pullback.At, written(need.Quantity, plane.Pullback.Unit))
				break
			}
		}
	},
}

func featureByWall(p *checks.Pass, x *board.Feature, need checks.Limit) {
	near := nearWall(p, x.Shape, need.Value, 0, false,
		func(s board.Stretch) bool { return otherNet(x.Net, s.Plating) },
		func(s board.Stretch) float64 { return edgeDistance(x.Shape, s) })
	if !near.ok || !below(near.d, need.Value) {
		return
	}
	pl := near.stretch.Plating
	what := fmt.Sprintf("%s%s to the plating %s", x.Name.Text, ofNet(x.Net), pl.Name.Text)
	r := p.Report(x.ShapeAt, []string{x.Name.Text, pl.Name.Text}, "%s", tooSmall(what, length(near.d), need))
	related(r, pl.Name.At, "the wall, net %s", pl.Net.Text)
	relatedLimit(r, need)
}
