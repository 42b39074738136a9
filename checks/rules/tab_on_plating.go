package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var tabOnPlating = &checks.Rule{
	Name: "tab_on_plating", Group: checks.GroupTabs, Category: finding.Unbuildable,
	Finds:  "A tab that is not premetallised stands on a plated stretch.",
	Why:    "Where a tab stands while the board is plated, the edge is not there to be plated: it comes away as a bare scar. Interrupt the plating there, or have the tab premetallised: the faces' copper then runs on over it, and its root is an opening that check reckons with.",
	Source: "a fabricator's column on edge plating (trade magazine, March 2022)",
	Bad:    platedWith("tab t4 on west at 10 mm width 3 mm solid"),
	Good:   platedWith("tab t4 on west at 10 mm width 3 mm solid premetallised"),
	Run: func(p *checks.Pass) {
		for _, t := range p.Board.Tabs() {
			if t.Premetallised {
				continue
			}
			from, to := t.Range()
			wall := p.Board.Wall(t.Edge.Profile)
			if board.Overlap(wall, from, to) <= board.Tolerance {
				continue
			}
			var pl *board.Plating
			wall.PlatedIn(from, to, func(s board.Stretch) { pl = s.Plating })
			f := p.Report(t.PositionAt, []string{t.Name.Text, pl.Name.Text}, "tab %s stands on the plating %s, %s from %s to %s; interrupt the plating there, or premetallise the tab",
				t.Name.Text, pl.Name.Text, t.Edge.Name, length(t.From(), t.Width), length(t.To(), t.Width))
			related(f, alongAt(pl, t.Edge.Profile, (from+to)/2).At, "the plating")
			f.Fix = intoGap(p, t)
		}
	},
}
