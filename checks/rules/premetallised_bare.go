package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var premetallisedBare = &checks.Rule{
	Name: "premetallised_bare", Group: checks.GroupTabs, Category: finding.Unbuildable,
	Finds:  "A premetallised tab stands where no plating runs, or not one plating over all of its root.",
	Why:    "The copper of both faces is to run on over the tab into the frame: where a gap leaves none there is none to run on, and over a tab between two platings it would join them in the panel.",
	Source: "common practice, no source",
	Bad:    platedWith("gap g of wall on west at 10 mm width 4 mm", "tab t4 on west at 10 mm width 3 mm solid premetallised"),
	Good:   platedWith("tab t4 on west at 10 mm width 3 mm solid premetallised"),
	Run: func(p *checks.Pass) {
		for _, t := range p.Board.Tabs() {
			if !t.Premetallised {
				continue
			}
			from, to := t.Range()
			most, of := 0.0, map[*board.Plating]float64{}
			p.Board.Wall(t.Edge.Profile).PlatedIn(from, to, func(s board.Stretch) {
				for part := range s.Parts(from, to) {
					of[s.Plating] += part.Length()
				}
				most = max(most, of[s.Plating])
			})
			switch {
			case to-from-most <= board.Tolerance:
			case most <= board.Tolerance:
				p.Report(t.PositionAt, []string{t.Name.Text}, "tab %s is premetallised, and nothing is plated where it stands: there is no copper to run on over it", t.Name.Text)
			default:
				p.Report(t.PositionAt, []string{t.Name.Text}, "tab %s is premetallised, and one plating runs along %s of its %s alone: the copper cannot run on over all of it",
					t.Name.Text, length(most, t.Width), length(to-from, t.Width))
			}
		}
	},
}
