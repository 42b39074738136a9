package lsp

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A name that no `use` can say is not written into one, and it is said why; the other
// files of the same request are followed.
func TestANewNameThatNoUseCanSay(t *testing.T) {
	folder := t.TempDir()
	one, two := write(t, folder, "one.hem", "let one = 1\n"), write(t, folder, "two.hem", "let two = 1\n")
	write(t, folder, "board.hem", "use \"one.hem\"\nuse \"two.hem\"\n")
	c := start(t, DefaultEngine())
	c.folder = uriOf(folder)
	c.initialize(`{}`)
	rename := func(name string) string {
		return c.call("workspace/willRenameFiles", map[string]any{"files": []any{
			map[string]any{"oldUri": uriOf(one), "newUri": uriOf(folder) + "/" + name},
			map[string]any{"oldUri": uriOf(two), "newUri": uriOf(filepath.Join(folder, "three.hem"))},
		}})
	}
	for _, name := range []string{"new%0Aline.hem", "tab%09.hem", "red%1B.hem", "no%FFtext.hem"} {
		edit := rename(name)
		assert.Contains(t, edit, `three.hem`, name)
		assert.Contains(t, edit, `"line":1`, name)
		assert.NotContains(t, edit, `"line":0`, name)
		said := string(c.note("window/showMessage"))
		assert.Contains(t, said, "`use \\\"one.hem\\\"` in board.hem", name)
		assert.Contains(t, said, "control character", name)
	}
	assert.Contains(t, rename("quo%22te%5C.hem"), `\"quo\\\"te\\\\.hem\"`, "escaped as the language does")
}

// A change without a text is none; it does not empty the document.
func TestAChangeWithoutAText(t *testing.T) {
	c := start(t, DefaultEngine())
	c.initialize(`{}`)
	c.open("file:///x/a.hem", "let kept = 1\n")
	for _, change := range []any{map[string]any{}, map[string]any{"range": map[string]any{"start": map[string]int{"line": 0, "character": 0}, "end": map[string]int{"line": 1, "character": 0}}}} {
		c.notify("textDocument/didChange", map[string]any{"textDocument": map[string]any{"uri": "file:///x/a.hem", "version": 2}, "contentChanges": []any{change}})
		assert.Equal(t, "kept", symbols(t, c))
	}
	require.Eventually(t, func() bool { return strings.Count(c.logged.String(), "a change without a text") == 2 }, patience, time.Millisecond)
	c.notify("textDocument/didChange", map[string]any{"textDocument": map[string]any{"uri": "file:///x/a.hem", "version": 3}, "contentChanges": []any{map[string]any{"text": ""}}})
	assert.Empty(t, symbols(t, c), "an empty text is one")
}

// An editor that takes no edits from the server is told so.
func TestNothingIsFixedWithoutApplyEdit(t *testing.T) {
	c := start(t, DefaultEngine())
	c.initialize(`{}`)
	c.open("file:///x/a.hem", narrow)
	m := c.answer(c.ask("workspace/executeCommand", map[string]any{"command": fixCommand, "arguments": []any{"wrap_land"}}))
	require.NotNil(t, m.Error)
	assert.Contains(t, m.Error.Message, "takes no edits from the server")
}
