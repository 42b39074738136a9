package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var bodyClearance = &checks.Rule{
	Name: "body_clearance", Group: checks.GroupConnectors, Category: finding.Risky,
	Finds:  "The bodies of two connectors come nearer to each other than `body_clearance`, or overlap.",
	Why:    "Parts that touch do not seat, and their mates reach farther out than they do.",
	Limits: []string{"body_clearance"},
	Source: "common practice, no single source",
	Bad:    unplated("connector j1 on west at 9 mm { body 6 mm }", "connector j2 on west at 15.4 mm { body 6 mm }"),
	Good:   unplated("connector j1 on west at 9 mm { body 6 mm }", "connector j2 on west at 15.5 mm { body 6 mm }"),
	Run:    runPairs("body_clearance", nil),
}

// unplated is a board without plating that has more statements.
func unplated(statements ...string) string {
	text := exampleHead
	for _, s := range statements {
		text += s + "\n"
	}
	return text
}
