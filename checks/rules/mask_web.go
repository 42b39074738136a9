package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var maskWeb = &checks.Rule{
	Name: "mask_web", Group: checks.GroupMask, Category: finding.Risky,
	Finds:  "The mask left between a relief's opening and the next opening, or a feature's own, is under `mask_web`.",
	Why:    "A sliver of mask narrower than the shop can hold comes off in the bath and lands where it bridges or hides a joint. A feature's own opening is taken as its copper with `mask_margin` round it; one of the wall's net that lies in the opening is not meant. The openings of one face lie in one image and move together with it, so the mask left between two is as drawn, whatever the tolerance of `mask`.",
	Limits: []string{"mask_web", "mask_margin"},
	Source: "0.076 to 0.15 mm in fabricators' design rules",
	Bad:    platedWith("relief lid over wall on top bottom reach 0.9 mm", "feature c7 on top rectangle 1 mm by 1 mm at (1.57 mm, 15 mm) net V5"),
	Good:   platedWith("relief lid over wall on top bottom reach 0.9 mm", "feature c7 on top rectangle 1 mm by 1 mm at (1.58 mm, 15 mm) net V5"),
	Run:    runPairs("mask_web", nil),
}
