package rules

import (
	"hemline/checks"
	"hemline/checks/asked"
	"hemline/lang/finding"
)

var notVerified = &checks.Rule{
	Name: "not_verified", Group: checks.GroupHouse, Category: finding.Risky,
	Finds:  "The board asks for something that could not be worked out: a `shielding`, `class`, `current`, `rise`, `voltage` or `hazard` that is neither met nor short. Or a hole is stated, of which it is checked that it lies on the board and can be drilled, and no more.",
	Why:    "A clean check says that everything was held against everything, and all that was asked for answered. What is missing for an answer can be stated; where the wall is above 60 V, live or protective earth, clearances follow the safety standard that governs the product; what is beyond the formulas, and how near a hole and its land come to other copper, holes, tabs and edges, is for people to look at. Whoever has done so accepts the finding: on the hole, or on the clause, as `accept not_verified on board.shielding`.",
	Source: "the check's own limits",
	Bad:    platedWith("hole mount diameter 3.2 mm at (25 mm, 15 mm) unplated"),
	Good:   platedWith("hole mount diameter 3.2 mm at (25 mm, 15 mm) unplated", lookedAt),
	AllRun: true,
	Run: func(p *checks.Pass) {
		p.Answer(answersOf(p))
		for _, a := range answersOf(p) {
			if a.Verdict == asked.NotVerified {
				p.Report(a.At, []string{a.Item()}, "%s is asked for and not verified: %s", a.Says, a.Why)
			}
		}
		for _, h := range p.Board.Holes() {
			p.Report(h.Name.At, []string{h.Name.Text}, "how near hole %s comes to other copper, holes, tabs and edges is not checked; look at it, then accept this finding", h.Name.Text)
		}
	},
}

// lookedAt accepts what is not checked of a hole.
const lookedAt = "accept not_verified on mount because \"its surroundings were looked at\""
