package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var copperClearance = &checks.Rule{
	Name: "copper_clearance", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "Two coppers of two nets on one layer come nearer to each other than `copper_clearance`, where no other limit speaks of them: features, pins, lands, vias, plated holes, half holes.",
	Why:    "What is nearer than the shop can etch apart is one net on the board. Copper with no net counts as another net; what one statement states is of one.",
	Limits: []string{"copper_clearance"},
	Source: "common practice, no single source",
	Bad:    platedWith("feature c7 on top rectangle 1 mm by 1 mm at (20 mm, 15 mm) net V5", "feature c8 on top rectangle 1 mm by 1 mm at (21.14 mm, 15 mm) net V3", shop("limit mask_margin minimum 0 mm")),
	Good:   platedWith("feature c7 on top rectangle 1 mm by 1 mm at (20 mm, 15 mm) net V5", "feature c8 on top rectangle 1 mm by 1 mm at (21.15 mm, 15 mm) net V3", shop("limit mask_margin minimum 0 mm")),
	Run:    runPairs("copper_clearance", nil),
}
