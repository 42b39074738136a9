package rules

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/syntax"
)

// Every word that may stand in a file is told of, and none that may not is sent
// to one that has nothing to do with it.
func TestExplainKnowsEveryWord(t *testing.T) {
	words := []string{syntax.Middle, "south", "east", "north", "west", "rim"}
	words = append(append(append(words, syntax.Keywords()...), syntax.Offers...), syntax.Queries...)
	var walk func(s *syntax.Spec)
	walk = func(s *syntax.Spec) {
		for _, a := range s.Args {
			if !slices.Contains([]syntax.ValueKind{syntax.VRef, syntax.VQuantity}, a.Kind) {
				words = append(words, a.Words...)
			}
		}
		for _, c := range s.Clauses {
			walk(c)
		}
	}
	for _, s := range syntax.Vocabulary() {
		walk(s)
	}
	for _, w := range words {
		text, ok := All().Explain(w)
		assert.True(t, ok && text != "", "%s: %s", w, text)
	}
	for word, want := range map[string]string{
		"drill":     "nothing is called drill here; did you mean diameter or hole?",
		"keepout":   "nothing is called keepout here; did you mean pullback?",
		"frame":     "nothing is known of \"frame\"; `hemline explain` lists what is",
		"lid":       "nothing is known of \"lid\"; `hemline explain` lists what is",
		"wrap_lnad": "nothing is known of \"wrap_lnad\"; did you mean wrap_land?",
		"midle":     "nothing is known of \"midle\"; did you mean middle?",
	} {
		text, ok := All().Explain(word)
		assert.False(t, ok, word)
		assert.Equal(t, want, text)
	}
}

// What the trade calls so elsewhere has a name here that is one.
func TestWordsFromElsewhereLeadToWordsOfTheLanguage(t *testing.T) {
	for _, word := range []string{"drill", "pad", "core", "npth", "rev", "radius", "edges", "shop", "offset"} {
		now, told := syntax.Elsewhere(word)
		assert.True(t, told && len(now) > 0, word)
		for _, w := range now {
			assert.True(t, syntax.IsKeyword(w), "%s leads to %s", word, w)
		}
	}
}
