package vscode

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"hemline/editors/editortest"
)

// From the narrow to the wide: a text holds escapes.
var scopes = []struct {
	scope string
	class editortest.Class
}{
	{"comment.line", editortest.Comment}, {"string.quoted", editortest.Text}, {"keyword.control.statement", editortest.Statement},
	{"keyword.other.clause", editortest.Clause}, {"keyword.other.unit", editortest.Unit}, {"constant.numeric", editortest.Number},
	{"constant.language", editortest.Constant}, {"support.function", editortest.Function}, {"variable.other", editortest.Name},
}

func classOf(scope string) editortest.Class {
	for _, row := range scopes {
		if strings.Contains(scope, row.scope) {
			return row.class
		}
	}
	return editortest.Class("scopes " + scope)
}

func TestHighlighting(t *testing.T) {
	node := editortest.Tool(t, "node")
	if _, err := os.Stat("node_modules/vscode-textmate"); err != nil {
		editortest.Missing(t, "what npm ci installs")
	}
	type sample struct {
		Lines  []string `json:"lines"`
		Places [][2]int `json:"places"`
	}
	var names []string
	var samples []sample
	var words [][]editortest.Word
	for name, text := range editortest.Samples(t) {
		s := sample{Lines: strings.Split(text, "\n")}
		list := editortest.Words(text)
		for _, w := range list {
			s.Places = append(s.Places, [2]int{w.Line, w.UTF16}, [2]int{w.Line, w.Last.UTF16})
		}
		names, samples, words = append(names, name), append(samples, s), append(words, list)
	}
	input, err := json.Marshal(samples)
	require.NoError(t, err)
	var got [][]string
	require.NoError(t, json.Unmarshal([]byte(editortest.Pipe(t, 30*time.Second, string(input), node, "testdata/tokens.mjs")), &got))
	require.Len(t, got, len(samples))
	for i, name := range names {
		require.Len(t, got[i], 2*len(words[i]))
		var shown [][2]editortest.Class
		for j := range words[i] {
			shown = append(shown, [2]editortest.Class{classOf(got[i][2*j]), classOf(got[i][2*j+1])})
		}
		editortest.Compare(t, name, words[i], shown)
	}
}
