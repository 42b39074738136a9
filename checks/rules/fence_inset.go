package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var fenceInset = &checks.Rule{
	Name: "fence_inset", Group: checks.GroupFence, Category: finding.Risky,
	Finds:  "The edge of a fence's holes lies nearer than `fence_inset` to the profile.",
	Why:    "A hole too near the edge breaks out when the board is routed, and on a plated edge its barrel meets the wall's.",
	Limits: []string{"fence_inset"},
	Source: "common practice, no source",
	Bad:    platedWith("fence f along south inset 0.64 mm pitch 2 mm hole 0.3 mm net GND"),
	Good:   platedWith("fence f along south inset 0.65 mm pitch 2 mm hole 0.3 mm net GND"),
	Run:    runPairs("fence_inset", nil),
}
