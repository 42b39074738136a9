package rules

import (
	"strings"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/finding"
)

var tabMissing = &checks.Rule{
	Name: "tab_missing", Group: checks.GroupTabs, Category: finding.Costly,
	Finds:  "Edges are plated and the board says nothing on tabs: there is none, or none on the outline, since one in a cutout holds no board; and no note with the word tab that leaves them to the shop; one on residue, length or removal of tabs does not count.",
	Why:    "The board must be held while it is plated, and where it is held it stays bare. A shop that finds no word on it asks, or chooses for you.",
	Source: "a fabricator's column on edge plating (trade magazine, March 2022): may we add tabs, and where?",
	Bad:    strings.TrimSuffix(plated(wholeWraps...), exampleTabs),
	Good:   strings.TrimSuffix(plated(wholeWraps...), exampleTabs) + "note \"tabs: left to the shop, on the south edge\"\n",
	Run: func(p *checks.Pass) {
		stray, n := strayTabs(p.Board)
		if !p.Board.Plated() || n > 0 || leftToShop(p.Board) {
			return
		}
		pl := platedOn(p)[0]
		if len(stray) > 0 {
			r := p.Report(pl.Name.At, []string{pl.Name.Text}, "edges are plated, but nothing says what holds the board: %s in a cutout, which holds nothing; state tabs on the outline, or a note such as \"tabs: left to the shop\"", standing(stray))
			for _, t := range stray {
				related(r, t.Name.At, "in a cutout")
			}
			return
		}
		p.Report(pl.Name.At, []string{pl.Name.Text}, "edges are plated, but nothing says what holds the board: state tabs, or a note such as \"tabs: left to the shop\"")
	},
}

// strayTabs lists the tabs that stand in cutouts; others counts those that do
// not, or that cannot be read. A tab in a cutout holds what is cut out, not the board.
func strayTabs(b *board.Board) (stray []*board.Tab, others int) {
	for _, t := range b.Tabs() {
		if t.Edge.Profile.Cutout {
			stray = append(stray, t)
		}
	}
	return stray, b.States("tab") - len(stray)
}

// leftToShop tells whether a note leaves the tabs to the shop.
func leftToShop(b *board.Board) bool {
	_, said := b.Remark(board.AboutTabs)
	return said
}

// standing says of some tabs that they stand: "tab t stands", "3 tabs stand".
func standing(tabs []*board.Tab) string {
	if len(tabs) == 1 {
		return "tab " + tabs[0].Name.Text + " stands"
	}
	return wording.Plural(len(tabs), "tab") + " stand"
}
