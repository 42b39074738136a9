package lang_test

import (
	"slices"
	"strings"
	"testing"

	"hemline/lang"
	"hemline/lang/langtest"
)

// A kind that is new has a fact, so that texts can state what it means.
func TestEachKindHasAFact(t *testing.T) {
	langtest.EachKindShows(t, func(a *lang.Analysis) string {
		var out []string
		for kind, facts := range factKinds {
			out = append(out, kind+": "+strings.Join(facts(a.Board()), "; "))
		}
		slices.Sort(out)
		return strings.Join(out, "\n")
	}, map[string]string{"hem": "has no meaning but to be 1"})
}
