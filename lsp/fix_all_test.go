package lsp

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// narrow is a board with a wrap that is too narrow on each of two platings.
const narrow = `board b { thickness 1.6 mm }
outline rectangle 60 mm by 40 mm corner 1 mm
plane on top bottom net GND pullback 2 mm
plating a { along north; net GND; copper 25 um; wrap top bottom 0.3 mm; extend 0.1 mm }
plating c { along south; net GND; copper 25 um; wrap top bottom 0.3 mm; extend 0.1 mm }
relief lid over a c on top bottom reach 0.5 mm
leave tab_places to shop because "its frame"
`

type codeActions []struct {
	Title    string
	Disabled *struct{ Reason string }
	Command  *struct {
		Command   string
		Arguments []any
	}
	Edit *struct {
		Changes map[string][]struct{ NewText string }
	}
}

// actionsAt asks for the quick fixes at a place, as a user does who asks for them.
func actionsAt(t *testing.T, c *session, uri string, line, character int) (list codeActions) {
	t.Helper()
	at := map[string]any{"line": line, "character": character}
	require.NoError(t, json.Unmarshal([]byte(c.call("textDocument/codeAction", map[string]any{
		"textDocument": map[string]any{"uri": uri}, "range": map[string]any{"start": at, "end": at},
		"context": map[string]any{"diagnostics": []any{}, "only": []string{"quickfix"}, "triggerKind": 1},
	})), &list))
	return list
}

func (list codeActions) titled(part string) int {
	for i, a := range list {
		if strings.Contains(a.Title, part) {
			return i
		}
	}
	return -1
}

// All findings of a kind are mended at once, in the file by an edit, and in the workspace by a
// command that hands the client the edits of all its files.
func TestAllOfAKindAreMended(t *testing.T) {
	folder := t.TempDir()
	write(t, folder, "closed.hem", narrow)
	write(t, folder, "clean.hem", strings.ReplaceAll(narrow, "0.3 mm", "0.4 mm"))
	open := uriOf(write(t, folder, "open.hem", narrow))
	c := start(t, DefaultEngine())
	c.folder = uriOf(folder)
	c.replies["workspace/applyEdit"] = `{"applied":true}`
	c.initialize(`{"workspace":{"applyEdit":true}}`)
	c.open(open, narrow)

	list := actionsAt(t, c, open, 3, 60)
	file := list.titled("fix all 2 of wrap_land in this file")
	require.GreaterOrEqual(t, file, 0, list)
	assert.Len(t, list[file].Edit.Changes[open], 2)
	for _, e := range list[file].Edit.Changes[open] {
		assert.Equal(t, "wrap top bottom 0.381 mm", e.NewText)
	}
	everywhere := list.titled("fix all of wrap_land in the workspace")
	require.GreaterOrEqual(t, everywhere, 0, list)
	c.call("workspace/executeCommand", map[string]any{"command": list[everywhere].Command.Command, "arguments": list[everywhere].Command.Arguments})
	var asked struct {
		Edit struct {
			Changes map[string][]struct{ NewText string }
		}
	}
	require.NoError(t, json.Unmarshal(c.note("workspace/applyEdit"), &asked))
	assert.Len(t, asked.Edit.Changes, 2, "the open file and the closed one")
	for uri, edits := range asked.Edit.Changes {
		assert.Len(t, edits, 2, uri)
	}
	assert.Contains(t, string(c.note("window/showMessage")), "wrap_land: 4 fixed in 2 files")
}

// A client that takes versions is given that of the text which is open, and none of the one on
// the disk; one that labels places gets labels of both.
func TestEditsOfManyFilesNameTheirVersions(t *testing.T) {
	folder := t.TempDir()
	closed := uriOf(write(t, folder, "closed.hem", narrow))
	open := uriOf(write(t, folder, "open.hem", narrow))
	c := start(t, DefaultEngine())
	c.folder = uriOf(folder)
	c.replies["workspace/applyEdit"] = `{"applied":true}`
	c.initialize(`{"workspace":{"applyEdit":true,"workspaceEdit":{"documentChanges":true,"changeAnnotationSupport":{}}}}`)
	c.open(open, narrow)
	c.call("workspace/executeCommand", map[string]any{"command": fixCommand, "arguments": []string{"wrap_land"}})
	var asked struct {
		Edit struct {
			Changes         map[string]any
			DocumentChanges []struct {
				TextDocument struct {
					URI     string
					Version *int
				}
				Edits []struct{ NewText, AnnotationID string }
			}
			ChangeAnnotations map[string]struct{ Label, Description string }
		}
	}
	require.NoError(t, json.Unmarshal(c.note("workspace/applyEdit"), &asked))
	assert.Empty(t, asked.Edit.Changes)
	require.Len(t, asked.Edit.DocumentChanges, 2)
	for _, change := range asked.Edit.DocumentChanges {
		require.Len(t, change.Edits, 2)
		assert.Contains(t, asked.Edit.ChangeAnnotations, change.Edits[0].AnnotationID)
		switch change.TextDocument.URI {
		case open:
			require.NotNil(t, change.TextDocument.Version)
			assert.Equal(t, 1, *change.TextDocument.Version)
		default:
			assert.Equal(t, closed, change.TextDocument.URI)
			assert.Nil(t, change.TextDocument.Version)
		}
	}
	assert.Equal(t, "fix all of wrap_land, in texts that are not open", asked.Edit.ChangeAnnotations["disk"].Label)
	assert.Equal(t, "2 places in 1 text", asked.Edit.ChangeAnnotations["open"].Description)
}

// What the client refuses is told, and nothing is said to be mended.
func TestRefusedEdits(t *testing.T) {
	folder := t.TempDir()
	write(t, folder, "closed.hem", narrow)
	c := start(t, DefaultEngine())
	c.folder = uriOf(folder)
	c.replies["workspace/applyEdit"] = `{"applied":false,"failureReason":"read-only"}`
	c.initialize(`{"workspace":{"applyEdit":true}}`)
	id := c.ask("workspace/executeCommand", map[string]any{"command": fixCommand, "arguments": []string{"wrap_land"}})
	m := c.answer(id)
	require.NotNil(t, m.Error)
	assert.Contains(t, m.Error.Message, "the editor did not make the edits: read-only")
}

// Where no change is known to be sure, a client that can show it is told why.
func TestWhyNoWayIsSure(t *testing.T) {
	const text = "fabricator shop { version \"3\"; until \"2020-01-01\" }\nboard b { thickness 1.6 mm }\noutline rectangle 60 mm by 40 mm\n"
	for capabilities, want := range map[string]bool{`{"textDocument":{"codeAction":{"disabledSupport":true}}}`: true, `{}`: false} {
		c := start(t, DefaultEngine())
		c.initialize(capabilities)
		c.open("file:///nowhere/a.hem", text)
		list := actionsAt(t, c, "file:///nowhere/a.hem", 0, 40)
		i := list.titled("no sure fix of fabricator_outdated")
		if !want {
			assert.Negative(t, i)
			continue
		}
		require.GreaterOrEqual(t, i, 0)
		require.NotNil(t, list[i].Disabled)
		assert.Contains(t, list[i].Disabled.Reason, "the limits are the shop's own word")
		assert.Nil(t, list[i].Edit)
	}
}
