package lsp

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The page of the methods names every one that the server knows, and each test
// that it sends the reader to speaks of the methods of its row.
func TestEveryMethodIsOnThePageAndTried(t *testing.T) {
	page, err := os.ReadFile("README.md")
	require.NoError(t, err)
	named := map[string]bool{}
	row := regexp.MustCompile("(?m)^\\| (`[^|]*) \\|[^|]*\\| ([^|]*) \\|$")
	code := regexp.MustCompile("`([^`]+)`")
	// The commands of a session that stand for a method.
	verbs := map[string]string{
		"textDocument/hover": "> hover", "textDocument/definition": "> definition", "textDocument/completion": "> complete", "textDocument/codeAction": "> actions",
		"textDocument/documentSymbol": "> symbols", "textDocument/formatting": "> format", "textDocument/didOpen": "> open", "textDocument/didChange": "> edit",
		"textDocument/didClose": "> close", "textDocument/didSave": "> save", "workspace/didChangeWatchedFiles": "> watched", "initialize": "> initialize",
		"initialized": "> initialize", "textDocument/publishDiagnostics": "> diagnostics",
	}
	rows := row.FindAllStringSubmatch(string(page), -1)
	require.Greater(t, len(rows), 20)
	for _, m := range rows {
		var tests string
		for _, where := range code.FindAllStringSubmatch(m[2], -1) {
			tests += textOf(t, where[1])
		}
		for _, method := range code.FindAllStringSubmatch(m[1], -1) {
			named[method[1]] = true
			verb := verbs[method[1]]
			assert.True(t, strings.Contains(tests, method[1]) || verb != "" && strings.Contains(tests, verb), "%s is not tried in %s", method[1], m[2])
		}
	}
	for method := range requests {
		assert.True(t, named[method], "%s is not on the page", method)
	}
	for method := range notifications {
		assert.True(t, named[method], "%s is not on the page", method)
	}
}

// textOf is the text of a session, a test file, or the file that holds a test.
func textOf(t *testing.T, name string) string {
	t.Helper()
	if strings.HasSuffix(name, ".go") {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		return string(text)
	}
	if text, err := os.ReadFile("testdata/sessions/" + name + ".txtar"); err == nil {
		return string(text)
	}
	files, err := filepath.Glob("*_test.go")
	require.NoError(t, err)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		if _, body, ok := strings.Cut(string(text), "func "+name+"("); ok {
			body, _, _ = strings.Cut(body, "\n}\n")
			return body + string(text) // a test may speak through helpers beside it
		}
	}
	t.Errorf("there is no session and no test %s", name)
	return ""
}
