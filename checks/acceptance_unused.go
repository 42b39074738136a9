package checks

import (
	"hemline/lang/board"
	"hemline/lang/finding"
	"slices"
)

var acceptanceUnused = &Rule{
	Name: "acceptance_unused", Group: GroupHouse, Category: finding.Tidy,
	Finds:  "An `accept` silences nothing: no finding of its rule is on the name it gives.",
	Why:    "What was agreed has been mended, or was never there; a stale acceptance hides the next finding of the kind.",
	Source: "common practice, no source",
	Bad:    platedWith("accept wrap_land on wall because \"agreed with the shop\""),
	Good:   plated("wrap top 0.3 mm", "wrap bottom 0.8 mm") + "accept wrap_land on wall because \"agreed with the shop\"\n",
	run: func(p *Pass) {
		for _, a := range p.Board.Acceptances {
			if !p.known(a.Name.Text) || p.expired(a) || p.silences(a) {
				continue
			}
			p.report(a.Name.At, []string{a.On.Text}, "there is no finding of %s on %s to accept", a.Name.Text, a.On.Text)
		}
	},
}

// silences tells whether any finding so far is one that an acceptance accepts.
func (p *Pass) silences(a *board.Acceptance) bool {
	return slices.ContainsFunc(p.found, func(f finding.Finding) bool { return accepts(a, f) })
}

// accepts tells whether a finding is what an acceptance speaks of.
func accepts(a *board.Acceptance, f finding.Finding) bool {
	return f.Category != finding.Language && a.Name.Text == f.Rule && slices.Contains(f.On, a.On.Text)
}
