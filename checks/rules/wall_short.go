package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var wallShort = &checks.Rule{
	Name: "wall_short", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "A via, a plated hole or another wall, of another net, comes nearer than `inner_clearance` to a plated stretch, or to a plating's own copper on an inner layer.",
	Why:    "A wall goes through the whole board, and so does a barrel: what parts them is laminate that both are drilled and routed into, with the tolerance of both. Too near, they short in the plating bath.",
	Limits: []string{"inner_clearance"},
	Source: "0.25 to 0.8 mm in fabricators' published rules on edge plating; common practice",
	Bad:    platedWith("hole feed diameter 1 mm at (1.65 mm, 20 mm) plated net V5", shop("limit inner_clearance minimum 1.2 mm")),
	Good:   platedWith("hole feed diameter 1 mm at (2 mm, 20 mm) plated net V5"),
	Run:    runPairs("wall_short", nil),
}
