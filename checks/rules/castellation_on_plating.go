package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var castellationOnPlating = &checks.Rule{
	Name: "castellation_on_plating", Group: checks.GroupHalfHoles, Category: finding.Unbuildable,
	Finds:  "A half hole of another net stands on a plated stretch, or nearer to one than `gap_width`.",
	Why:    "Barrel and wall are plated in one pass: nothing parts them but the bare board that the final router needs between them.",
	Limits: []string{"gap_width"},
	Source: "the gap is cut by the final router bit, 1 to 3 mm; common practice",
	Bad:    platedWith("gap g of wall on west from 5 mm to 15 mm", "castellation row on west from 7.4 mm to 12 mm pitch 2 mm hole 1 mm land 1.6 mm by 1.2 mm net V5"),
	Good:   platedWith("gap g of wall on west from 5 mm to 15 mm", "castellation row on west from 7.5 mm to 12 mm pitch 2 mm hole 1 mm land 1.6 mm by 1.2 mm net V5"),
	Run:    runPairs("castellation_on_plating", nil),
}
