package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var tabCount = &checks.Rule{
	Name: "tab_count", Group: checks.GroupTabs, Category: finding.Risky,
	Finds:  "There are fewer tabs on the outline than `tab_count`. A tab in a cutout holds no board and does not count.",
	Why:    "Two tabs are a line that the board turns about; one is a hinge.",
	Limits: []string{"tab_count"},
	Source: "common practice, no source",
	Bad:    shop("limit tab_count minimum 6") + platedWith(),
	Good:   platedWith(),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("tab_count")
		stray, n := strayTabs(p.Board)
		if !p.Weighs() && float64(n) >= need.Value || len(p.Board.Tabs()) == 0 {
			return
		}
		if n == 0 && (p.Board.Plated() || leftToShop(p.Board)) {
			return // tab_missing's, or the shop's
		}
		what := "number of tabs"
		if len(stray) > 0 {
			what += " on the outline, where " + standing(stray) + " in a cutout and " + plural(len(stray), "does", "do") + " not hold the board,"
		}
		first := p.Board.Tabs()[0]
		if !held(p, float64(n) < need.Value, func() checks.Margin {
			return checks.Margin{At: first.Name.At, What: what, Value: quantity.Number(float64(n)), Of: "tab", Limit: need, Against: need.Quantity}
		}) {
			return
		}
		f := p.Report(first.Name.At, []string{first.Name.Text}, "%s", tooSmall(what, quantity.Number(float64(n)), need))
		relatedLimit(f, need)
	},
}
