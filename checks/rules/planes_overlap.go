package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/source"
)

var planesOverlap = &checks.Rule{
	Name: "planes_overlap", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "Two planes lie over each other on one layer, where they run to walls aside.",
	Why:    "Each follows the profile at its pullback and fills the layer, or its rectangle: of two nets they are a short, of one net one of them says nothing there, or something else than the other. Rectangles that share a side alone do not lie over each other; of two nets `copper_clearance` holds them.",
	Source: "common practice, no source",
	Bad:    platedWith("plane on top net GND pullback 0.5 mm", "plane on top net GND pullback 0.6 mm"),
	Good:   platedWith("plane on top net GND pullback 0.5 mm within (0 mm, 0 mm) to (20 mm, 40 mm)", "plane on top net GND pullback 0.6 mm within (20 mm, 0 mm) to (60 mm, 40 mm)"),
	Run: func(p *checks.Pass) {
		planes := p.Board.Planes()
		for i, b := range planes {
			for _, a := range planes[:i] {
				if !p.Board.SameLayer(a.Layer.Text, b.Layer.Text) || !survey(p).PlanesOverlap(a, b) {
					continue
				}
				reportOverlap(p, a, b)
				break
			}
		}
	},
}

func reportOverlap(p *checks.Pass, a, b *board.Plane) {
	f := p.Report(planeAt(b), []string{b.Name.Text}, "the plane%s on %s lies over the plane%s on the same layer; a layer has one plane, or several `within` rectangles that are apart", ofNet(b.Net), b.Layer.Text, ofNet(a.Net))
	related(f, planeAt(a), "the other plane")
}

// planeAt is where a plane says where it is: its rectangle, or its layer.
func planeAt(x *board.Plane) source.Place {
	if x.Within != nil {
		return x.WithinAt
	}
	return x.Layer.At
}
