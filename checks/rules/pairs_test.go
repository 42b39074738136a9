package rules

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/checks"
	"hemline/lang/copper"
)

// Every two kinds of pieces are in the table: a rule speaks of them, or a
// reason says why none does; never both a reason and nothing else to say.
func TestTheTableOfPairsIsComplete(t *testing.T) {
	for a := range copper.Kinds {
		for b := a; b < copper.Kinds; b++ {
			lines := byKinds[a][b]
			assert.NotEmpty(t, lines, "%s with %s", a, b)
			for _, l := range lines {
				if l.rule == nil {
					assert.NotEmpty(t, l.says, "%s with %s: why no rule speaks of them", a, b)
				}
			}
		}
	}
}

// A line's rule reads the limits that the line names, and is one of the catalogue.
func TestLinesOfTheTableNameWhatTheirRulesRead(t *testing.T) {
	for _, l := range table {
		if l.rule == nil {
			continue
		}
		assert.NotNil(t, All().Named(l.rule.Name), l.rule.Name)
		assert.Subset(t, l.rule.Limits, l.limits, l.rule.Name)
		for _, name := range l.limits {
			p, ok := checks.ParameterNamed(name)
			assert.True(t, ok && p.Minimum != "", "%s has no minimum %s", l.rule.Name, name)
		}
	}
}
