package lsp

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/board"
)

// Whatever an outline shows has an icon.
func TestEachSymbolHasAnIcon(t *testing.T) {
	for _, k := range board.Kinds() {
		assert.NotZero(t, symbolKinds[k.Symbol], k.Word)
	}
	assert.NotZero(t, symbolKinds[board.SymbolNumber], "limits")
}

// The likeliest names come first, and a list that is cut short says so, in an entry that a
// client which filters by what was asked for does not hide.
func TestSymbolsOfTheWorkspaceSayWhenCutShort(t *testing.T) {
	var b strings.Builder
	b.WriteString("outline rectangle 60 mm by 40 mm\n")
	for i := range 1200 {
		fmt.Fprintf(&b, "let far_away_%d = 1 mm\n", i)
	}
	b.WriteString("let away = 1 mm\nlet way_out = 2 mm\n")
	c := start(t, DefaultEngine())
	c.initialize(`{}`)
	c.open("file:///a.hem", b.String())
	ask := func(query string) (list []struct{ Name, ContainerName string }) {
		require.NoError(t, json.Unmarshal(c.answer(c.ask("workspace/symbol", map[string]any{"query": query})).Result, &list))
		return list
	}
	list := ask("away")
	require.Len(t, list, 1001)
	assert.Equal(t, "away", list[0].Name)
	assert.Equal(t, "away… 201 more names", list[1000].Name)
	assert.Equal(t, "type more letters to find them", list[1000].ContainerName)
	list = ask("way_")
	assert.Equal(t, "way_out", list[0].Name, "that begins with it")
	list = ask("far_away_119")
	assert.Equal(t, "far_away_119", list[0].Name, "the very name")
	assert.Equal(t, "far_away_1190", list[1].Name, "then those that begin with it")
	assert.NotContains(t, list[len(list)-1].Name, "more names", "none is left out")
}
