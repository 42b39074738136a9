package syntax

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Each word from elsewhere is none of the statement's own, and leads to one that is.
func TestWordsFromElsewhere(t *testing.T) {
	for holder, here := range elsewhere {
		own, all := words(vocabulary), words(vocabulary)
		if holder != "" {
			own, all = words(StatementNamed(holder).Clauses), clauseWords(StatementNamed(holder))
		}
		for word, now := range here {
			assert.False(t, slices.Contains(own, word), "%s %s is the language's own", holder, word)
			assert.True(t, now == "" || slices.Contains(all, now), "%s %s leads to %s", holder, word, now)
		}
	}
}
