package lsp

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// The tests of this file hold what the protocol and JSON-RPC libraries get
// wrong and the server must not: one for each of their known defects that
// the server would otherwise have inherited.

// jsonrpc2 v1 does not compile with the newest protocol library, so neither
// may be raised alone.
func TestTheLibrariesStayWhereTheyAre(t *testing.T) {
	mod, err := os.ReadFile("../go.mod")
	require.NoError(t, err)
	for module, version := range map[string]string{
		"go.lsp.dev/jsonrpc2":           "v0.10.0",
		"go.lsp.dev/protocol":           "v0.12.0",
		"go.lsp.dev/uri":                "v0.3.0",
		"github.com/segmentio/encoding": "v0.5.4",
	} {
		found := regexp.MustCompile(`(?m)^\s*` + regexp.QuoteMeta(module) + ` (\S+)`).FindSubmatch(mod)
		require.NotNil(t, found, module)
		assert.Equal(t, version, string(found[1]), module)
	}
}

// The library decodes the id of a cancelled request into a float and then
// refuses it.
func TestCancellingARequest(t *testing.T) {
	for _, id := range []any{5, "five"} {
		t.Run(fmt.Sprint(id), func(t *testing.T) {
			toy := newToy()
			c := start(t, toy.engine())
			c.initialize(`{}`)
			c.open("file:///a.hem", "wait")
			raw, err := json.Marshal(id)
			require.NoError(t, err)
			c.send(map[string]any{"id": id, "method": "textDocument/hover", "params": at("file:///a.hem", 0, 0)})
			<-toy.waiting
			c.notify("$/cancelRequest", map[string]any{"id": id})
			m := c.answer(string(raw)) // while the work still stands at the gate
			require.NotNil(t, m.Error)
			assert.Equal(t, -32800, m.Error.Code)
			close(toy.gate)
			c.published()
			c.notify("$/cancelRequest", map[string]any{"id": id}) // answered long ago
			c.notify("$/cancelRequest", map[string]any{"id": 1.5})
			c.notify("$/cancelRequest", []any{})
			c.call("textDocument/hover", at("file:///a.hem", 0, 0))
			c.mu.Lock()
			defer c.mu.Unlock()
			assert.Empty(t, c.answers[string(raw)], "one answer, not two")
		})
	}
}

// The library's handler starts a request only once the one before is answered.
func TestASlowRequestHoldsNothingUp(t *testing.T) {
	toy := newToy()
	c := start(t, toy.engine())
	c.initialize(`{}`)
	c.open("file:///slow.hem", "wait")
	<-toy.waiting // the diagnostics stand at the gate
	slow := c.ask("textDocument/hover", at("file:///slow.hem", 0, 0))
	c.open("file:///quick.hem", "word")
	assert.NotEqual(t, "null", c.call("textDocument/hover", at("file:///quick.hem", 0, 0)))
	close(toy.gate)
	assert.NotEqual(t, "null", string(c.answer(slow).Result))
}

// The library drops the connection over each of these.
func TestMalformedMessagesKeepTheConnection(t *testing.T) {
	c := start(t, newToy().engine())
	c.initialize(`{}`)
	for _, body := range []string{"{", "[]", `{"jsonrpc":"1.0","id":1,"method":"m"}`, `{"jsonrpc":"2.0","id":0.5,"method":"m"}`} {
		c.raw(frame(body))
	}
	c.open("file:///a.hem", "word")
	assert.NotEqual(t, "null", c.call("textDocument/hover", at("file:///a.hem", 0, 0)))
	// The refusals go out beside the answers; "1" is the one whose id could be told.
	c.wait("refusals", func() bool { return len(c.answers["null"]) == 3 && len(c.answers["1"]) == 1 })
}

// In the library a plain error goes out with code 0, which is none.
func TestEveryErrorHasACode(t *testing.T) {
	assert.Equal(t, jsonrpc2.InternalError, wireError(errors.New("plain")).Code)
	assert.Equal(t, jsonrpc2.InvalidParams, wireError(fmt.Errorf("wrapped: %w", jsonrpc2.ErrInvalidParams)).Code)
	c := start(t, newToy().engine())
	c.initialize(`{}`)
	assert.Equal(t, -32602, c.fails("textDocument/hover", []any{}))
	assert.Equal(t, -32602, c.fails("textDocument/hover", nil))
	assert.Equal(t, -32602, c.fails("textDocument/hover", map[string]any{"position": 5}))
}

// In the library's type a change without a range looks like one at 0:0.
func TestAFullReplacementReplaces(t *testing.T) {
	c := start(t, newToy().engine())
	c.initialize(`{}`)
	c.open("file:///a.hem", "bad")
	c.published()
	c.edit("file:///a.hem", "is bad")
	assert.Equal(t, "0:3-0:6 1 toy_bad", c.published().String())
	c.edit("file:///a.hem", "it ", 0, 0, 0, 0)
	assert.Equal(t, "0:6-0:9 1 toy_bad", c.published().String())
}

// The library writes an absent list as null, loses a version of 0, and would
// write a code as a fraction.
func TestPublishedDiagnosticsAreWhole(t *testing.T) {
	zero := int32(0)
	data, err := json.Marshal(publishParams{URI: "file:///a", Version: &zero, Diagnostics: []protocol.Diagnostic{}})
	require.NoError(t, err)
	assert.JSONEq(t, `{"uri":"file:///a","version":0,"diagnostics":[]}`, string(data))

	c := start(t, newToy().engine())
	c.initialize(`{}`)
	c.notify("textDocument/didOpen", map[string]any{"textDocument": map[string]any{"uri": "file:///a.hem", "version": 0, "text": ""}})
	p := c.published()
	assert.Equal(t, 0, *p.Version)
	assert.NotNil(t, p.Diagnostics)
}

// The library rewrites URIs when it reads them; an editor compares its own
// spelling byte for byte.
func TestAURIComesBackAsItCame(t *testing.T) {
	for _, uri := range []string{
		"file:///c%3A/a%20b.hem", "file:///C:/a b.hem", "file:///%e9.hem", "file:///$HOME/x.hem",
		"untitled:Untitled-1", "vscode-notebook-cell:/a.hem#W0sZmlsZQ%3D%3D", "inmemory://model/1", "odd", "",
	} {
		c := start(t, newToy().engine())
		c.initialize(`{"textDocument":{"publishDiagnostics":{"relatedInformation":true},"definition":{"linkSupport":true}}}`)
		c.open(uri, "let why bad why")
		p := c.published()
		assert.Equal(t, uri, p.URI)
		var related []struct{ Location struct{ URI string } }
		require.NoError(t, json.Unmarshal(p.Diagnostics[0].Related, &related))
		assert.Equal(t, uri, related[0].Location.URI)
		var links []struct{ TargetURI string }
		require.NoError(t, json.Unmarshal([]byte(c.call("textDocument/definition", at(uri, 0, 14))), &links))
		assert.Equal(t, uri, links[0].TargetURI)
	}
}

// One file may be open under two spellings, and a used file under one that the
// server would not have written.
func TestEverySpellingOfAURIIsKept(t *testing.T) {
	dir := uriOf(t.TempDir())
	c := start(t, newToy().engine())
	c.initialize(`{}`)
	for _, uri := range []string{dir + "/%61.hem", dir + "/a.hem", dir + "/./a.hem"} {
		c.open(uri, "bad")
		p := c.published()
		assert.Equal(t, uri, p.URI)
		assert.Len(t, p.Diagnostics, 1)
	}
	c.open(dir+"/%73hop.hem", "let x")
	c.published()
	c.open(dir+"/b.hem", `use "shop.hem" x`)
	c.published()
	var target struct{ URI string }
	require.NoError(t, json.Unmarshal([]byte(c.call("textDocument/definition", at(dir+"/b.hem", 0, 15))), &target))
	assert.Equal(t, dir+"/%73hop.hem", target.URI)
}

// The library knows nothing of position encodings.
func TestColumnsCountWhatTheClientOffers(t *testing.T) {
	for _, row := range []struct {
		offered  string
		name     string
		from, to int // of "bad" behind é and a character outside the basic plane
	}{
		{`null`, "utf-16", 4, 7},
		{`["utf-7"]`, "utf-16", 4, 7},
		{`["utf-16","utf-8"]`, "utf-16", 4, 7},
		{`["utf-8","utf-16"]`, "utf-8", 7, 10},
		{`["x","utf-32","utf-16"]`, "utf-32", 3, 6},
	} {
		c := start(t, newToy().engine())
		result := c.initialize(`{"general":{"positionEncodings":` + row.offered + `}}`)
		assert.Contains(t, result, `"positionEncoding":"`+row.name+`"`)
		c.open("file:///a.hem", "é🛠 bad")
		d := c.published().Diagnostics[0]
		assert.Equal(t, [2]int{row.from, row.to}, [2]int{d.Range.Start.Character, d.Range.End.Character}, row.offered)
		c.edit("file:///a.hem", "fine", 0, row.from, 0, row.to)
		assert.Empty(t, c.published().Diagnostics, row.offered)
	}
}

// Positions are numbers of JSON: an editor may send one that is past every
// line, and the edit must land at the nearest end.
func TestEditsOutOfRangeAreCut(t *testing.T) {
	for name, row := range map[string]struct{ start, end, want string }{
		"past the line":     {`{"line":0,"character":3}`, `{"line":0,"character":9007199254740991}`, "oneX\ntwo"},
		"past the text":     {`{"line":1,"character":3}`, `{"line":1e300,"character":0}`, "one\ntwoX"},
		"before the text":   {`{"line":-1,"character":-1}`, `{"line":0,"character":0}`, "Xone\ntwo"},
		"ends turned round": {`{"line":1,"character":0}`, `{"line":0,"character":3}`, "oneXtwo"},
	} {
		t.Run(name, func(t *testing.T) {
			toy := newToy()
			c := start(t, toy.engine())
			c.initialize(`{}`)
			c.open("file:///a.hem", "one\ntwo")
			c.published()
			c.raw(frame(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///a.hem","version":2},` +
				`"contentChanges":[{"range":{"start":` + row.start + `,"end":` + row.end + `},"text":"X"}]}}`))
			c.published()
			toy.mu.Lock()
			defer toy.mu.Unlock()
			assert.Equal(t, row.want, toy.analysed[len(toy.analysed)-1])
		})
	}
}

func TestWhatTheServerSaysOfItself(t *testing.T) {
	const renames = `{"filters": [{"scheme": "file", "pattern": {"glob": "**/*.hem", "matches": "file", "options": {}}}, {"scheme": "file", "pattern": {"glob": "**", "matches": "folder", "options": {}}}]}`
	c := start(t, newToy().engine())
	assert.JSONEq(t, `{
		"capabilities": {
			"positionEncoding": "utf-16",
			"textDocumentSync": {"openClose": true, "change": 2, "save": {}},
			"hoverProvider": true,
			"signatureHelpProvider": {"triggerCharacters": [" "]},
			"completionProvider": {"triggerCharacters": [" ", "\"", "/", "."]},
			"codeActionProvider": {"codeActionKinds": ["quickfix", "refactor", "refactor.extract", "refactor.rewrite", "source.fixAll"]},
			"codeLensProvider": {},
			"definitionProvider": true,
			"referencesProvider": true,
			"documentHighlightProvider": true,
			"documentLinkProvider": {},
			"documentSymbolProvider": true,
			"workspaceSymbolProvider": true,
			"documentFormattingProvider": true,
			"documentRangeFormattingProvider": true,
			"documentOnTypeFormattingProvider": {"firstTriggerCharacter": "}", "moreTriggerCharacter": ["\n"]},
			"renameProvider": {"prepareProvider": true},
			"linkedEditingRangeProvider": true,
			"foldingRangeProvider": true,
			"selectionRangeProvider": true,
			"inlayHintProvider": true,
			"semanticTokensProvider": {
				"legend": {
					"tokenTypes": ["comment", "keyword", "property", "variable", "parameter", "enumMember", "type", "enum", "macro", "function", "number", "modifier", "string", "operator"],
					"tokenModifiers": ["declaration"]
				},
				"full": {"delta": true}, "range": true
			},
			"workspace": {"workspaceFolders": {"supported": true, "changeNotifications": true},
				"fileOperations": {"willRename": `+renames+`, "didRename": `+renames+`}},
			"executeCommandProvider": {"commands": ["hemline.findings", "hemline.fixEverywhere", "hemline.picture", "hemline.queries", "hemline.users"]}
		},
		"serverInfo": {"name": "hemline", "version": "test"}
	}`, c.initialize(`{}`))
}

// A million levels would overflow the stack of a decoder that recurses, which
// nothing can recover from.
func TestDeepNestingInParams(t *testing.T) {
	c := start(t, newToy().engine())
	c.initialize(`{}`)
	deep := strings.Repeat("[", 1_000_000) + strings.Repeat("]", 1_000_000)
	c.raw(frame(`{"jsonrpc":"2.0","id":99,"method":"textDocument/hover","params":` + deep + `}`))
	assert.Equal(t, -32700, c.answer("null").Error.Code)
}
