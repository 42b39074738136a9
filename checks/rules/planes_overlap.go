package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var planesOverlap = &checks.Rule{
	Name: "planes_overlap", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "Two planes lie over each other on one layer.",
	Why:    "Each follows the profile at its pullback and fills the layer: of two nets they are a short, of one net one of them says nothing, or something else than the other.",
	Source: "common practice, no source",
	Bad:    platedWith("plane on top net GND pullback 0.5 mm", "plane on top net GND pullback 0.6 mm"),
	Good:   platedWith("plane on top net GND pullback 0.5 mm", "plane on bottom net GND pullback 0.6 mm"),
	Run: func(p *checks.Pass) {
		planes := p.Board.Planes()
		for i, b := range planes {
			for _, a := range planes[:i] {
				if !p.Board.SameLayer(a.Layer.Text, b.Layer.Text) || survey(p).Border(max(a.Pullback.Value, b.Pullback.Value)).Empty() {
					continue
				}
				reportOverlap(p, a, b)
				break
			}
		}
	},
}

func reportOverlap(p *checks.Pass, a, b *board.Plane) {
	f := p.Report(b.Layer.At, []string{b.Name.Text}, "the plane%s on %s lies over the plane%s on the same layer; a layer has one plane", ofNet(b.Net), b.Layer.Text, ofNet(a.Net))
	related(f, a.Layer.At, "the other plane")
}
