package lsp

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAFileThatDidNotChangeIsTheSameValue(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.hem")
	require.NoError(t, os.WriteFile(path, []byte("one"), 0o644))
	d := newDisk()
	first, err := d.read(path)
	require.NoError(t, err)
	again, err := d.read(path)
	require.NoError(t, err)
	assert.Same(t, first, again)

	require.NoError(t, os.WriteFile(path, []byte("longer"), 0o644))
	changed, err := d.read(path)
	require.NoError(t, err)
	assert.Equal(t, "longer", changed.Text())

	d.forget()
	read, err := d.read(path)
	require.NoError(t, err)
	assert.NotSame(t, changed, read)
}

func TestAFileThatIsGoneIsNotRemembered(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.hem")
	require.NoError(t, os.WriteFile(path, []byte("one"), 0o644))
	d := newDisk()
	_, err := d.read(path)
	require.NoError(t, err)
	require.NoError(t, os.Remove(path))
	_, err = d.read(path)
	assert.ErrorIs(t, err, os.ErrNotExist)
}
