package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

var toleranceFine = &checks.Rule{
	Name: "tolerance_fine", Group: checks.GroupBoard, Category: finding.Unbuildable,
	Finds: "A tolerance is stated finer than the shop holds it.",
	Why:   "What is agreed and cannot be held is sorted out at the shop's expense, or sent back at yours: ask what it would take, or allow what it holds.",
	Limits: []string{"tolerance_outline", "tolerance_thickness", "tolerance_gaps", "tolerance_cutouts", "tolerance_holes", "tolerance_half_holes",
		"tolerance_position", "tolerance_mask"},
	Source: "fabricators' capability tables; common practice, no source",
	Bad:    platedWith("tolerance { outline 0.09 mm }"),
	Good:   platedWith("tolerance { outline 0.1 mm }"),
	Run: func(p *checks.Pass) {
		for _, c := range syntax.StatementNamed("tolerance").Clauses {
			v := p.Board.ToleranceOf(c.Word)
			if !v.Given() {
				continue
			}
			need, stated, what := p.Limits.Minimum("tolerance_"+c.Word), v.Quantity, "tolerance of "+toleranceOf[c.Word]
			if c.Word == "thickness" && v.Dim == quantity.Length {
				t, known := p.Board.Thickness()
				if !known || t.Value <= board.Tolerance {
					continue // of what it would be a share is not stated
				}
				stated = quantity.Number(v.Value / t.Value).As(quantity.Percent)
				what = fmt.Sprintf("%s, %s,", what, v.Quantity)
			}
			least := 1e-12 // of a share
			if stated.Dim == quantity.Length {
				least = board.Tolerance
			}
			if !held(p, stated.Value < need.Value-least, func() checks.Margin {
				return checks.Margin{At: v.At, What: what, Value: stated, Limit: need, Against: need.Quantity}
			}) {
				continue
			}
			f := p.Report(v.At, []string{"tolerance"}, "%s", tooSmall(what, stated, need))
			relatedLimit(f, need)
		}
	},
}

// toleranceOf says what the clauses of tolerance are about.
var toleranceOf = map[string]string{"outline": "the outline", "thickness": "the thickness", "gaps": "plated stretches' ends", "cutouts": "cutouts",
	"holes": "holes", "half_holes": "half holes", "position": "positions", "mask": "mask openings"}
