package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/langtest"
)

// The language's tests are texts that say themselves what they mean and what
// is wrong with them: sections of testdata/*.hem, as langtest.Section and its
// Expect describe them.
//
// A line `//= KIND …` states a fact of the model. Which facts there are and
// how they are written is in facts_test.go; where a section states one fact of
// a kind it states all of them, in order, and `//= KIND none` where there are none.
func TestTexts(t *testing.T) {
	for _, s := range langtest.Sections(t, "testdata/*.hem") {
		t.Run(s.Name(), func(t *testing.T) {
			s.Expect(t, langtest.OfText, langtest.OfText)
			expectFacts(t, s, s.Analyze())
		})
	}
}

// expectFacts compares what the text states of the model with the model.
func expectFacts(t *testing.T, s langtest.Section, a *lang.Analysis) {
	t.Helper()
	stated := map[string][]string{}
	for l := range strings.Lines(s.Text()) {
		fact, ok := strings.CutPrefix(strings.TrimSpace(l), "//= ")
		if !ok {
			continue
		}
		kind, rest, _ := strings.Cut(fact, " ")
		require.Contains(t, factKinds, kind)
		stated[kind] = append(stated[kind], rest)
	}
	for kind, want := range stated {
		got := factKinds[kind](a.Board())
		if len(got) == 0 {
			got = []string{"none"}
		}
		assert.Equal(t, strings.Join(want, "\n"), strings.Join(got, "\n"), kind)
	}
}

// Every kind of fact is stated somewhere: one that no text states tests nothing.
func TestEveryKindOfFactIsStated(t *testing.T) {
	all := ""
	for _, s := range langtest.Sections(t, "testdata/*.hem") {
		all += s.Text()
	}
	for kind := range factKinds {
		assert.True(t, strings.Contains(all, "//= "+kind+" "), kind)
	}
}
