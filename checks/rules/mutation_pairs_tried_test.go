//go:build !race

package rules

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Every two kinds that the table of pairs has a rule for are put too near each
// other, in three ways at least; and each time the same is done just rightly.
func TestPairsThatAreTooNearAreCaught(t *testing.T) {
	t.Parallel()
	score := &pairScore{made: map[string][]string{}}
	t.Run("pairs", func(t *testing.T) {
		n := 0
		for _, r := range pairings() {
			for _, x := range slips {
				n++
				t.Run(fmt.Sprintf("%s: %s beside %s %s", r.rule, r.b.word, r.a.word, x.mistake), func(t *testing.T) {
					t.Parallel()
					score.slip(t, n, r, x)
				})
			}
		}
		for i, x := range pairMistakes {
			t.Run(x.rule+": "+x.mistake, func(t *testing.T) {
				t.Parallel()
				score.own(t, i, x)
			})
		}
	})
	pairs := map[string]bool{}
	for _, l := range table {
		if l.rule == nil {
			continue
		}
		for _, a := range l.a {
			for _, b := range l.b {
				k := score.key(l.rule.Name, a, b)
				if why := neverAlone[k]; why != "" {
					assert.Empty(t, score.made[k], "%s is said never to be found: %s", k, why)
					continue
				}
				pairs[k] = true
				slices.Sort(score.made[k])
				assert.GreaterOrEqual(t, len(slices.Compact(score.made[k])), 3, "%s: mistakes %q", k, score.made[k])
			}
		}
	}
	kinds := 0
	for k, list := range score.made {
		assert.True(t, pairs[k], "no line of the table is for %s", k)
		kinds += len(list)
	}
	t.Logf("pairs %d, kinds of mistake %d, mutants %d, caught %d, fixes %d, false alarms beside them %d", len(pairs), kinds, score.mutants, score.caught, score.fixes, score.alarms)
	assert.Equal(t, score.mutants, score.caught)
	assert.Zero(t, score.alarms)
}
