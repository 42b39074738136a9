package rules

import (
	"math"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var tabGapTight = &checks.Rule{
	Name: "tab_gap_tight", Group: checks.GroupTabs, Category: finding.Unbuildable,
	Finds:  "A tab that is not premetallised stands on a bare stretch, but plating starts nearer to it than `tab_gap`; or a half hole, or its land, is nearer to any tab.",
	Why:    "The router that frees the tab runs into the plating and tears it at the very place where it starts.",
	Limits: []string{"tab_gap"},
	Source: "common practice, no source",
	Bad:    platedWith("gap stop of wall on west at 10 mm width 3.9 mm", "tab t4 on west at 10 mm width 3 mm solid"),
	Good:   platedWith("gap stop of wall on west at 10 mm width 4 mm", "tab t4 on west at 10 mm width 3 mm solid"),
	Run: runPairs("tab_gap_tight", func(p *checks.Pass, s short, f *finding.Finding) {
		t := s.subject.Item.(*board.Tab)
		if g := gapRound(p, t); g != nil && math.Abs(min(t.From()-g.From, g.To-t.To())-along(g.Edge, t.Position, s.d)) <= 1 {
			f.Fix = widen(p, g, 2*(math.Abs(t.Position-(g.From+g.To)/2)+t.Width.Value/2+along(g.Edge, t.Position, s.need.Value)))
		}
	}),
}
