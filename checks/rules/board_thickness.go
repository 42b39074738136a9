package rules

import (
	"strings"

	"hemline/checks"
	"hemline/lang/finding"
)

var boardThickness = &checks.Rule{
	Name: "board_thickness", Group: checks.GroupBoard, Category: finding.Unbuildable,
	Finds:  "An edge is plated and the finished thickness (the stack summed, or `thickness`) is outside the limits.",
	Why:    "A thin board bends in the bath and cracks its wall; a thick one does not plate evenly over its height.",
	Limits: []string{"board_thickness"},
	Source: "0.6 to 0.8 mm at the least, 3.2 to 5.1 mm at the most; common practice",
	Bad:    strings.Replace(platedWith(), "thickness 1.6 mm", "thickness 3.3 mm", 1),
	Good:   platedWith(),
	Run: func(p *checks.Pass) {
		t, ok := p.Board.Thickness()
		if !ok || !p.Board.Plated() || p.Board.Stack() != nil && p.Board.Stack().Faulty {
			return
		}
		least, most := p.Limits.Minimum("board_thickness"), p.Limits.Maximum("board_thickness")
		what := func() string { return "finished thickness" }
		thin, thick := lacks(p, least, t.At, t.Quantity, what), exceeds(p, most, t.At, t.Quantity, what)
		if !thin && !thick {
			return
		}
		var on []string
		if p.Board.Info() != nil {
			on = append(on, p.Board.Info().Name.Text)
		} else {
			on = append(on, platedOn(p)[0].Name.Text)
		}
		if thin {
			relatedLimit(p.Report(t.At, on, "%s", tooSmall("finished thickness", t.Quantity, least)), least)
		} else {
			relatedLimit(p.Report(t.At, on, "%s", tooLarge("finished thickness", t.Quantity, most)), most)
		}
	},
}
