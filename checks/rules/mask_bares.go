package rules

import (
	"math"
	"slices"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/finding"
	"hemline/lang/source"
)

var maskBares = &checks.Rule{
	Name: "mask_bares", Group: checks.GroupMask, Category: finding.Risky,
	Finds:  "The mask opening of a relief lays copper of another net bare: a feature, a plane, a via, a land, another plating's wrap.",
	Why:    "What the opening is made for, a housing, a gasket, solder, touches that copper too.",
	Source: "common practice, no source",
	Bad:    platedWith("relief lid over wall on top bottom reach 1.6 mm", "feature c7 on top rectangle 1 mm by 1 mm at (2 mm, 20 mm) net V5"),
	Good:   platedWith("relief lid over wall on top bottom reach 1.3 mm", "feature c7 on top rectangle 1 mm by 1 mm at (2 mm, 20 mm) net V5"),
	Run: func(p *checks.Pass) {
		runPairs("mask_bares", nil)(p)
		for _, r := range p.Board.Reliefs() {
			for _, plane := range p.Board.Planes() {
				f, outer := p.Board.FaceOf(plane.Layer.Text)
				if outer && slices.Contains(r.Faces, f) && above(deepest(p, r, f), plane.Pullback.Value) {
					planeBared(p, r, plane)
				}
			}
		}
	},
}

// deepest is the most that a relief may come in from the edge on a face: over a half
// hole by the corners of its opening, which beside a notch are farther from the edge
// than its middle.
func deepest(p *checks.Pass, r *board.Relief, f board.Face) (far float64) {
	for _, o := range p.Board.Openings(r, p.Limits.MaskMargin()) {
		if o.Face == f {
			far = max(far, math.Hypot(o.Reach, o.Width/2))
		}
	}
	return far
}

// planeBared looks for a plane of another net under a relief that may reach
// farther in than the plane keeps from the edge.
func planeBared(p *checks.Pass, r *board.Relief, plane *board.Plane) {
	m := survey(p)
	found := false
	m.Each(func(x *copper.Piece) {
		if found || x.Kind != copper.Opening || x.Item != any(r) || x.Layers&m.Layer(plane.Layer.Text) == 0 ||
			plane.Net.Given() && x.Net().Text == plane.Net.Text || givesWay(p, r, x) {
			return
		}
		if d, at := m.BorderOf(plane).Distance(x, 0); d <= board.Tolerance {
			found = true
			corners, reach := "", reachOf(p, r, x)
			if !above(reach, plane.Pullback.Value) {
				corners = ", at its corners farther,"
			}
			f := p.Report(reliefAt(r), []string{r.Name.Text, plane.Name.Text}, "the mask opening of relief %s reaches %s in%s and lays bare the plane on %s%s, which keeps %s from the edge, at %s",
				r.Name.Text, length(reach, r.Reach), corners, plane.Layer.Text, ofNet(plane.Net), plane.Pullback.Quantity, board.Coordinates(at))
			related(f, plane.Pullback.At, "the plane's pullback")
		}
	})
}

// givesWay tells of an opening over a half hole whether all of it is within the
// room that planes leave round the land.
func givesWay(p *checks.Pass, r *board.Relief, x *copper.Piece) bool {
	row := x.Row()
	if row == nil {
		return false
	}
	past := max(reachOf(p, r, x)-row.LandLength.Value, 0)
	return !above(math.Hypot(r.Beyond(p.Limits.MaskMargin()), past), p.Limits.Minimum("copper_clearance").Value)
}

// reachOf is how far in an opening of a relief goes.
func reachOf(p *checks.Pass, r *board.Relief, x *copper.Piece) float64 {
	over := ""
	if row := x.Row(); row != nil {
		over = row.Name.Text
	} else {
		over = x.Stretch().Plating.Name.Text
	}
	f, _ := survey(p).Face(x)
	return p.Board.ReachOver(r, over, f, p.Limits.MaskMargin())
}

// reliefAt is where a relief says how far it reaches, or where it does not its name.
func reliefAt(r *board.Relief) source.Place {
	if r.Reach.Given() {
		return r.Reach.At
	}
	return r.Name.At
}
