package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var acceptanceExpired = &checks.Rule{
	Name: "acceptance_expired", Group: checks.GroupHouse, Category: finding.Risky,
	Finds:  "An `accept` is past its date; what it accepted is a finding again.",
	Why:    "A date is put on an acceptance so that somebody looks again. From the day after it on, the finding comes back beside this one.",
	Source: "common practice, no source",
	Bad:    platedWith("accept wrap_land on wall because \"agreed\" until \"2020-06-30\""),
	Good:   plated("wrap top 0.3 mm", "wrap bottom 0.8 mm") + "accept wrap_land on wall because \"agreed\" until \"2999-06-30\"\n",
	AllRun: true,
	Run: func(p *checks.Pass) {
		for _, a := range p.Board.Acceptances() {
			if p.Expired(a) {
				p.Report(a.Until.At, acceptedItems(a, a.On[0]), "the acceptance of %s on %s held until %s; today is %s: agree on a later day, or mend what it accepts", a.Name.Text, finding.Parties(acceptedItems(a, a.On[0])), a.Until.Text, p.Today)
			}
		}
	},
}
