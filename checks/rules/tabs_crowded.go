package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var tabsCrowded = &checks.Rule{
	Name: "tabs_crowded", Group: checks.GroupTabs, Category: finding.Unbuildable,
	Finds:  "Two tabs stand over each other, or nearer to each other on one profile than the smallest `router_bit`.",
	Why:    "The bit must pass between two tabs, or they are one tab, wider than either says.",
	Limits: []string{"router_bit"},
	Source: "the bit's own width; common practice",
	Bad:    platedWith("tab t4 on south at 13.79 mm width 3 mm solid"),
	Good:   platedWith("tab t4 on south at 13.8 mm width 3 mm solid"),
	Run:    runPairs("tabs_crowded", nil),
}
