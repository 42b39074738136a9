package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var wrapClearance = &checks.Rule{
	Name: "wrap_clearance", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "Copper of another net on an outer layer comes nearer than `wrap_clearance` to the wrap on that face.",
	Why:    "The wrap is plated up together with the wall and grows sideways; what lies too near is shorted to it, and a housing clamped on the wrap shorts it again. Copper with no net counts as another net. Distances are to the wrap's true region, corners and arcs included.",
	Limits: []string{"wrap_clearance"},
	Source: "10 mil, the trade's usual first figure for a plated edge; line spacing plus plating growth, common practice",
	Bad:    platedWith("feature c7 on top rectangle 1 mm by 1 mm at (1.5 mm, 20 mm) net V5"),
	Good:   platedWith("feature c7 on top rectangle 1 mm by 1 mm at (1.6 mm, 20 mm) net V5"),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("wrap_clearance")
		widest := 0.0
		for _, pl := range p.Board.Platings() {
			widest = max(widest, pl.Wrap[board.Top].Value, pl.Wrap[board.Bottom].Value)
		}
		p.EachFeature(widest+need.Value, func(x *board.Feature) {
			for _, f := range board.Faces {
				if p.Board.SameLayer(x.Layer.Text, p.Board.OuterLayer(f)) {
					featureByWrap(p, x, f, need)
				}
			}
		})
		for _, f := range board.Faces {
			for _, plane := range p.Board.Planes() {
				if p.Board.SameLayer(plane.Layer.Text, p.Board.OuterLayer(f)) {
					planeByWrap(p, plane, f, need)
				}
			}
		}
	},
}

func featureByWrap(p *checks.Pass, x *board.Feature, f board.Face, need checks.Limit) {
	widest := 0.0
	for _, pl := range p.Board.Platings() {
		if otherNet(x.Net, pl) {
			widest = max(widest, pl.Wrap[f].Value)
		}
	}
	if widest == 0 {
		return
	}
	near := nearWall(p, x.Shape, widest+need.Value, widest, false,
		func(s board.Stretch) bool { return s.Plating.Wrap[f].Value > 0 && otherNet(x.Net, s.Plating) },
		func(s board.Stretch) float64 { return bandDistance(x.Shape, s, f) })
	if !near.ok || !below(near.d, need.Value) {
		return
	}
	pl := near.stretch.Plating
	on := []string{x.Name.Text, pl.Name.Text}
	what := fmt.Sprintf("%s%s to the wrap of %s on %s", x.Name.Text, ofNet(x.Net), pl.Name.Text, f)
	var r *finding.Finding
	if near.d == 0 {
		r = p.Report(x.ShapeAt, on, "%s lies on the wrap of %s on %s; %s asks for at least %s between them %s",
			x.Name.Text+ofNet(x.Net), pl.Name.Text, f, need.Who, need.Quantity, need.From())
	} else {
		r = p.Report(x.ShapeAt, on, "%s", tooSmall(what, length(near.d), need))
	}
	related(r, pl.Wrap[f].At, "the wrap of %s, net %s", pl.Name.Text, pl.Net.Text)
	relatedLimit(r, need)
}

// planeByWrap holds a plane, which follows the profile at its pullback.
func planeByWrap(p *checks.Pass, plane *board.Plane, f board.Face, need checks.Limit) {
	for _, pl := range platedOn(p) {
		w := pl.Wrap[f]
		left := plane.Pullback.Value - w.Value
		if w.Value == 0 || !otherNet(plane.Net, pl) || !below(left, need.Value) {
			continue
		}
		what := fmt.Sprintf("plane on %s%s to the wrap of %s", plane.Layer.Text, ofNet(plane.Net), pl.Name.Text)
		r := p.Report(plane.Pullback.At, []string{plane.Name.Text, pl.Name.Text}, "%s", tooSmall(what, length(max(left, 0), plane.Pullback), need))
		related(r, w.At, "the wrap of %s, net %s", pl.Name.Text, pl.Net.Text)
		relatedLimit(r, need)
		r.Fix = p.Edit("pull the plane back", plane.Pullback.At, written(quantity.Nanometres(w.Value+need.Value), plane.Pullback.Unit))
	}
}

// ofNet says a net in brackets.
func ofNet(n board.Name) string {
	if !n.Given() {
		return " (no net)"
	}
	return " (net " + n.Text + ")"
}
