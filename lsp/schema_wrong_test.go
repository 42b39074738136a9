package lsp

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Messages that are wrong, each in one way that has been seen in a language
// server, and the right ones beside them.
func TestTheSchemasTellWrongFromRight(t *testing.T) {
	schemas, err := loadSchemas()
	require.NoError(t, err)
	const place = `{"start":{"line":0,"character":0},"end":{"line":0,"character":1}}`
	for _, row := range []struct{ method, right, wrong string }{
		{"initialize", `{"capabilities":{"hoverProvider":true}}`, `{"capabilities":{"hoverProviders":true}}`},
		{"initialize", `{"capabilities":{},"serverInfo":{"name":"x"}}`, `{"capabilities":{},"serverInformation":{"name":"x"}}`},
		{"initialize", `{"capabilities":{"textDocumentSync":2}}`, `{"capabilities":{"textDocumentSync":7}}`},
		{"initialize", `{"capabilities":{"textDocumentSync":{"save":{}}}}`, `{"capabilities":{"textDocumentSync":{"saved":{}}}}`},
		{"shutdown", `null`, `{}`},
		{"textDocument/hover", `null`, `[]`},
		{"textDocument/hover", `{"contents":{"kind":"markdown","value":"x"}}`, `{"contents":{"kind":"html","value":"x"}}`},
		{"textDocument/completion", `{"isIncomplete":false,"items":[]}`, `{"isIncomplete":false,"items":null}`},
		{"textDocument/completion", `[{"label":"x","kind":25}]`, `[{"label":"x","kind":26}]`},
		{"textDocument/definition", `{"uri":"file:///a","range":` + place + `}`, `{"uri":"file:///a"}`},
		{"textDocument/documentSymbol", `[]`, `[{"name":"a","kind":1,"range":` + place + `}]`},
		{"textDocument/formatting", `[{"range":` + place + `,"newText":""}]`, `[{"range":` + place + `,"text":""}]`},
		{"textDocument/semanticTokens/full", `{"data":[0,1,2,3,4]}`, `{"data":[0,-1,2,3,4]}`},
		{"textDocument/semanticTokens/full", `{"data":[1]}`, `{"data":[1.5]}`},
		{"textDocument/inlayHint", `[{"position":{"line":0,"character":0},"label":"x"}]`, `[{"position":{"line":0,"character":0},"label":5}]`},
		{"textDocument/prepareRename", `{"range":` + place + `,"placeholder":"x"}`, `{"range":` + place + `,"name":"x"}`},
		{"textDocument/diagnostic", `{"kind":"full","items":[]}`, `{"kind":"unchanged","items":[]}`},
		{"textDocument/signatureHelp", `{"signatures":[]}`, `{"signatures":null}`},
		{"textDocument/codeAction", `[{"title":"x","isPreferred":true}]`, `[{"title":"x","preferred":true}]`},
	} {
		assert.NoError(t, schemas.checkResult(row.method, json.RawMessage(row.right)))
		assert.Error(t, schemas.checkResult(row.method, json.RawMessage(row.wrong)), "%s: %s", row.method, row.wrong)
	}
	for _, row := range []struct{ method, right, wrong string }{
		{"textDocument/publishDiagnostics", `{"uri":"u","diagnostics":[]}`, `{"uri":"u","diagnostics":null}`},
		{"textDocument/publishDiagnostics", `{"uri":"u","diagnostics":[{"range":` + place + `,"message":"m","severity":4}]}`,
			`{"uri":"u","diagnostics":[{"range":` + place + `,"message":"m","severity":0}]}`},
		{"textDocument/publishDiagnostics", `{"uri":"u","version":0,"diagnostics":[]}`, `{"uri":"u","version":null,"diagnostics":[]}`},
		{"$/progress", `{"token":1,"value":{"kind":"begin","title":"x"}}`, `{"token":1,"value":{"kind":"begin"}}`},
		{"window/showMessage", `{"type":1,"message":"m"}`, `{"type":0,"message":"m"}`},
		{"window/showDocument", `{"uri":"u","takeFocus":true}`, `{"uri":"u","takesFocus":true}`},
		{"client/registerCapability", `{"registrations":[{"id":"1","method":"m"}]}`, `{"registrations":[{"id":1,"method":"m"}]}`},
		{"workspace/diagnostic/refresh", `null`, `{}`},
	} {
		assert.NoError(t, schemas.checkParams(row.method, json.RawMessage(row.right)))
		assert.Error(t, schemas.checkParams(row.method, json.RawMessage(row.wrong)), "%s: %s", row.method, row.wrong)
	}
	assert.ErrorContains(t, schemas.checkParams("window/showMessages", nil), "no schema")
	assert.ErrorContains(t, schemas.checkResult("textDocument/telepathy", nil), "no schema")
	assert.NoError(t, schemas.checkParams("hemline/board", json.RawMessage(`{"ours":1}`)))
}

// What the watcher of every session says of a server that errs.
func TestTheWatcherSees(t *testing.T) {
	for name, row := range map[string]struct{ asked, sent, want string }{
		"right":             {`{"jsonrpc":"2.0","id":1,"method":"textDocument/hover"}`, `{"jsonrpc":"2.0","id":1,"result":null}`, ""},
		"an error":          {`{"jsonrpc":"2.0","id":1,"method":"textDocument/hover"}`, `{"jsonrpc":"2.0","id":1,"error":{"code":-32602,"message":"m"}}`, ""},
		"nothing readable":  {`{`, `{"jsonrpc":"2.0","id":null,"error":{"code":-32700,"message":"m"}}`, ""},
		"another method's":  {`{"jsonrpc":"2.0","id":"a","method":"shutdown"}`, `{"jsonrpc":"2.0","id":"a","result":[]}`, "shutdown"},
		"not asked":         {`{"jsonrpc":"2.0","id":1,"method":"shutdown"}`, `{"jsonrpc":"2.0","id":"1","result":null}`, "nothing that was asked"},
		"no known method":   {`{"jsonrpc":"2.0","id":1,"method":"x/y"}`, `{"jsonrpc":"2.0","id":1,"result":null}`, "no schema"},
		"a fraction code":   {`{"jsonrpc":"2.0","id":1,"method":"shutdown"}`, `{"jsonrpc":"2.0","id":1,"error":{"code":1.5,"message":"m"}}`, "integer"},
		"both":              {`{"jsonrpc":"2.0","id":1,"method":"shutdown"}`, `{"jsonrpc":"2.0","id":1,"result":null,"error":{"code":1,"message":"m"}}`, "or both"},
		"neither":           {`{"jsonrpc":"2.0","id":1,"method":"shutdown"}`, `{"jsonrpc":"2.0","id":1}`, "neither"},
		"no version":        {``, `{"method":"window/logMessage","params":{"type":1,"message":"m"}}`, "no version"},
		"a field more":      {``, `{"jsonrpc":"2.0","method":"window/logMessage","params":{"type":1,"message":"m"},"x":1}`, "unknown field"},
		"wrong params":      {``, `{"jsonrpc":"2.0","method":"window/logMessage","params":{"type":9,"message":"m"}}`, "window/logMessage"},
		"no params":         {``, `{"jsonrpc":"2.0","method":"window/logMessage"}`, "window/logMessage"},
		"a method too many": {``, `{"jsonrpc":"2.0","method":"window/logMessages","params":{}}`, "no schema"},
	} {
		t.Run(name, func(t *testing.T) {
			w := newWatcher(t)
			_, err := io.ReadAll(w.reader(strings.NewReader(frame(row.asked))))
			require.NoError(t, err)
			_, err = io.WriteString(w.writer(io.Discard), frame(row.sent))
			require.NoError(t, err)
			failures := w.finish()
			assert.Equal(t, 1, w.checked)
			if row.want == "" {
				assert.Empty(t, failures)
				return
			}
			require.Len(t, failures, 1)
			assert.Contains(t, failures[0], row.want)
		})
	}
}

// A type that lets any field pass would let a misspelt one pass.
func TestTheSchemasAreClosed(t *testing.T) {
	text, err := os.ReadFile("testdata/schema/messages.json")
	require.NoError(t, err)
	var document any
	require.NoError(t, json.Unmarshal(text, &document))
	var open []string
	var walk func(path string, value any)
	walk = func(path string, value any) {
		switch value := value.(type) {
		case map[string]any:
			if _, object := value["properties"]; object && value["additionalProperties"] != false {
				open = append(open, path)
			}
			for key, inner := range value {
				walk(path+"/"+key, inner)
			}
		case []any:
			for i, inner := range value {
				walk(fmt.Sprintf("%s/%d", path, i), inner)
			}
		}
	}
	walk("", document)
	assert.Equal(t, []string{"/definitions/MessageActionItem"}, open, "which the protocol leaves open")
}

// The generator needs its packages; they are installed by .ci/run.
func TestTheSchemasAreFresh(t *testing.T) {
	if _, err := os.Stat("testdata/schema/node_modules"); err != nil {
		if os.Getenv("HEMLINE_CI") == "1" {
			t.Fatal("npm ci has not run in lsp/testdata/schema, and HEMLINE_CI=1 asks for it")
		}
		t.Skip("npm ci has not run in lsp/testdata/schema")
	}
	output, err := exec.Command("node", "testdata/schema/generate.mjs", "--check").CombinedOutput()
	require.NoError(t, err, "%s", output)
}
