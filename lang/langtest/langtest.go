// Package langtest holds what the tests of everything that reads boards share.
package langtest

import (
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/source"
)

// EveryText visits every text below a folder, broken ones included, each whole
// and with five lines taken out, at a dozen places of its file. A file of many
// sections holds a text in each.
func EveryText(t *testing.T, root string, visit func(path string, a *lang.Analysis)) {
	t.Helper()
	n := 0
	require.NoError(t, filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".hem" {
			return err
		}
		n++
		f, err := source.Read(path)
		require.NoError(t, err)
		lines := strings.SplitAfter(f.Text(), "\n")
		apart := 1 + len(lines)/12
		for start := 0; start < len(lines); {
			end := start + 1
			for end < len(lines) && !strings.HasPrefix(lines[end], sectionMark) && !strings.HasPrefix(lines[end], fileMark) {
				end++
			}
			text := lines[start:end]
			visit(path, lang.Analyze(source.New(path, strings.Join(text, "")), source.Read, nil))
			for i := (apart - start%apart) % apart; i < len(text); i += apart {
				cut := strings.Join(text[:i], "") + strings.Join(text[min(i+5, len(text)):], "")
				visit(path, lang.Analyze(source.New(path, cut), source.Read, nil))
			}
			start = end
		}
		return nil
	}))
	assert.Greater(t, n, 60, "the repository's texts are below %s", root)
}
