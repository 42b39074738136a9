package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var castellationSpacing = &checks.Rule{
	Name: "castellation_spacing", Group: checks.GroupHalfHoles, Category: finding.Unbuildable,
	Finds:  "The board left between neighbouring half holes, of one row or of two on an edge, is less than `castellation_spacing`.",
	Why:    "What is left between two barrels breaks out with them, and their solder bridges.",
	Limits: []string{"castellation_spacing"},
	Source: "0.4 to 0.6 mm in fabricators' guides on half holes",
	Bad:    exampleHead + "castellation row on west from 5 mm to 20 mm pitch 1.5 mm hole 1 mm land 1.6 mm by 1.2 mm net GND\n",
	Good:   exampleHead + "castellation row on west from 5 mm to 20 mm pitch 1.55 mm hole 1 mm land 1.6 mm by 1.2 mm net GND\n",
	Run:    runPairs("castellation_spacing", nil),
}
