package source_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/source"
)

// below lists what is found below folders of a folder, with what is wrong of each.
func below(t *testing.T, root string, more func() bool, folders ...string) (found []string) {
	t.Helper()
	t.Chdir(root)
	for path, err := range source.Below(more, folders...) {
		if err != nil {
			path += ": " + err.Error()
		}
		found = append(found, filepath.ToSlash(path))
	}
	return found
}

func tree(t *testing.T, files []string, links map[string]string) string {
	t.Helper()
	root := t.TempDir()
	for _, name := range files {
		path := filepath.Join(root, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, nil, 0o644))
	}
	for name, to := range links {
		require.NoError(t, os.Symlink(to, filepath.Join(root, name)))
	}
	return root
}

func TestFilesBelowAFolder(t *testing.T) {
	root := tree(t, []string{"b/z.hem", "b/a.hem", "b/note.txt", "b/.git/x.hem", "b/.x.hem", "b/node_modules/y/y.hem", "b/in/c.hem"}, nil)
	assert.Equal(t, []string{"b/a.hem", "b/in/c.hem", "b/z.hem"}, below(t, root, nil, "b"))
	assert.Equal(t, []string{"b/in/c.hem", "b/a.hem", "b/z.hem"}, below(t, root, nil, "b/in", "b"), "no folder twice")
	assert.Equal(t, []string{"b/.git/x.hem"}, below(t, root, nil, "b/.git"), "one that is named is not passed over")
	n := 0
	assert.Len(t, below(t, root, func() bool { n++; return n < 5 }, "b"), 1, "entries are counted, not only files")
	for range source.Below(nil, "b", "b/.git") {
		break // a caller may have enough
	}
	assert.Equal(t, []string{"none: no such file or directory"}, below(t, root, nil, "none"))
}

// A link is what it leads to; nothing comes twice, and links in a loop end.
func TestLinksBelowAFolder(t *testing.T) {
	root := tree(t, []string{"b/a.hem", "b/in/c.hem", "far/f.hem", "far/deep/g.hem", "far/data"}, map[string]string{
		"b/again.hem":  "a.hem",
		"b/far.hem":    "../far/f.hem",
		"b/far2.hem":   "../far/f.hem",
		"b/data.hem":   "../far/data",
		"b/plain":      "a.hem",
		"b/in/up":      "..",
		"b/deep":       "../far/deep",
		"far/deep/top": "../../b",
		"b/self":       "self",
		"b/self.hem":   "self.hem",
		"b/gone.hem":   "nothing",
		"b/gone":       "nothing",
		"linked":       "b",
	})
	want := []string{"b/a.hem", "b/in/c.hem", "b/data.hem", "b/deep/g.hem", "b/far.hem", "b/gone.hem: it is a link that leads nowhere", "b/self.hem: it is a link that leads nowhere"}
	assert.Equal(t, want, below(t, root, nil, "b"))
	assert.Equal(t, "linked/a.hem", below(t, root, nil, "linked")[0], "a folder that is named may be a link")
	assert.Equal(t, want, below(t, root, nil, "b", "linked"), "by whatever name, once")
	assert.Equal(t, []string{"far/data", "far/f.hem"}, []string{filepath.ToSlash(rel(t, root, source.Real(filepath.Join(root, "b/data.hem")))), filepath.ToSlash(rel(t, root, source.Real(filepath.Join(root, "linked/far.hem"))))})
	assert.True(t, slices.Contains(below(t, root, nil, "."), "far/f.hem"))
}

func rel(t *testing.T, root, path string) string {
	t.Helper()
	name, err := filepath.Rel(source.Real(root), path)
	require.NoError(t, err)
	return name
}
