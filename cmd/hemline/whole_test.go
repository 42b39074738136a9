//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A command that is interrupted at any moment leaves what was there, or what it writes,
// and nothing else.
func TestInterrupted(t *testing.T) {
	folder := t.TempDir()
	program := filepath.Join(t.TempDir(), "hemline")
	self, err := os.Executable()
	require.NoError(t, err)
	require.NoError(t, os.Symlink(self, program)) // by which name TestMain knows what it is to be
	text, err := os.ReadFile("../../examples/receiver.hem")
	require.NoError(t, err)
	board := filepath.Join(folder, "board.hem")
	shops, err := filepath.Abs("../../examples")
	require.NoError(t, err)
	require.NoError(t, os.Symlink(filepath.Join(shops, "shops"), filepath.Join(filepath.Dir(folder), "shops")))
	require.NoError(t, os.Symlink(filepath.Join(shops, "parts"), filepath.Join(filepath.Dir(folder), "parts")))
	allowed := map[string]bool{"board.hem": true}
	commands := [][]string{
		{"draw", board, "-o", filepath.Join(folder, "x.svg")}, {"layers", board, "-o", filepath.Join(folder, "l")},
		{"pack", board, "-o", filepath.Join(folder, "x.zip")}, {"fmt", "--write", board}, {"check", "--fix", board},
	}
	for _, name := range []string{"x.svg", "x-2.svg", "x-3.svg", "x-4.svg", "l", "x.zip"} {
		allowed[name] = true
	}
	ended := 0
	signals := []os.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP}
	for i := range 80 {
		require.NoError(t, os.WriteFile(board, append([]byte("let   unused_one=1 mm\n"), text...), 0o644))
		c := exec.Command(program, commands[i%len(commands)]...)
		require.NoError(t, c.Start())
		time.Sleep(time.Duration(i) * 4 * time.Millisecond)
		if c.Process.Signal(signals[i%len(signals)]) == nil {
			ended++
		}
		_ = c.Wait()
		entries, err := os.ReadDir(folder)
		require.NoError(t, err)
		for _, e := range entries {
			assert.True(t, allowed[e.Name()], "%v left %s", c.Args[1:], e.Name())
		}
	}
	assert.Positive(t, ended)
}
