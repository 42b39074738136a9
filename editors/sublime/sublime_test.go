// Package sublime holds the tests of the files for Sublime Text that need no
// editor.
package sublime

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v3"

	"hemline/editors/editortest"
)

func TestTheSyntaxDefinition(t *testing.T) {
	text, err := os.ReadFile("hem.sublime-syntax")
	require.NoError(t, err)
	var syntax struct {
		Name, Scope    string
		Version        int
		FileExtensions []string `yaml:"file_extensions"`
		Contexts       map[string][]struct {
			Match     string
			Scope     string
			MetaScope string `yaml:"meta_scope"`
			Captures  map[int]string
			Push      string
			Pop       bool
		}
	}
	// The library refuses the directive, which the editor wants.
	body, ok := bytes.CutPrefix(text, []byte("%YAML 1.2\n---\n"))
	require.True(t, ok)
	require.NoError(t, yaml.Unmarshal(body, &syntax))
	assert.Equal(t, []string{"hem"}, syntax.FileExtensions)
	assert.Equal(t, "source.hem", syntax.Scope)
	assert.Equal(t, 2, syntax.Version)
	require.Greater(t, len(syntax.Contexts["main"]), 8)
	var patterns []string
	for name, rules := range syntax.Contexts {
		for i, rule := range rules {
			assert.True(t, rule.Match != "" || rule.MetaScope != "", "%s %d does nothing", name, i)
			if rule.Push != "" {
				assert.Contains(t, syntax.Contexts, rule.Push)
			}
			if rule.Match != "" {
				patterns = append(patterns, rule.Match)
			}
		}
	}
	compile(t, patterns)
}

// compile tries the expressions with the library that they are written for.
func compile(t *testing.T, patterns []string) {
	t.Helper()
	node := editortest.Tool(t, "node")
	if _, err := os.Stat("../vscode/node_modules/vscode-oniguruma"); err != nil {
		editortest.Missing(t, "what npm ci installs in editors/vscode")
	}
	bad := func(patterns []string) (list []string) {
		input, err := json.Marshal(patterns)
		require.NoError(t, err)
		output := editortest.Pipe(t, 20*time.Second, string(input), node, "../vscode/testdata/compile.mjs")
		require.NoError(t, json.Unmarshal([]byte(output), &list))
		return list
	}
	assert.Empty(t, bad(patterns))
	assert.Len(t, bad([]string{`(`, `a`}), 1)
}

func TestTheSettings(t *testing.T) {
	text, err := os.ReadFile("client.json")
	require.NoError(t, err)
	var settings struct {
		Clients map[string]struct {
			Enabled  bool
			Command  []string
			Selector string
		}
	}
	require.NoError(t, json.Unmarshal(text, &settings))
	client := settings.Clients["hemline"]
	assert.True(t, client.Enabled)
	assert.Equal(t, []string{"hemline", "lsp"}, client.Command)
	assert.Equal(t, "source.hem", client.Selector)

	text, err = os.ReadFile("hem.sublime-settings")
	require.NoError(t, err)
	assert.True(t, json.Valid(text))
	text, err = os.ReadFile("Comments.tmPreferences")
	require.NoError(t, err)
	assert.NoError(t, xml.Unmarshal(text, new(struct{})))
}
