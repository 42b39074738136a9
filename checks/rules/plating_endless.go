package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var platingEndless = &checks.Rule{
	Name: "plating_endless", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "The outline is plated all round, with nothing bare and no premetallised tab.",
	Why:    "The board is plated while it hangs in its panel. With no bare stretch for a tab, and no premetallised tab, nothing can hold it in the bath.",
	Source: "a fabricator's column on edge plating (trade magazine, March 2022): never the whole perimeter",
	Bad:    endless(""),
	Good:   endless("gap stop of wall on south at middle width 6 mm\ngap stop2 of wall on north at middle width 6 mm\ngap stop3 of wall on west at middle width 6 mm\n"),
	Run: func(p *checks.Pass) {
		o := p.Board.Outline()
		if o == nil || !allRound(p.Board) {
			return
		}
		s := p.Board.Wall(o).Plated[0]
		p.Report(alongAt(s.Plating, o, s.From).At, []string{s.Plating.Name.Text},
			"the outline is plated all round (%s): no bare stretch is left to hold the board by while it is plated, and no tab is premetallised", length(o.Path.Perimeter()))
	},
}

// allRound tells whether the outline has nothing to be held by: what is bare is so
// from the start, or by the root of a premetallised tab.
func allRound(b *board.Board) bool {
	return b.Finished(b.Outline()).Whole()
}
