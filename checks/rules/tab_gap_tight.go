package rules

import (
	"fmt"
	"math"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var tabGapTight = &checks.Rule{
	Name: "tab_gap_tight", Group: checks.GroupTabs, Category: finding.Unbuildable,
	Finds:  "A tab that is not premetallised stands on a bare stretch, but plating starts nearer to its side than `tab_gap`.",
	Why:    "The router that frees the tab runs into the plating and tears it at the very place where it starts.",
	Limits: []string{"tab_gap"},
	Source: "common practice, no source",
	Bad:    platedWith("gap stop of wall on west at 10 mm width 3.9 mm", "tab t4 on west at 10 mm width 3 mm solid"),
	Good:   platedWith("gap stop of wall on west at 10 mm width 4 mm", "tab t4 on west at 10 mm width 3 mm solid"),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("tab_gap")
		for _, t := range p.Board.Tabs() {
			if t.Premetallised {
				continue
			}
			from, to := figures.TabRange(t)
			wall := p.Board.Wall(t.Edge.Profile)
			if board.Overlap(wall, from, to) > board.Tolerance {
				continue // tab_on_plating's
			}
			least, beside := need.Value, (*board.Plating)(nil)
			wall.PlatedIn(from-need.Value, to+need.Value, func(s board.Stretch) {
				if d := figures.Apart(from, to, s.From, s.To, t.Edge.Profile.Path.Perimeter()); below(d, least) {
					least, beside = d, s.Plating
				}
			})
			if beside == nil {
				continue
			}
			f := p.Report(t.PositionAt, []string{t.Name.Text, beside.Name.Text}, "%s",
				tooSmall(fmt.Sprintf("bare edge between tab %s and the plating %s", t.Name.Text, beside.Name.Text), length(least, t.Width), need))
			related(f, beside.Name.At, "the plating")
			relatedLimit(f, need)
			if g := gapRound(p, t); g != nil && math.Abs(min(t.From()-g.From, g.To-t.To())-least) <= 1 {
				f.Fix = widen(p, g, 2*(math.Abs(t.Position-(g.From+g.To)/2)+t.Width.Value/2+need.Value))
			}
		}
	},
}
