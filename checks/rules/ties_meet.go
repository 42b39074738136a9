package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var tiesMeet = &checks.Rule{
	Name: "ties_meet", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "On one layer the copper by which two walls of two nets join it meets.",
	Why:    "Walls that the edge keeps apart are shorted inside the board.",
	Source: "common practice, no source",
	Bad: layered(platedWith("plating supply {\n  along north from 0.6 mm to 49.5 mm\n  net V5\n  copper 25 um\n  extend 0.1 mm\n  wrap top 0.4 mm\n  wrap bottom 0.4 mm\n  layers power\n}",
		"plane on power net V5 pullback 1 mm", "plane on ground net GND pullback 1 mm")),
	Good: layered(platedWith("plane on ground net GND pullback 1 mm")),
	Run:  runPairs("ties_meet", nil),
}
