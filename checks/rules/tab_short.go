package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var tabShort = &checks.Rule{
	Name: "tab_short", Group: checks.GroupTabs, Category: finding.Unbuildable,
	Finds:  "A tab's `length` is less than the finest bit, `router_bit`.",
	Why:    "From the profile to the frame is the width of the slot that frees the board. The bit that cuts it is no narrower, or it cuts into the frame, or the board.",
	Limits: []string{"router_bit"},
	Source: "the bit's own width; common practice",
	Bad:    platedWith("tab t4 on north at 12 mm width 3 mm solid length 0.79 mm"),
	Good:   platedWith("tab t4 on north at 12 mm width 3 mm solid length 0.8 mm"),
	Run: func(p *checks.Pass) {
		least := p.Limits.Minimum("router_bit")
		for _, t := range p.Board.Tabs() {
			what := func() string { return "length of tab " + t.Name.Text + ", the slot from profile to frame," }
			if t.Length.Given() && lacks(p, least, t.Length.At, t.Length.Quantity, what) {
				f := p.Report(t.Length.At, []string{t.Name.Text}, "%s", tooSmall(what(), t.Length.Quantity, least))
				relatedLimit(f, least)
			}
		}
	},
}
