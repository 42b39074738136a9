package lsp

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAFileThatDidNotChangeIsTheSameValue(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.hem")
	require.NoError(t, os.WriteFile(path, []byte("one"), 0o644))
	d := newDisk()
	first, _, err := d.read(path)
	require.NoError(t, err)
	again, _, err := d.read(path)
	require.NoError(t, err)
	assert.Same(t, first, again)

	require.NoError(t, os.WriteFile(path, []byte("longer"), 0o644))
	changed, _, err := d.read(path)
	require.NoError(t, err)
	assert.Equal(t, "longer", changed.Text())

	info, err := os.Stat(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, []byte("LONGER"), 0o644))
	require.NoError(t, os.Chtimes(path, info.ModTime(), info.ModTime()))
	read, _, err := d.read(path)
	require.NoError(t, err)
	assert.Same(t, changed, read, "nothing tells that it has changed")
	d.forget()
	read, _, err = d.read(path)
	require.NoError(t, err)
	assert.Equal(t, "LONGER", read.Text())
	d.forget()
	again, _, err = d.read(path)
	require.NoError(t, err)
	assert.Same(t, read, again, "it says the same")
}

// Texts that only pass through leave no more than their sums, and those that are
// kept are bounded.
func TestTextsOnDiskAreNotKept(t *testing.T) {
	folder, d := t.TempDir(), newDisk()
	long := strings.Repeat("x", maxHeld/3)
	for i := range 5 {
		path := filepath.Join(folder, fmt.Sprint(i))
		require.NoError(t, os.WriteFile(path, []byte(long+fmt.Sprint(i)), 0o644))
		_, is, err := d.pass(path)
		require.NoError(t, err)
		assert.Equal(t, is, d.sum(path))
		assert.Equal(t, sumOf(long+fmt.Sprint(i)), is)
		assert.Zero(t, d.held)
	}
	for i := range 5 {
		file, _, err := d.read(filepath.Join(folder, fmt.Sprint(i)))
		require.NoError(t, err)
		assert.Equal(t, long+fmt.Sprint(i), file.Text())
		assert.LessOrEqual(t, d.held, maxHeld)
	}
	held := 0
	for _, f := range d.files {
		if f.file != nil {
			held += f.file.Len()
		}
	}
	assert.Equal(t, d.held, held)
}

func TestAFileThatIsGoneIsNotRemembered(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.hem")
	require.NoError(t, os.WriteFile(path, []byte("one"), 0o644))
	d := newDisk()
	_, _, err := d.read(path)
	require.NoError(t, err)
	require.NoError(t, os.Remove(path))
	_, _, err = d.read(path)
	assert.ErrorIs(t, err, os.ErrNotExist)
}
