package rules

import (
	"slices"
	"strings"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/finding"
)

var tabMissing = &checks.Rule{
	Name: "tab_missing", Group: checks.GroupTabs, Category: finding.Costly,
	Finds:  "Edges are plated and the board says nothing on tabs: there is none, or none on the outline, since one in a cutout holds no board; and no `leave tab_places` that leaves them to the shop. Nothing is worked out from a note.",
	Why:    "The board must be held while it is plated, and where it is held it stays bare. A shop that finds no word on it asks, or chooses for you.",
	Source: "a fabricator's column on edge plating (trade magazine, March 2022): may we add tabs, and where?",
	Bad:    strings.TrimSuffix(plated(wholeWraps...), exampleTabs),
	Good:   strings.TrimSuffix(plated(wholeWraps...), exampleTabs) + "leave tab_places along south to shop because \"its usual frame\"\n",
	Run: func(p *checks.Pass) {
		stray, n := strayTabs(p.Board)
		if !p.Board.Plated() || n > 0 || leftToShop(p.Board) {
			return
		}
		pl := platedOn(p)[0]
		if len(stray) > 0 {
			r := p.Report(pl.Name.At, []string{pl.Name.Text}, "edges are plated, but nothing says what holds the board: %s in a cutout, which holds nothing; state tabs on the outline, or leave tab_places to the shop", standing(stray))
			for _, t := range stray {
				related(r, t.Name.At, "in a cutout")
			}
			return
		}
		p.Report(pl.Name.At, []string{pl.Name.Text}, "edges are plated, but nothing says what holds the board: state tabs, or leave tab_places to the shop")
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

// leftToShop tells whether the tabs of the outline are left to the shop, on one
// of its edges or all.
func leftToShop(b *board.Board) bool {
	return slices.ContainsFunc(b.Leaves(), func(l *board.Leave) bool {
		return l.Names("tab_places") && (len(l.Along) == 0 || slices.ContainsFunc(l.Along, func(a board.Along) bool { return !a.Edge.Profile.Cutout }))
	})
}

// standing says of some tabs that they stand: "tab t stands", "3 tabs stand".
func standing(tabs []*board.Tab) string {
	if len(tabs) == 1 {
		return "tab " + tabs[0].Name.Text + " stands"
	}
	return wording.Plural(len(tabs), "tab") + " stand"
}
