package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var platedShare = &checks.Rule{
	Name: "plated_share", Group: checks.GroupPlating, Category: finding.Risky,
	Finds:  "More of the outline is plated than `plated_share`.",
	Why:    "What stays bare is all that the panel can hold the board by while it is plated.",
	Limits: []string{"plated_share"},
	Source: "eight tabs of 3 mm on a board of 100 × 80 mm leave 93.3 % (computed); the rest common practice, no source",
	Bad:    shop("limit plated_share maximum 87 %") + shared("4 mm"),
	Good:   shop("limit plated_share maximum 88 %") + shared("4 mm"),
	Run: func(p *checks.Pass) {
		o := p.Board.Outline()
		if o == nil || allRound(p.Board) {
			return // all of it is plating_endless's
		}
		most := p.Limits.Maximum("plated_share")
		wall := p.Board.Finished(o)
		if len(wall.Plated) == 0 {
			return
		}
		pl := wall.Plated[0].Plating
		share := quantity.Number(wall.Share).As(quantity.Percent)
		if !held(p, wall.Share > most.Value+1e-12, func() checks.Margin {
			return checks.Margin{At: pl.Name.At, What: "plated part of the outline", Value: share, Limit: most, Against: most.Quantity, Most: true}
		}) {
			return
		}
		r := p.Report(pl.Name.At, []string{pl.Name.Text}, "%s", tooLarge("plated part of the outline", share, most))
		relatedLimit(r, most)
	},
}
