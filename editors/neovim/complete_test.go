package neovim

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/editors/editortest"
)

// running is an editor without a screen, keys typed from outside.
type running struct {
	t            *testing.T
	nvim, socket string
}

// begin starts the editor on a file with no setting but the plugin's folder,
// and whatever commands are given first.
func begin(t *testing.T, file string, first ...string) *running {
	t.Helper()
	nvim, plugin := editor(t)
	program := editortest.Program(t)
	dir := t.TempDir()
	e := &running{t, nvim, filepath.Join(dir, "s")}
	args := []string{"--headless", "-u", "NONE", "-i", "NONE", "-n", "--listen", e.socket,
		"--cmd", "set runtimepath^=" + plugin, "--cmd", "filetype plugin on"}
	for _, command := range first {
		args = append(args, "--cmd", command)
	}
	cmd := exec.Command(nvim, append(args, file)...)
	cmd.Env = append(os.Environ(),
		"PATH="+filepath.Dir(program)+string(os.PathListSeparator)+os.Getenv("PATH"),
		"XDG_STATE_HOME="+dir, "XDG_CACHE_HOME="+dir, "XDG_DATA_HOME="+dir, "XDG_CONFIG_HOME="+dir)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	e.until("the server", `luaeval("#vim.lsp.buf_get_clients(0)")`, func(out string) bool { return out == "1" })
	return e
}

func (e *running) keys(keys string) {
	e.t.Helper()
	out, err := exec.Command(e.nvim, "--server", e.socket, "--remote-send", keys).CombinedOutput()
	require.NoError(e.t, err, "%s", out)
}

func (e *running) ask(expression string) string {
	out, err := exec.Command(e.nvim, "--server", e.socket, "--remote-expr", expression).CombinedOutput()
	if err != nil {
		return err.Error() // it is not there yet
	}
	return strings.TrimSpace(string(out))
}

func (e *running) until(what, expression string, good func(string) bool) string {
	e.t.Helper()
	var out string
	require.Eventually(e.t, func() bool { out = e.ask(expression); return good(out) }, 20*time.Second, 20*time.Millisecond, "waiting for %s; last: %s", what, &out)
	return out
}

// menu waits for a list that has a word, and tells all that it has.
func (e *running) menu(word string) (words []string) {
	e.t.Helper()
	e.until("a list with "+word, `json_encode(map(complete_info(["items", "pum_visible"]).pum_visible ? complete_info(["items"]).items : [], {_, i -> i.word}))`, func(out string) bool {
		words = nil
		if json.Unmarshal([]byte(out), &words) != nil {
			return false
		}
		for _, w := range words {
			if w == word {
				return true
			}
		}
		return false
	})
	return words
}

// line waits for the cursor's line to be a text.
func (e *running) line(want string) {
	e.t.Helper()
	e.until("the line "+want, `getline(".")`, func(out string) bool { return out == want })
}

const small = "hem 1\nlet µ_wide = 3 mm\noutline rectangle 30 mm by 20 mm\n"

// With the plugin alone, nothing set, completion comes up as one types, chooses
// nothing by itself, and is called for by the editor's own keys.
func TestCompletionWithoutASetting(t *testing.T) {
	file := filepath.Join(t.TempDir(), "a.hem")
	require.NoError(t, os.WriteFile(file, []byte(small), 0o644))
	e := begin(t, file)
	before := e.ask("&completeopt")

	e.keys("Gopl")
	assert.Subset(t, e.menu("plating"), []string{"plating", "plane"})
	e.line("pl")
	e.keys("at")
	e.menu("plating")
	e.keys("<C-n>")
	e.line("plating")
	e.keys(" w { along ")
	words := e.menu("north")
	assert.Contains(t, words, "south")
	e.keys("sou<C-n>")
	e.line("plating w { along south")
	e.keys("<Esc>")
	e.until("what the user has set to be back", "&completeopt", func(out string) bool { return out == before })

	// A name after characters that count otherwise in UTF-16.
	e.keys("olet b = µ")
	e.menu("µ_wide")
	e.keys("<C-n><Esc>")
	e.line("let b = µ_wide")

	e.keys("otab x <C-x><C-o>")
	e.menu("on")
	e.keys("<Esc>")
}

// Whoever has another plugin for it turns it off; the editor's own keys go on.
func TestCompletionTurnedOff(t *testing.T) {
	file := filepath.Join(t.TempDir(), "a.hem")
	require.NoError(t, os.WriteFile(file, []byte(small), 0o644))
	e := begin(t, file, "lua require('hemline').setup({ complete = false })")
	e.keys("Gopl")
	e.line("pl")
	time.Sleep(300 * time.Millisecond)
	assert.Equal(t, "0", e.ask("pumvisible()"))
	e.keys("<C-x><C-o>")
	e.menu("plane")
}
