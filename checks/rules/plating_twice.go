package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var platingTwice = &checks.Rule{
	Name: "plating_twice", Group: checks.GroupPlating, Category: finding.Tidy,
	Finds:  "Two platings of one net run on one stretch and say nothing different of it.",
	Why:    "One of them is left over. A gap of one leaves nothing bare where the other runs, and what is changed in one is not changed in the other. Lengths and areas count the stretch once, for the plating that is stated first.",
	Source: "common practice, no source",
	Bad:    platedWith(secondWall("10 mm", "25 um")),
	Good:   platedWith(secondWall("10 mm", "25 um"), "gap apart of wall on east from 0 mm to 12 mm"),
	Run: func(p *checks.Pass) {
		eachTwice(p, func(t twice) {
			if len(t.differ) == 0 { // otherwise it is plating_conflict's
				t.report(p, "; one of them is enough")
			}
		})
	},
}
