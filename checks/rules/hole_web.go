package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var holeWeb = &checks.Rule{
	Name: "hole_web", Group: checks.GroupShape, Category: finding.Unbuildable,
	Finds:  "The board left between two holes is less than `hole_web`: fence vias, plated and unplated holes, half holes, the holes of a tab's row, and those of a row and a cutout.",
	Why:    "Two drills so near each other wander into one hole, or leave a web that breaks out; a barrel beside it tears.",
	Limits: []string{"hole_web"},
	Source: "common practice, no single source",
	Bad:    platedWith("hole m1 diameter 2 mm at (20 mm, 15 mm) unplated", "hole m2 diameter 2 mm at (22.29 mm, 15 mm) unplated"),
	Good:   platedWith("hole m1 diameter 2 mm at (20 mm, 15 mm) unplated", "hole m2 diameter 2 mm at (22.3 mm, 15 mm) unplated"),
	Run:    runPairs("hole_web", nil),
}
