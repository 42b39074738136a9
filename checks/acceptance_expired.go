package checks

import (
	"hemline/lang/board"
	"hemline/lang/finding"
)

var acceptanceExpired = &Rule{
	Name: "acceptance_expired", Group: GroupHouse, Category: finding.Risky,
	Finds:  "An `accept` is past its date; what it accepted is a finding again.",
	Why:    "A date is put on an acceptance so that somebody looks again. From the day after it on, the finding comes back beside this one.",
	Source: "common practice, no source",
	Bad:    platedWith("accept wrap_land on wall because \"agreed\" until \"2020-06-30\""),
	Good:   plated("wrap top 0.3 mm", "wrap bottom 0.8 mm") + "accept wrap_land on wall because \"agreed\" until \"2999-06-30\"\n",
	run: func(p *Pass) {
		for _, a := range p.Board.Acceptances {
			if p.expired(a) {
				p.report(a.Until.At, []string{a.On.Text}, "accepted until %s only; today is %s", a.Until.Text, p.today)
			}
		}
	},
}

// expired tells whether an acceptance is past its date. Dates are written so
// that they sort as text; where today is not known, nothing expires.
func (p *Pass) expired(a *board.Acceptance) bool {
	return p.today != "" && a.Until.Given() && a.Until.Text < p.today
}
