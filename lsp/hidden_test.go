package lsp

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/source"
)

// What nobody sees is found, and shown by its number wherever the server speaks of
// it; edits hold it as the text does.
func TestNothingHiddenIsSaid(t *testing.T) {
	c := start(t, DefaultEngine())
	c.initialize(`{"textDocument":{"documentSymbol":{"hierarchicalDocumentSymbolSupport":true},"publishDiagnostics":{"relatedInformation":true}}}`)
	text := "outline rectangle 60 mm by 40 mm\nplating \"wa\u202Ell\" { along south; net \"G\u200BND\"; wrap top 0.3 mm }\ntab t on north at 10 mm width \"x\u202E\"\ngap g of \"wa\u202Ell\" on south at 1 mm width 1 mm\n"
	uri := "file:///x/a.hem"
	c.open(uri, text)
	shown := func(what, data string) string {
		assert.Empty(t, source.Hidden(data, 0, len(data)), "%s: %s", what, data)
		return data
	}
	said := shown("findings", string(c.note("textDocument/publishDiagnostics")))
	assert.Contains(t, said, `"code":"text_hidden"`)
	assert.Contains(t, said, `plating wa\\u{202E}ll`)
	assert.Contains(t, shown("outline", c.call("textDocument/documentSymbol", at(uri, 0, 0))), `wa\\u{202E}ll`)
	assert.Contains(t, shown("hover", c.call("textDocument/hover", at(uri, 1, 9))), `wa\\u{202E}ll`)
	shown("lenses", c.call("textDocument/codeLens", at(uri, 0, 0)))
	actions := c.call("textDocument/codeAction", map[string]any{"textDocument": map[string]any{"uri": uri}, "context": map[string]any{"diagnostics": []any{}, "only": []string{"quickfix"}},
		"range": map[string]any{"start": map[string]int{"line": 1, "character": 0}, "end": map[string]int{"line": 9, "character": 0}}})
	var list []struct{ Title string }
	require.NoError(t, json.Unmarshal([]byte(actions), &list))
	titles := ""
	for _, a := range list {
		titles += shown("an action", a.Title) + "\n"
	}
	assert.Contains(t, titles, `wa\u{202E}ll`, "a way that names an item")
	assert.Contains(t, actions, "take out the hidden characters of all statements")
}
