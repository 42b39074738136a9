package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var holeEdge = &checks.Rule{
	Name: "hole_edge", Group: checks.GroupShape, Category: finding.Risky,
	Finds:  "A hole comes nearer than `hole_edge` to an edge of the board or of a cutout, plated or bare.",
	Why:    "What is left between a drill and the rout breaks out, and beside a plated edge the wall with it.",
	Limits: []string{"hole_edge"},
	Source: "common practice, no single source",
	Bad:    platedWith("hole mount diameter 3 mm at (25 mm, 1.9 mm) unplated"),
	Good:   platedWith("hole mount diameter 3 mm at (25 mm, 2 mm) unplated"),
	Run:    runPairs("hole_edge", nil),
}
