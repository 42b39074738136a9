package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var tiesMeet = &checks.Rule{
	Name: "ties_meet", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "On one layer a plating's own copper comes nearer than `inner_clearance` to that of another net's wall, or to a plane's where it runs to one; or two planes meet where they run to walls.",
	Why:    "Walls that the edge keeps apart are shorted inside the board.",
	Limits: []string{"inner_clearance"},
	Source: "0.25 to 0.8 mm in fabricators' published rules on edge plating; common practice",
	Bad:    lined("5.19 mm"),
	Good:   lined("5.2 mm"),
	Run:    runPairs("ties_meet", nil),
}

// lined is a board with a plane that runs to its walls, and an opening whose
// plating has a strip of copper of its own on that layer.
func lined(x string) string {
	return shop("offers edge_plating plated_cutouts", "limit inner_clearance minimum 0.2 mm") + layered(platedWith(
		"plane on ground net GND pullback 1.7 mm",
		"cutout window rectangle 6 mm by 6 mm corner 1 mm at ("+x+", 15 mm)",
		"plating lining {\n  along window.west window.east window.north window.south\n  net V5\n  copper 25 um\n  extend 0.1 mm\n  wrap top 0.8 mm\n  wrap bottom 0.8 mm\n  layers ground\n}",
		"accept plane_untied on lining because \"its copper there is its own; no plane is meant\""))
}
