package rules

import (
	"strings"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var tabMissing = &checks.Rule{
	Name: "tab_missing", Group: checks.GroupTabs, Category: finding.Costly,
	Finds:  "Edges are plated and the board says nothing on tabs: there is no tab, and no note with the word tab that leaves them to the shop; one on residue, length or removal of tabs does not count.",
	Why:    "The board must be held while it is plated, and where it is held it stays bare. A shop that finds no word on it asks, or chooses for you.",
	Source: "a fabricator's column on edge plating (trade magazine, March 2022): may we add tabs, and where?",
	Bad:    strings.TrimSuffix(plated(wholeWraps...), exampleTabs),
	Good:   strings.TrimSuffix(plated(wholeWraps...), exampleTabs) + "note \"tabs: left to the shop, on the south edge\"\n",
	Run: func(p *checks.Pass) {
		if !p.Board.Plated() || p.Board.States("tab") > 0 {
			return
		}
		if _, said := p.Board.Remark(board.AboutTabs); said {
			return
		}
		pl := platedOn(p)[0]
		p.Report(pl.Name.At, []string{pl.Name.Text}, "edges are plated, but nothing says what holds the board: state tabs, or a note such as \"tabs: left to the shop\"")
	},
}
