package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A disk that runs full while a command writes: it says so, and leaves nothing.
func TestAFullDisk(t *testing.T) {
	board, err := filepath.Abs("../../examples/receiver.hem")
	require.NoError(t, err)
	for name, args := range map[string][]string{
		"drawing":  {"draw", board, "-o", "x.pdf"},
		"sheets":   {"draw", board, "-o", "x.svg"},
		"notes":    {"notes", board, "-o", "x.txt"},
		"layers":   {"layers", board, "-o", "x"},
		"package":  {"pack", board, "-o", "x.zip"},
		"findings": {"check", board, "--picture", "x.svg"},
	} {
		t.Run(name, func(t *testing.T) {
			disk := t.TempDir()
			if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, "size=12k"); err != nil {
				t.Skipf("a small disk takes the right to mount one: %s", err)
			}
			defer func() { require.NoError(t, syscall.Unmount(disk, 0)) }()
			require.NoError(t, os.WriteFile(filepath.Join(disk, "kept"), make([]byte, 8<<10), 0o600))
			args[len(args)-1] = filepath.Join(disk, args[len(args)-1])
			var said strings.Builder
			assert.Equal(t, exitFailed, run(args, &streams{out: &strings.Builder{}, err: &said}))
			assert.Contains(t, said.String(), "no space left on device")
			left, err := os.ReadDir(disk)
			require.NoError(t, err)
			require.Len(t, left, 1, "%v", left)
			assert.Equal(t, "kept", left[0].Name())
		})
	}
}

// A disk that takes nothing: it says so, and what was there stays.
func TestADiskThatTakesNothing(t *testing.T) {
	board, err := filepath.Abs("../../examples/receiver.hem")
	require.NoError(t, err)
	for name, args := range map[string][]string{
		"layers":         {"layers", board, "-o", "x"},
		"layers anew":    {"layers", board, "--origin=1mm,2mm", "-o", "there"},
		"package":        {"pack", board, "-o", "x.zip"},
		"package placed": {"pack", board, "--same", "a", "-o", "x.zip"},
	} {
		t.Run(name, func(t *testing.T) {
			disk := t.TempDir()
			if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, ""); err != nil {
				t.Skipf("a disk of its own takes the right to mount one: %s", err)
			}
			defer func() { require.NoError(t, syscall.Unmount(disk, 0)) }()
			require.Equal(t, exitClean, run([]string{"layers", board, "-o", filepath.Join(disk, "there")}, &streams{out: &strings.Builder{}, err: &strings.Builder{}}))
			before, err := os.ReadFile(filepath.Join(disk, "there", "profile.gbr"))
			require.NoError(t, err)
			require.NoError(t, syscall.Mount("tmpfs", disk, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""))
			args[len(args)-1] = filepath.Join(disk, args[len(args)-1])
			var said strings.Builder
			assert.Equal(t, exitFailed, run(args, &streams{out: &strings.Builder{}, err: &said}))
			assert.Contains(t, said.String(), "read-only file system")
			left, err := os.ReadDir(disk)
			require.NoError(t, err)
			assert.Len(t, left, 1, "%v", left)
			after, err := os.ReadFile(filepath.Join(disk, "there", "profile.gbr"))
			require.NoError(t, err)
			assert.Equal(t, before, after)
		})
	}
}

// A file with a second name is written where it is; where the disk has no room for
// the longer text, the old one is put back.
func TestAFullDiskUnderAFileWithTwoNames(t *testing.T) {
	disk := t.TempDir()
	if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, "size=12k"); err != nil {
		t.Skipf("a small disk takes the right to mount one: %s", err)
	}
	defer func() { require.NoError(t, syscall.Unmount(disk, 0)) }()
	one, two := filepath.Join(disk, "one"), filepath.Join(disk, "two")
	old := strings.Repeat("x", 5000)
	require.NoError(t, os.WriteFile(one, []byte(old), 0o644))
	require.NoError(t, os.Link(one, two))
	require.ErrorContains(t, put(two, []byte(strings.Repeat("y", 20_000))), two+": no space left on device")
	left, err := os.ReadFile(one)
	require.NoError(t, err)
	assert.True(t, old == string(left), "%d bytes are left", len(left))
	require.NoError(t, put(two, []byte("short")))
	left, err = os.ReadFile(one)
	require.NoError(t, err)
	assert.Equal(t, "short", string(left))
}

// Whoever may give a file away leaves it to whom it belongs.
func TestAFileKeepsItsOwner(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	require.NoError(t, os.WriteFile(path, nil, 0o640))
	const other = 65534 // of nobody, on most systems; the number alone counts
	if err := os.Chown(path, other, other); err != nil {
		t.Skipf("another owner takes the right to give files away: %s", err)
	}
	before, err := os.Stat(path)
	require.NoError(t, err)
	require.NoError(t, put(path, []byte("new")))
	after, err := os.Stat(path)
	require.NoError(t, err)
	is := after.Sys().(*syscall.Stat_t)
	assert.Equal(t, []uint32{other, other}, []uint32{is.Uid, is.Gid})
	assert.Equal(t, before.Mode(), after.Mode())
	assert.False(t, os.SameFile(before, after), "another file was put in its place, at once")
}
