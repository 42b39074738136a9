package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var tabCount = &checks.Rule{
	Name: "tab_count", Group: checks.GroupTabs, Category: finding.Risky,
	Finds:  "There are fewer tabs than `tab_count`.",
	Why:    "Two tabs are a line that the board turns about; one is a hinge.",
	Limits: []string{"tab_count"},
	Source: "common practice, no source",
	Bad:    shop("limit tab_count minimum 4") + platedWith(),
	Good:   platedWith(),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("tab_count")
		n := float64(p.Board.States("tab"))
		if n == 0 || n >= need.Value || len(p.Board.Tabs()) == 0 {
			return
		}
		first := p.Board.Tabs()[0]
		f := p.Report(first.Name.At, []string{first.Name.Text}, "%s", tooSmall("number of tabs", quantity.Number(n), need))
		relatedLimit(f, need)
	},
}
