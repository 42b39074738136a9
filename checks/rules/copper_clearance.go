package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var copperClearance = &checks.Rule{
	Name: "copper_clearance", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "Two coppers of two nets on one layer come nearer to each other than `copper_clearance`, where no other limit speaks of them: features, pins, lands, vias, plated holes, half holes, planes that do not lie over each other.",
	Why:    "What is nearer than the shop can etch apart is one net on the board. Copper with no net counts as another net; what one statement states is of one.",
	Limits: []string{"copper_clearance"},
	Source: "common practice, no single source",
	Bad:    platedWith("feature c7 on top rectangle 1 mm by 1 mm at (20 mm, 15 mm) net V5", "feature c8 on top rectangle 1 mm by 1 mm at (21.14 mm, 15 mm) net V3", shop("limit mask_margin minimum 0 mm")),
	Good:   platedWith("feature c7 on top rectangle 1 mm by 1 mm at (20 mm, 15 mm) net V5", "feature c8 on top rectangle 1 mm by 1 mm at (21.15 mm, 15 mm) net V3", shop("limit mask_margin minimum 0 mm")),
	Run: func(p *checks.Pass) {
		runPairs("copper_clearance", nil)(p)
		planes := p.Board.Planes()
		for i, b := range planes {
			for _, a := range planes[:i] {
				if p.Board.SameLayer(a.Layer.Text, b.Layer.Text) && (!a.Net.Given() || a.Net.Text != b.Net.Text) {
					planesApart(p, b, a)
				}
			}
		}
	},
}

// planesApart holds two planes of two nets on one layer to each other, what runs
// to walls of each included; those that lie over each other are found as such.
func planesApart(p *checks.Pass, plane, other *board.Plane) {
	m, need := survey(p), p.Limits.Minimum("copper_clearance")
	if m.PlanesOverlap(plane, other) {
		return
	}
	within := lookWithin(p, leastOfNets(need))
	d, at := m.Between(plane, other, within)
	if !below(d, within) {
		return
	}
	a, b := "plane "+plane.Name.Text+ofNet(plane.Net), "plane "+other.Name.Text+ofNet(other.Net)
	on := []string{plane.Name.Text, other.Name.Text}
	if !held(p, below(d, leastOfNets(need)), func() checks.Margin {
		return checks.Margin{At: planeAt(plane), What: "distance from " + a + " to " + b + " at " + board.Coordinates(at), Value: length(d), Limit: need, Against: need.Quantity}
	}) {
		return
	}
	var f *finding.Finding
	switch {
	case d <= board.Tolerance && need.Value <= 0:
		f = p.Report(planeAt(plane), on, "%s meets %s at %s", a, b, board.Coordinates(at))
	case d <= board.Tolerance:
		f = p.Report(planeAt(plane), on, "%s meets %s at %s; %s asks for at least %s between them %s", a, b, board.Coordinates(at), need.Who, need.Quantity, need.From())
	default:
		f = p.Report(planeAt(plane), on, "%s", tooSmall("distance from "+a+" to "+b+" at "+board.Coordinates(at), length(d), need))
	}
	related(f, planeAt(other), "%s", b)
	relatedLimit(f, need)
}
