package rules

import (
	"hemline/checks"
	"hemline/lang/emit/queries"
	"hemline/lang/finding"
)

var leaveIdle = &checks.Rule{
	Name: "leave_idle", Group: checks.GroupHouse, Category: finding.Tidy,
	Finds:  "A `leave` names a query that a statement answers already: on the edges that it names, or anywhere where it names none; or leaves along some edges what is asked of the whole board. A query that is not asked of the board is not told of.",
	Why:    "The shop reads both, and cannot know which of them holds. What is asked of the whole board stays open where it is left for some edges. Of `continuity_limit` nothing is said: whether it is answered takes too long to work out while a text is typed.",
	Source: "the language's own",
	Bad:    platedWith(`leave tab_places to shop because "its usual frame"`),
	Good:   platedWith(`leave tab_places along west to shop because "one more where the frame needs it"`),
	Run: func(p *checks.Pass) {
		for _, x := range queries.Idles(p.Board) {
			if x.Whole {
				p.Report(x.Leave.Along[0].At, []string{x.Leave.Name.Text}, "%s is asked of the whole board; it is not left to the shop for some edges: leave it without along", x.Query.Text)
				continue
			}
			f := p.Report(x.Query.At, []string{x.Leave.Name.Text}, "%s is left to the shop, but the text answers it: %s", x.Query.Text, x.By.Text)
			related(f, x.By.At, "what answers it")
		}
	},
}
