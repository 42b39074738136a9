package rules

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/emit/queries"
)

var (
	stepText = regexp.MustCompile("(?s)```hem\n(.*?)```(.*?)(?:```hem|$)")
	ruleName = regexp.MustCompile("`([a-z_]+)`")
)

// The walk through a board in the language's page says at each step what check
// finds, and ends with a board that leaves nothing open.
func TestTheWalkFromTextToOrder(t *testing.T) {
	page, err := os.ReadFile("../../lang/README.md")
	require.NoError(t, err)
	_, walk, ok := strings.Cut(string(page), "## From text to order\n")
	require.True(t, ok)
	text, steps := "", 0
	for {
		m := stepText.FindStringSubmatchIndex(walk)
		if m == nil {
			break
		}
		for line := range strings.Lines(walk[m[2]:m[3]]) {
			text += strings.TrimPrefix(line, "   ")
		}
		after := walk[m[4]:m[5]]
		walk = walk[m[4]:]
		text = strings.Replace(text, "\"shops/", "\"examples/shops/", 1)
		_, told, says := strings.Cut(after, "Found: ")
		steps++
		if !says {
			continue
		}
		var want, got []string
		told, _, _ = strings.Cut(told, ".")
		for _, r := range ruleName.FindAllStringSubmatch(told, -1) {
			want = append(want, r[1])
		}
		for _, f := range underAll(readText("made.hem", text)) {
			got = append(got, f.Rule)
		}
		slices.Sort(want)
		slices.Sort(got)
		assert.Equal(t, want, slices.Compact(got), "step %d", steps)
	}
	assert.Equal(t, 7, steps)
	text = strings.Replace(text, "(47 mm, 9 mm)", "(12 mm, 15 mm)", 1)
	a := readText("made.hem", text)
	assert.Empty(t, underAll(a))
	for _, q := range queries.Ask(a.Board()) {
		assert.NotEqual(t, queries.Open, q.State, q.Name)
	}
}
