package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var acceptanceUnused = &checks.Rule{
	Name: "acceptance_unused", Group: checks.GroupHouse, Category: finding.Tidy,
	Finds:  "An `accept` silences nothing: no finding of its rule is on the name it gives.",
	Why:    "What was agreed has been mended, or was never there; a stale acceptance hides the next finding of the kind.",
	Source: "common practice, no source",
	Bad:    platedWith("accept wrap_land on wall because \"agreed with the shop\""),
	Good:   plated("wrap top 0.3 mm", "wrap bottom 0.8 mm") + "accept wrap_land on wall because \"agreed with the shop\"\n",
	AllRun: true,
	Run: func(p *checks.Pass) {
		for _, a := range p.Board.Acceptances() {
			if !p.Knows(a.Name.Text) || p.Expired(a) || p.Silences(a) {
				continue
			}
			p.Report(a.Name.At, []string{a.On.Text}, "there is no finding of %s on %s to accept", a.Name.Text, a.On.Text)
		}
	},
}
