package rules

import (
	"math"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

var tabFacesBoard = &checks.Rule{
	Name: "tab_faces_board", Group: checks.GroupTabs, Category: finding.Unbuildable,
	Finds:  "Once the slots are cut, with whichever bit asks for least, what joins a tab to the frame outside the board (of a tab in a cutout, to what is cut out) is narrower somewhere than the tab's waist: its own slot, as wide as its `length`, those along the board's other edges across from it or beside it, or the throat of the pocket that it stands in leave no more.",
	Why:    "In a narrow notch or cutout, beside an inside corner or in a pocket no frame is left for a tab to reach: the slots cut it off, or leave frame weaker than the tab, and it holds nothing.",
	Limits: []string{"router_bit"},
	Source: "the passes themselves; that the frame should be as wide as the waist is our own judgement",
	Bad:    platedWith("cutout slit slot 12 mm by 3.79 mm at (25 mm, 22 mm)\ntab t4 on slit.rim at 5 mm width 3 mm solid"),
	Good:   platedWith("cutout slit slot 12 mm by 3.8 mm at (25 mm, 22 mm)\ntab t4 on slit.rim at 5 mm width 3 mm solid"),
	Run: func(p *checks.Pass) {
		least := p.Limits.Minimum("router_bit")
		bits := boardBits(p)
		for _, t := range p.Board.Tabs() {
			n := bits.Neck(t)
			if !n.Short() {
				continue
			}
			what := "the frame"
			if t.Edge.Profile.Cutout {
				what = "what is cut out"
			}
			width, waist := quantity.Pair(length(n.Width, t.Width), length(n.Waist, t.Width))
			says := "hangs on " + width + " of " + what
			if n.Width <= 0 {
				says = "is cut off from " + what
			}
			advice := ""
			if t.Length.Given() {
				advice = ", or make its length less"
			}
			f := p.Report(t.PositionAt, []string{t.Name.Text}, "tab %s %s at %s, between the slots that a bit of %s cuts there; as much as its own waist, %s, should be left: put it where the frame lies free before it%s",
				t.Name.Text, says, board.Coordinates(rounded(n.At)), length(n.Bit, t.Width), waist, advice)
			relatedLimit(f, least)
		}
	},
}

// placeGrain, nm, is how finely a place that is found by steps is told.
const placeGrain = 0.1e6

func rounded(p geom.Point) geom.Point {
	return geom.Point{X: math.Round(p.X/placeGrain) * placeGrain, Y: math.Round(p.Y/placeGrain) * placeGrain}
}
