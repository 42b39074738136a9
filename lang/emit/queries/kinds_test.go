package queries

import (
	"fmt"
	"testing"

	"hemline/lang"
	"hemline/lang/langtest"
)

func TestEachKindAnswersQueries(t *testing.T) {
	langtest.EachKindShows(t, func(a *lang.Analysis) string {
		out := ""
		for _, r := range Ask(a.Board()) {
			out += fmt.Sprintln(r.Name, r.State)
			for _, p := range r.Parts {
				out += p.Text + "\n"
			}
		}
		return out
	}, map[string]string{
		"hem": "nothing to ask", "part": "a weight, for the report", "typical": "nothing itself; what is like it answers", "use": "the fabricator's own", "fabricator": "the fabricator's own", "accept": "findings are no queries",
		"hole": "nothing is asked of it", "feature": "the artwork's own copper", "note": "speaks of what statements answer here",
	})
}
