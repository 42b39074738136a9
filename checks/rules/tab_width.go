package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var tabWidth = &checks.Rule{
	Name: "tab_width", Group: checks.GroupTabs, Category: finding.Unbuildable,
	Finds:  "A tab's width is outside the limits for its kind, `tab_width_solid` or `tab_width_perforated`.",
	Why:    "A narrow tab lets go in the bath; a wide one leaves a scar, or does not fit the tool that frees it.",
	Limits: []string{"tab_width_solid", "tab_width_perforated"},
	Source: "solid 1.5 to 3 mm, common practice; perforated up to 3 mm for a tool's jaw in a published test series, 2.5 to 5 mm in common practice",
	Bad:    platedWith("tab t4 on north at 15 mm width 3.1 mm solid"),
	Good:   platedWith("tab t4 on north at 15 mm width 3 mm solid"),
	Run: func(p *checks.Pass) {
		for _, t := range p.Board.Tabs() {
			limit := "tab_width_solid"
			if t.Perforated {
				limit = "tab_width_perforated"
			}
			least, most := p.Limits.Minimum(limit), p.Limits.Maximum(limit)
			on := []string{t.Name.Text}
			what := func() string { return "width of tab " + t.Name.Text }
			switch narrow, wide := lacks(p, least, t.Width.At, t.Width.Quantity, what), exceeds(p, most, t.Width.At, t.Width.Quantity, what); {
			case narrow:
				f := p.Report(t.Width.At, on, "%s", tooSmall(what(), t.Width.Quantity, least))
				relatedLimit(f, least)
			case wide:
				f := p.Report(t.Width.At, on, "%s", tooLarge(what(), t.Width.Quantity, most))
				relatedLimit(f, most)
			}
		}
	},
}
