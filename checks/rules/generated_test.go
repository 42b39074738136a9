package rules

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang/syntax/highlight"
)

//go:generate go test . -run TestGenerated -update

var update = flag.Bool("update", false, "write the generated files anew")

// Files that are made from the program's tables are never edited by hand; one
// that is stale fails here, and `go generate ./...` writes it anew.
func TestGenerated(t *testing.T) {
	for path, want := range map[string][]byte{
		"lang/REFERENCE.md":                           []byte(checks.LanguageReference()),
		"checks/RULES.md":                             []byte(All().RulesReference()),
		"checks/PAIRS.md":                             []byte(PairsReference()),
		"editors/neovim/syntax/hem.vim":               highlight.Vim(),
		"editors/vim/syntax/hem.vim":                  highlight.Vim(),
		"editors/vscode/syntaxes/hem.tmLanguage.json": highlight.TextMate(),
		"editors/emacs/hemline-words.el":              highlight.Emacs(),
		"editors/kate/hem.xml":                        highlight.Kate(),
		"editors/sublime/hem.sublime-syntax":          highlight.Sublime(),
	} {
		file := filepath.Join("..", "..", filepath.FromSlash(path))
		if *update {
			require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
			require.NoError(t, os.WriteFile(file, want, 0o644))
		}
		got, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, string(want), string(got), "%s is stale: run go generate ./...", path)
	}
}
