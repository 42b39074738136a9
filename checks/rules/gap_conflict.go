package rules

import (
	"math"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var gapConflict = &checks.Rule{
	Name: "gap_conflict", Group: checks.GroupPlating, Category: finding.Risky,
	Finds:  "A tab or a connector opens a gap of its own, and the text says something else of the same stretch: a gap of that plating is stated there too, or the tab is premetallised, so that the copper runs on over it and nothing is opened.",
	Why:    "Two statements on one stretch part company with the next change, and a tab is either plated over or kept free: the shop must not have to choose.",
	Source: "common practice, no source",
	Bad:    platedWith("gap g of wall on west at 10 mm width 4 mm", "tab t4 on west at 10 mm width 3 mm solid opens margin 0.5 mm"),
	Good:   platedWith("tab t4 on west at 10 mm width 3 mm solid opens margin 0.5 mm"),
	Run: func(p *checks.Pass) {
		for _, t := range p.Board.Tabs() {
			if t.Opens != nil && t.Premetallised {
				p.Report(t.Opens.At, []string{t.Name.Text}, "tab %s is premetallised and opens a gap: the copper runs on over it, and nothing is opened; leave out one of the two", t.Name.Text)
			}
		}
		if len(p.Board.Gaps()) == len(p.Board.StatedGaps()) {
			return
		}
		stated := map[*board.Edge][]*board.Gap{}
		for _, g := range p.Board.StatedGaps() {
			stated[g.Edge] = append(stated[g.Edge], g)
		}
		for _, g := range p.Board.Gaps() {
			if !g.Opened() {
				continue
			}
			for _, x := range stated[g.Edge] {
				if x.Of.Text == g.Of.Text && share(x, g) {
					r := p.Report(g.Stretch, g.With(x.Name.Text), "%s is opened where gap %s of plating %s is stated too; leave out one of the two", g.Title(), x.Name.Text, g.Of.Text)
					related(r, x.Stretch, "the stated gap")
				}
			}
		}
	},
}

// share tells whether two gaps on one edge have a part of it in common.
func share(a, b *board.Gap) bool {
	shifts := []float64{0}
	if a.Edge.Closed {
		l := a.Edge.Length
		turns := math.Round((a.From-b.From)/l) * l
		shifts = []float64{turns - l, turns, turns + l}
	}
	for _, s := range shifts {
		if math.Min(a.To, b.To+s)-math.Max(a.From, b.From+s) > board.Tolerance {
			return true
		}
	}
	return false
}
