package rules

import (
	"hemline/checks"
	"hemline/checks/asked"
	"hemline/lang/finding"
)

var notVerified = &checks.Rule{
	Name: "not_verified", Group: checks.GroupHouse, Category: finding.Risky,
	Finds:  "The board asks for something that could not be worked out: a `shielding`, `class`, `current`, `rise`, `voltage` or `hazard` that is neither met nor short.",
	Why:    "A clean check says that everything was held against everything, and all that was asked for answered. What is missing for an answer can be stated; where the wall is above 60 V, live or protective earth, clearances follow the safety standard that governs the product; what is beyond the formulas is for people to look at. Whoever has done so accepts the finding on the clause, as `accept not_verified on board.shielding`.",
	Source: "the check's own limits",
	Bad:    radio2("voltage 61 V"),
	Good:   radio2("voltage 60 V"),
	AllRun: true,
	NoWay:  "nothing in the text bears on it: agree with the shop how it is measured, or accept it",
	Run: func(p *checks.Pass) {
		p.Answer(answersOf(p))
		if i := p.Board.Info(); i != nil && i.Faulty {
			return // what cannot be read is reported, and may be what is missing
		}
		for _, a := range answersOf(p) {
			if a.Verdict == asked.NotVerified {
				p.Report(a.At, []string{a.Item()}, "%s is asked for and not verified: %s", a.Says, a.Why)
			}
		}
	},
}
