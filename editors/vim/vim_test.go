// Package vim holds the test that the plug-in works in the editor itself, and
// with ALE, a client of language servers.
package vim

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/editors/editortest"
)

// ale is where Debian puts the plug-in.
const ale = "/usr/share/vim-ale"

// editor is the path of a Vim with all features. Debian's smallest one has no
// syntax highlighting.
func editor(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"vim.nox", "vim.gtk3", "vim"} {
		if path, err := exec.LookPath(name); err == nil && exec.Command(path, "-N", "-u", "NONE", "-es", "-c",
			"if has('channel') && has('syntax') | qall! | endif | cquit!").Run() == nil {
			return path
		}
	}
	editortest.Missing(t, "a Vim with channels and syntax")
	return ""
}

// play runs a script in the editor on a file and returns what it said.
func play(t *testing.T, vim, file, script string, environment ...string) map[string]string {
	t.Helper()
	plugin, err := filepath.Abs(".")
	require.NoError(t, err)
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	environment = append(environment, "HEMLINE_OUT="+out, "HEMLINE_STEPS="+filepath.Join(plugin, "testdata", "steps.vim"), "HOME="+dir, "TERM=dumb")
	t.Cleanup(func() {
		if text, err := os.ReadFile(out); t.Failed() && err == nil {
			t.Logf("transcript:\n%s", text)
		}
	})
	editortest.Run(t, 40*time.Second, environment, vim, "-N", "-u", "NONE", "-i", "NONE", "-n", "-es",
		"--cmd", "set runtimepath^="+plugin, "--cmd", "set runtimepath+="+ale, "--cmd", "filetype plugin indent on",
		"--cmd", "let g:ale_linters_explicit=1", "--cmd", "let g:ale_linters={'hem':['hemline']}", "--cmd", "let g:ale_hover_to_preview=1",
		"--cmd", "let g:ale_lint_on_enter=0",
		file, "-c", "runtime plugin/ale.vim", "-c", "source "+filepath.Join(plugin, "testdata", script))
	text, err := os.ReadFile(out)
	require.NoError(t, err)
	steps := editortest.Steps(string(text))
	require.NotContains(t, steps, "failed")
	return steps
}

func TestASessionWithALE(t *testing.T) {
	vim := editor(t)
	if _, err := os.Stat(filepath.Join(ale, "plugin", "ale.vim")); err != nil {
		editortest.Missing(t, "vim-ale")
	}
	program := editortest.Program(t)
	dir := filepath.Join(t.TempDir(), "with space")
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../examples")))
	steps := play(t, vim, filepath.Join(dir, "receiver.hem"), "ale.vim",
		"PATH="+filepath.Dir(program)+string(os.PathListSeparator)+os.Getenv("PATH"))
	assert.Equal(t, `"hem"`, steps["filetype"])
	assert.Contains(t, steps["narrowed"], `"code":"wrap_land"`)
	assert.Contains(t, steps["narrowed"], `wrap on top and bottom is 0.30 mm; standard asks for at least 0.40 mm`)
	assert.Contains(t, steps["narrowed"], `"type":"E"`)
	assert.Equal(t, "[]", steps["mended"])
	assert.Contains(t, steps["hover"], "plating wall")
	assert.Contains(t, steps["definition"], `"typical scar tab width 3 mm`)
	var uses []string
	require.NoError(t, json.Unmarshal([]byte(steps["references"]), &uses))
	assert.Len(t, uses, 4)
	for _, line := range uses {
		assert.Contains(t, line, " like scar ", "of the lines that use it")
	}
	assert.Contains(t, steps["fixed"], "wrap top bottom 0.4 mm")
	assert.Equal(t, "1", steps["end"])
}

func TestTheQuickfixList(t *testing.T) {
	vim := editor(t)
	program := editortest.Program(t)
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../examples")))
	steps := play(t, vim, filepath.Join(dir, "broken", "receiver.hem"), "make.vim",
		"PATH="+filepath.Dir(program)+string(os.PathListSeparator)+os.Getenv("PATH"))
	var found [][4]any
	require.NoError(t, json.Unmarshal([]byte(steps["found"]), &found))
	require.Len(t, found, editortest.Expected(t, "broken/receiver.hem"))
	for _, f := range found {
		assert.Equal(t, "receiver.hem", f[0])
		assert.Greater(t, f[1], 1.0)
		assert.Greater(t, f[2], 0.0)
		assert.Contains(t, f[3], "[", "the name of the rule ends each line")
	}
}

func TestHighlighting(t *testing.T) {
	vim := editor(t)
	for name, text := range editortest.Samples(t) {
		editortest.CompareAt(t, name, text, func(c editortest.Columns) int { return c.Bytes }, editortest.VimGroups, func(file, list string) string {
			return play(t, vim, file, "highlight.vim", "HEMLINE_PLACES="+list, "LC_ALL=C.UTF-8")["groups"]
		})
	}
}

// The editor indents as the formatter does.
func TestIndenting(t *testing.T) {
	vim := editor(t)
	file := filepath.Join(t.TempDir(), "receiver.hem")
	text, err := os.ReadFile("../../examples/receiver.hem")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, text, 0o644))
	steps := play(t, vim, file, "indent.vim")
	assert.Equal(t, "1", steps["moved"])
	assert.Equal(t, "1", steps["back"])
	assert.Equal(t, `"// %s"`, steps["comment"])
}
