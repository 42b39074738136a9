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
// and with five lines taken out at a dozen places.
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
		for i := 0; i <= len(lines); i += 1 + len(lines)/12 {
			text := strings.Join(lines[:i], "") + strings.Join(lines[min(i+5, len(lines)):], "")
			visit(path, lang.Analyze(source.New(path, text), source.Read, nil))
		}
		visit(path, lang.Analyze(f, source.Read, nil))
		return nil
	}))
	assert.Greater(t, n, 60, "the repository's texts are below %s", root)
}
