package lsp

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/source"
)

func write(t *testing.T, folder, name, text string) string {
	t.Helper()
	path := filepath.Join(folder, filepath.FromSlash(name))
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

// A click on a rule's name opens its description without any network.
func TestARuleLeadsToItsDescription(t *testing.T) {
	cache := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", cache)
	c := start(t, DefaultEngine())
	c.initialize(`{"textDocument":{"publishDiagnostics":{"codeDescriptionSupport":true}}}`)
	c.open("file:///nowhere/a.hem", "outline rectangle 60 mm by 40 mm\nplating w { along south; net GND }\nlet x = y\n")
	var list struct {
		Diagnostics []struct {
			Code            string
			CodeDescription *struct{ Href string }
		}
	}
	require.NoError(t, json.Unmarshal(c.note("textDocument/publishDiagnostics"), &list))
	described := 0
	for _, d := range list.Diagnostics {
		if d.CodeDescription == nil {
			assert.Equal(t, "unknown_name", d.Code, "only what has no page of its own")
			continue
		}
		described++
		uri, line, ok := strings.Cut(d.CodeDescription.Href, "#L")
		require.True(t, ok, d.CodeDescription.Href)
		path, ok := pathOf(uri)
		require.True(t, ok)
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		n := 0
		_, err = fmt.Sscan(line, &n)
		require.NoError(t, err)
		assert.Equal(t, "## "+d.Code, strings.Split(string(text), "\n")[n-1])
	}
	assert.Positive(t, described)
}

func TestNoPlaceForTheRules(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", write(t, t.TempDir(), "file", ""))
	c := start(t, DefaultEngine())
	c.initialize(`{"textDocument":{"publishDiagnostics":{"codeDescriptionSupport":true}}}`)
	c.open("file:///nowhere/a.hem", "outline rectangle 60 mm by 40 mm\nplating w { along south; net GND }\n")
	assert.NotContains(t, string(c.note("textDocument/publishDiagnostics")), "codeDescription")
}

func symbols(t *testing.T, c *session) string {
	t.Helper()
	var list []struct{ Name string }
	require.NoError(t, json.Unmarshal([]byte(c.call("workspace/symbol", map[string]any{"query": ""})), &list))
	var names []string
	for _, s := range list {
		names = append(names, s.Name)
	}
	return strings.Join(names, " ")
}

// Folders come and go; what is hidden or installed is not the user's; an open
// text counts as the editor has it, and once.
func TestFoldersOfTheWorkspace(t *testing.T) {
	one, two := t.TempDir(), t.TempDir()
	open := write(t, one, "a.hem", "let from_disk = 1\n")
	write(t, one, "deep/er/b.hem", "let b = 1\n")
	write(t, one, ".hidden/c.hem", "let c = 1\n")
	write(t, one, "node_modules/d.hem", "let d = 1\n")
	write(t, one, "e.txt", "let e = 1\n")
	write(t, two, "f.hem", "let f = 1\n")
	c := start(t, DefaultEngine())
	c.folder = uriOf(one)
	c.initialize(`{}`)
	assert.Equal(t, "from_disk b", symbols(t, c))
	c.open(uriOf(open), "let typed = 1\n")
	assert.Equal(t, "typed b", symbols(t, c))
	folder := func(path string) []any { return []any{map[string]any{"uri": uriOf(path), "name": "x"}} }
	c.notify("workspace/didChangeWorkspaceFolders", map[string]any{"event": map[string]any{"added": folder(two), "removed": []any{}}})
	assert.Equal(t, "typed b f", symbols(t, c))
	c.notify("workspace/didChangeWorkspaceFolders", map[string]any{"event": map[string]any{"added": []any{}, "removed": folder(one)}})
	assert.Equal(t, "typed f", symbols(t, c))
	write(t, two, "g.hem", "let g = 1\n")
	assert.Equal(t, "typed f g", symbols(t, c), "this client watches no files")
	write(t, two, "f.hem", "let other = 1\n")
	assert.Equal(t, "typed other g", symbols(t, c), "a text that changed is read again in any case")
}

// Links are followed as on the command line: each text once, whatever leads to it.
func TestLinksInTheWorkspace(t *testing.T) {
	one, two := t.TempDir(), t.TempDir()
	write(t, one, "a.hem", "let a = 1\n")
	far := write(t, two, "far.hem", "let far = 1\n")
	write(t, two, "deep/b.hem", "let b = 1\n")
	for name, to := range map[string]string{"again.hem": "a.hem", "far.hem": far, "deep": filepath.Join(two, "deep"), "round": ".", "gone.hem": "nothing"} {
		require.NoError(t, os.Symlink(to, filepath.Join(one, name)))
	}
	linked := filepath.Join(t.TempDir(), "linked")
	require.NoError(t, os.Symlink(one, linked))
	for _, folder := range []string{one, linked} {
		c := start(t, DefaultEngine())
		c.folder = uriOf(folder)
		c.initialize(`{}`)
		assert.Equal(t, "a b far", symbols(t, c), folder)
		c.open(uriOf(filepath.Join(folder, "again.hem")), "let typed = 1\n")
		if folder == one {
			assert.Equal(t, "typed b far", symbols(t, c), "what is open by a link is not read once more from the disk")
		}
	}
}

// A path after use is completed by what links lead to.
func TestLinksAreOfferedAsFiles(t *testing.T) {
	folder := t.TempDir()
	write(t, folder, "shops/a.hem", "")
	require.NoError(t, os.Symlink("shops", filepath.Join(folder, "linked")))
	require.NoError(t, os.Symlink("shops/a.hem", filepath.Join(folder, "a.hem")))
	require.NoError(t, os.Symlink("nothing", filepath.Join(folder, "gone")))
	assert.Equal(t, []string{"a.hem", "linked/", "shops/"}, filesBeside(filepath.Join(folder, "board.hem"))(""))
}

// Where the client has agreed to tell of files that change, those in its folders are not
// looked at before it does.
func TestFilesThatTheClientWatches(t *testing.T) {
	folder := t.TempDir()
	write(t, folder, "a.hem", "let one = 1\n")
	c := start(t, DefaultEngine())
	c.folder = uriOf(folder)
	c.initialize(`{"workspace":{"didChangeWatchedFiles":{"dynamicRegistration":true}}}`)
	c.notify("initialized", map[string]any{})
	c.note("client/registerCapability")
	require.Eventually(t, c.server.workspace.watched.Load, patience, time.Millisecond)
	assert.Equal(t, "one", symbols(t, c))
	write(t, folder, "a.hem", "let another = 1\n")
	write(t, folder, "b.hem", "let more = 1\n")
	assert.Equal(t, "one", symbols(t, c))
	c.notify("workspace/didChangeWatchedFiles", map[string]any{"changes": []any{}})
	assert.Equal(t, "another more", symbols(t, c))
}

// slowEngine takes its time over every text, or until it is let go.
func slowEngine(gate chan struct{}) Engine {
	engine := DefaultEngine()
	analyze := engine.Analyze
	engine.Analyze = func(root *source.File, read lang.Reader, prev *lang.Analysis) *lang.Analysis {
		<-gate
		return analyze(root, read, prev)
	}
	return engine
}

type progressNote struct {
	Token json.RawMessage
	Value struct {
		Kind, Title, Message string
		Percentage           *int
		Cancellable          bool
	}
}

func nextProgress(t *testing.T, c *session) (p progressNote) {
	t.Helper()
	require.NoError(t, json.Unmarshal(c.note("$/progress"), &p))
	return p
}

// A long look at the workspace is shown and can be stopped.
func TestProgressOfAWorkspaceScan(t *testing.T) {
	folder := t.TempDir()
	for i := range 9 {
		write(t, folder, fmt.Sprintf("%d.hem", i), "let a = 1\n")
	}
	scan := func(t *testing.T, params map[string]any) (*session, chan struct{}, string) {
		gate := make(chan struct{})
		c := start(t, slowEngine(gate))
		c.folder, c.server.progressAfter = uriOf(folder), time.Nanosecond
		c.initialize(`{"window":{"workDoneProgress":true}}`)
		params["query"] = ""
		return c, gate, c.ask("workspace/symbol", params)
	}
	t.Run("to its end", func(t *testing.T) {
		c, gate, id := scan(t, map[string]any{"workDoneToken": "theirs"})
		begin := nextProgress(t, c)
		assert.Equal(t, "begin", begin.Value.Kind)
		assert.Equal(t, `"theirs"`, string(begin.Token))
		assert.Equal(t, "Reading boards", begin.Value.Title)
		assert.True(t, begin.Value.Cancellable)
		assert.Equal(t, "0 of 9", nextProgress(t, c).Value.Message)
		close(gate)
		require.Nil(t, c.answer(id).Error)
		for {
			if p := nextProgress(t, c); p.Value.Kind == "end" {
				break
			}
		}
	})
	t.Run("stopped by its token", func(t *testing.T) {
		c, gate, id := scan(t, map[string]any{})
		create := c.note("window/workDoneProgress/create")
		begin := nextProgress(t, c)
		assert.JSONEq(t, string(create), fmt.Sprintf(`{"token":%s}`, begin.Token))
		c.notify("window/workDoneProgress/cancel", map[string]any{"token": begin.Token})
		c.notify("window/workDoneProgress/cancel", map[string]any{"token": "nobody's"})
		c.fails("workspace/executeCommand", map[string]any{"command": "none"}) // both have been read
		close(gate)
		m := c.answer(id)
		require.NotNil(t, m.Error)
		assert.Equal(t, -32800, m.Error.Code)
	})
}
