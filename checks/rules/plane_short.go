package rules

import (
	"hemline/checks"
	"hemline/lang/copper"
	"hemline/lang/finding"
)

var planeShort = &checks.Rule{
	Name: "plane_short", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "A plane or a feature of another net on an inner layer comes nearer than `inner_clearance` to a plated stretch, or to the plating's own copper on that layer.",
	Why:    "The wall joins every inner layer that reaches it. A supply plane that is not pulled back is shorted to the wall, on every board of the batch. Copper with no net counts as another net.",
	Limits: []string{"inner_clearance"},
	Source: "0.25 to 0.8 mm in fabricators' published rules on edge plating; common practice",
	Bad:    layered(platedWith("plane on power net V5 pullback 0.4 mm")),
	Good:   layered(platedWith("plane on power net V5 pullback 0.5 mm")),
	Run: func(p *checks.Pass) {
		runPairs("plane_short", nil)(p)
		need := p.Limits.Minimum("inner_clearance")
		for _, plane := range p.Board.Planes() {
			if _, outer := p.Board.FaceOf(plane.Layer.Text); outer {
				continue
			}
			planeBy(p, plane, copper.Wall, need, func(*copper.Piece) float64 { return 0 })
			planeBy(p, plane, copper.Strip, need, func(*copper.Piece) float64 { return copper.StripWidth })
		}
	},
}
