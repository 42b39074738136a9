package rules

import (
	"hemline/checks"
	"hemline/lang/emit/queries"
	"hemline/lang/finding"
)

var leaveIdle = &checks.Rule{
	Name: "leave_idle", Group: checks.GroupHouse, Category: finding.Tidy,
	Finds:  "A `leave` names a query that a statement answers already: on the edges that it names, or anywhere where it names none. A query that is not asked of the board is not told of.",
	Why:    "The shop reads both, and cannot know which of them holds.",
	Source: "the language's own",
	Bad:    platedWith(`leave tab_places to shop because "its usual frame"`),
	Good:   platedWith(`leave tab_places along west to shop because "one more where the frame needs it"`),
	Run: func(p *checks.Pass) {
		for _, x := range queries.Idles(p.Board) {
			f := p.Report(x.Query.At, []string{x.Leave.Name.Text}, "%s is left to the shop, but the text answers it: %s", x.Query.Text, x.By.Text)
			related(f, x.By.At, "what answers it")
		}
	},
}
