package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var notVerified = &checks.Rule{
	Name: "not_verified", Group: checks.GroupHouse, Category: finding.Risky,
	Finds:  "Something is stated that is not held against all that it may meet: a hole, of which it is checked that it lies on the board and can be drilled, and no more.",
	Why:    "A clean check says that everything was held against everything. How near a hole and its land come to other copper, holes, tabs and edges is for people to look at; whoever has done so accepts this finding.",
	Source: "the check's own limits",
	Bad:    platedWith("hole mount diameter 3.2 mm at (25 mm, 15 mm) unplated"),
	Good:   platedWith("hole mount diameter 3.2 mm at (25 mm, 15 mm) unplated", lookedAt),
	Run: func(p *checks.Pass) {
		for _, h := range p.Board.Holes() {
			p.Report(h.Name.At, []string{h.Name.Text}, "how near hole %s comes to other copper, holes, tabs and edges is not checked; look at it, then accept this finding", h.Name.Text)
		}
	},
}

// lookedAt accepts what is not checked of a hole.
const lookedAt = "accept not_verified on mount because \"its surroundings were looked at\""
