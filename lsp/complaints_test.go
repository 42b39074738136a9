package lsp

import (
	"encoding/json"
	"fmt"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests of this file hold what users of language servers complain about
// most, one for each complaint: what is said of a text is always said of the
// text as it is.

const clean = "board b { thickness 1.6 mm }\noutline rectangle 60 mm by 40 mm\nlet deep = 3 mm\nlet wide = deep\nnote \"x\"\n"

const nowhere = "file:///nowhere/a.hem"

func errorsOf(p published) string {
	var list []string
	for _, d := range p.Diagnostics {
		if d.Severity == 1 {
			list = append(list, fmt.Sprintf("%d:%d-%d:%d", d.Range.Start.Line, d.Range.Start.Character, d.Range.End.Line, d.Range.End.Character))
		}
	}
	return strings.Join(list, " ")
}

// 1. Diagnostics that stay after the error is repaired.
func TestARepairedErrorIsGoneAtOnce(t *testing.T) {
	c := start(t, DefaultEngine())
	c.initialize(`{}`)
	c.open(nowhere, clean)
	assert.Empty(t, errorsOf(c.published()))
	for range 5 {
		c.edit(nowhere, "q", 3, 15, 3, 15)
		assert.Equal(t, "3:11-3:16", errorsOf(c.published()))
		c.edit(nowhere, "", 3, 15, 3, 16)
		p := c.published()
		assert.Empty(t, errorsOf(p))
		assert.NotNil(t, p.Diagnostics, "an empty list, not none")
	}
	c.edit(nowhere, "q", 3, 15, 3, 15)
	c.published()
	c.close(nowhere)
	assert.Empty(t, c.published().Diagnostics, "a closed text is cleared")
}

// 2. Lag that grows while typing: every version is played back.
func TestVersionsThatNobodyWaitsForAreLeftOut(t *testing.T) {
	toy := newToy()
	c := start(t, toy.engine())
	c.initialize(`{}`)
	c.open(nowhere, "wait")
	<-toy.waiting // the check of the first version stands at the gate
	for range 100 {
		c.edit(nowhere, "x", 0, 0, 0, 0)
	}
	c.edit(nowhere, "bad ", 0, 0, 0, 0)
	c.fails("no/method", nil) // all of it has been read
	close(toy.gate)
	for c.published().String() != "0:0-0:3 1 toy_bad" {
	}
	toy.mu.Lock()
	defer toy.mu.Unlock()
	assert.LessOrEqual(t, len(toy.analysed), 3, "the first, perhaps one more, and the last of 101")
}

// 3. Flicker: an error elsewhere vanishes and comes back with every key.
func TestAnErrorElsewhereStaysWhileTyping(t *testing.T) {
	c := start(t, DefaultEngine())
	c.initialize(`{}`)
	c.open(nowhere, clean+"let broken = nothing\n")
	assert.Equal(t, "5:13-5:20", errorsOf(c.published()))
	for i, letter := range strings.Split("tab t1 on south", "") {
		c.edit(nowhere, letter, 4, 8+i, 4, 8+i)
		assert.Contains(t, errorsOf(c.published()), "5:13-5:20", letter)
	}
}

// 4. Columns behind characters of more than one unit.
func TestColumnsBehindWideCharacters(t *testing.T) {
	for encoding, want := range map[string]string{"utf-8": "0:29-0:33", "utf-16": "0:22-0:26", "utf-32": "0:21-0:25"} {
		c := start(t, DefaultEngine())
		c.initialize(fmt.Sprintf(`{"general":{"positionEncodings":[%q]}}`, encoding))
		c.open(nowhere, "note \"é🛠漢字\"; let x = nope\n")
		assert.Equal(t, want, errorsOf(c.published()), encoding)
		var line, from, to int
		_, err := fmt.Sscanf(want, "0:%d-0:%d", &from, &to)
		require.NoError(t, err)
		c.edit(nowhere, "3 mm", line, from, line, to)
		assert.Empty(t, errorsOf(c.published()), encoding)
	}
}

// 5. Large files: everything still answers, and soon.
func TestALargeFileStaysUsable(t *testing.T) {
	var text strings.Builder
	text.WriteString(clean)
	for i := range 4_000 {
		fmt.Fprintf(&text, "let v%d = %d mm + deep\n", i, i)
	}
	c := start(t, DefaultEngine())
	c.initialize(`{}`)
	c.open(nowhere, text.String())
	c.published()
	began := time.Now()
	for i := range 2 {
		c.edit(nowhere, "q", 2_000, 15, 2_000, 15)
		c.edit(nowhere, "", 2_000, 15, 2_000, 16)
		for _, method := range []string{"hover", "completion", "definition", "signatureHelp", "documentHighlight"} {
			c.call("textDocument/"+method, at(nowhere, 1_000+i, 12))
		}
	}
	for _, method := range []string{"documentSymbol", "foldingRange", "semanticTokens/full", "formatting"} {
		c.call("textDocument/"+method, at(nowhere, 0, 0))
	}
	// A bound on hanging, not a measure of speed.
	assert.Less(t, time.Since(began), patience)
}

// 6. The formatter loses comments, or replaces the whole file.
func TestFormattingTouchesWhatIsWrongAlone(t *testing.T) {
	text := strings.Repeat("// a comment\nnote \"a\" // behind\n", 500)
	c := start(t, DefaultEngine())
	c.initialize(`{}`)
	c.open(nowhere, strings.Replace(text, "note \"a\" // behind", "note    \"a\"   // behind", 1))
	var edits []struct {
		Range   json.RawMessage
		NewText string
	}
	require.NoError(t, json.Unmarshal([]byte(c.call("textDocument/formatting", at(nowhere, 0, 0))), &edits))
	require.Len(t, edits, 1)
	assert.JSONEq(t, `{"start":{"line":1,"character":0},"end":{"line":2,"character":0}}`, string(edits[0].Range))
	assert.Equal(t, "note \"a\" // behind\n", edits[0].NewText)
}

// 7. Used files that are open and not saved.
func TestUnsavedTextCountsInThoseThatUseIt(t *testing.T) {
	folder := t.TempDir()
	lib := write(t, folder, "lib.hem", "let deep = 3 mm\n")
	user := write(t, folder, "a.hem", "use \"lib.hem\"\nlet wide = deep\n")
	c := start(t, DefaultEngine())
	c.initialize(`{}`)
	c.open(uriOf(user), "use \"lib.hem\"\nlet wide = deep\n")
	assert.Empty(t, errorsOf(c.published()))
	c.open(uriOf(lib), "let deeper = 3 mm\n")
	for p := c.published(); ; p = c.published() {
		if p.URI == uriOf(user) {
			assert.Equal(t, "1:11-1:15", errorsOf(p))
			break
		}
	}
	c.close(uriOf(lib)) // the disk counts again
	for p := c.published(); p.URI != uriOf(user) || errorsOf(p) != ""; p = c.published() {
	}
}

// 8. A client's spelling of a URI comes back byte for byte.
func TestAnOddURIIsKept(t *testing.T) {
	for _, uri := range []string{"file:///c%3A/Boards/a%20b.hem", "file:///C:/Boards/a b.hem", "untitled:Untitled-1", "file:///nowhere/%C3%A9.hem"} {
		c := start(t, DefaultEngine())
		c.initialize(`{}`)
		c.open(uri, "let x = nope\n")
		assert.Equal(t, uri, c.published().URI)
		var at struct{ URI string }
		c.edit(uri, "let x = 3 mm\nlet y = x\n")
		c.published()
		require.NoError(t, json.Unmarshal([]byte(c.call("textDocument/definition", map[string]any{
			"textDocument": map[string]any{"uri": uri}, "position": map[string]any{"line": 1, "character": 8},
		})), &at))
		assert.Equal(t, uri, at.URI)
	}
}

// 9. Odd edits put the text out of step: TestRandomEdits does so at length.
func TestOddEditsKeepTheTextInStep(t *testing.T) {
	c := start(t, DefaultEngine())
	c.initialize(`{}`)
	c.open(nowhere, "note \"🛠\"\r\nlet x = nope\r\n")
	c.published()
	c.edit(nowhere, "", 0, 7, 0, 7)    // inside a pair of surrogates
	c.edit(nowhere, "\n", 0, 9, 0, 9)  // into the line end
	c.edit(nowhere, "", 99, 0, 200, 5) // beyond the end
	c.edit(nowhere, "a", 1, 0, 0, 0)   // backwards
	c.edit(nowhere, "", 0, 0, 99, 99)  // everything
	c.edit(nowhere, "let z = nope", 0, 0, 0, 0)
	for p := c.published(); *p.Version != c.versions[nowhere]; p = c.published() {
	}
	assert.Equal(t, "null", c.call("textDocument/hover", at(nowhere, 0, 8)))
	c.edit(nowhere, "3 mm", 0, 8, 0, 12)
	assert.Empty(t, errorsOf(c.published()))
}

// 10. One broken statement silences the server.
func TestABrokenStatementCostsItselfAlone(t *testing.T) {
	broken := clean + "tab t1 on (south at\nlet far = wide\nlet x = nope\nplating { { {\n"
	c := start(t, DefaultEngine())
	c.initialize(`{}`)
	c.open(nowhere, broken)
	found := errorsOf(c.published())
	assert.Contains(t, found, "5:")
	assert.Contains(t, found, "7:8-7:12", "the others are still found")
	assert.Contains(t, c.call("textDocument/hover", at(nowhere, 6, 11)), "3.00 mm")
	assert.Contains(t, c.call("textDocument/completion", at(nowhere, 6, 12)), "wide")
	assert.NotEqual(t, "null", c.call("textDocument/definition", at(nowhere, 6, 11)))
	assert.Contains(t, c.call("textDocument/documentSymbol", at(nowhere, 0, 0)), "far")
	assert.Contains(t, c.call("textDocument/signatureHelp", at(nowhere, 5, 7)), "tab NAME")
	// Nothing here is an answer, not an error.
	for _, method := range []string{"hover", "definition", "linkedEditingRange"} {
		assert.Equal(t, "null", c.call("textDocument/"+method, at(nowhere, 99, 0)), method)
	}
}

// A client that reads nothing keeps no message from being read.
func TestACancellationIsReadBehindAClientThatDoesNotRead(t *testing.T) {
	toy := newToy()
	c := start(t, toy.engine())
	c.initialize(`{}`)
	c.open(nowhere, "wait")
	<-toy.waiting
	c.stopReading()
	slow := c.ask("textDocument/hover", at(nowhere, 0, 0))
	for range 50 {
		c.ask("no/method", nil)                      // each is refused, and nobody reads that
		c.raw(frame(`{"jsonrpc":"1.0","method":1}`)) // likewise
	}
	id, ok := decodeID(json.RawMessage(slow))
	require.True(t, ok)
	require.Eventually(t, func() bool { return c.server.calls.get(id) != nil }, patience, time.Millisecond)
	call := c.server.calls.get(id)
	began := time.Now()
	c.notify("$/cancelRequest", map[string]any{"id": json.RawMessage(slow)})
	select {
	case <-call.ctx.Done():
		assert.Less(t, time.Since(began), 50*time.Millisecond)
	case <-time.After(patience):
		t.Fatal("the cancellation was not read")
	}
	close(toy.gate)
	c.startReading()
	m := c.answer(slow)
	require.NotNil(t, m.Error)
	assert.Equal(t, -32800, m.Error.Code)
}

// Two servers of one board leave its file, and each other, alone.
func TestTwoServersOfOneBoard(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	folder := t.TempDir()
	board := write(t, folder, "a.hem", clean)
	before, err := os.Stat(board)
	require.NoError(t, err)
	one, two := start(t, DefaultEngine()), start(t, DefaultEngine())
	for i, c := range []*session{one, two} {
		c.folder = uriOf(folder)
		c.initialize(`{"textDocument":{"publishDiagnostics":{"codeDescriptionSupport":true}}}`)
		c.open(uriOf(board), clean)
		c.published()
		c.edit(uriOf(board), fmt.Sprintf("let own%d = nope\n", i), 4, 0, 4, 0)
		assert.Equal(t, "4:11-4:15", errorsOf(c.published()))
	}
	for i, c := range []*session{one, two} {
		assert.Contains(t, c.call("textDocument/rename", map[string]any{
			"textDocument": map[string]any{"uri": uriOf(board)}, "position": map[string]any{"line": 2, "character": 5}, "newName": fmt.Sprintf("far%d", i),
		}), fmt.Sprintf("far%d", i))
		assert.Contains(t, symbols(t, c), fmt.Sprintf("own%d", i))
		c.notify("textDocument/didSave", map[string]any{"textDocument": map[string]any{"uri": uriOf(board)}})
	}
	after, err := os.Stat(board)
	require.NoError(t, err)
	assert.Equal(t, before.ModTime(), after.ModTime())
	text, err := os.ReadFile(board)
	require.NoError(t, err)
	assert.Equal(t, clean, string(text))
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, entries, 1, "nothing was left beside it")
}

// What a session starts ends with it.
func TestASessionLeavesNoGoroutine(t *testing.T) {
	before := goroutines()
	for range 10 {
		c := start(t, DefaultEngine())
		c.initialize(`{"window":{"workDoneProgress":true},"workspace":{"configuration":true}}`)
		c.note("workspace/configuration")
		c.open(nowhere, clean)
		c.published()
		c.call("textDocument/hover", at(nowhere, 2, 5))
		c.call("shutdown", nil)
		c.notify("exit", nil)
		assert.Equal(t, 0, c.exitCode())
		c.in.Close()
	}
	noneLeft(t, before)
}

// noneLeft waits until every goroutine is gone that a server has started since.
func noneLeft(t *testing.T, before map[string]bool) {
	t.Helper()
	if !assert.Eventually(t, func() bool { return serverGoroutines(before) == "" }, patience, 20*time.Millisecond) {
		t.Log(serverGoroutines(before))
	}
}

func stacks() []string {
	text := make([]byte, 1<<22)
	return strings.Split(string(text[:runtime.Stack(text, true)]), "\n\n")
}

// goroutines are the names of those there are.
func goroutines() map[string]bool {
	names := map[string]bool{}
	for _, stack := range stacks() {
		name, _, _ := strings.Cut(stack, " [")
		names[name] = true
	}
	return names
}

// serverGoroutines shows the goroutines that servers have started since, those
// of the tests' own plumbing left out.
func serverGoroutines(before map[string]bool) string {
	var list []string
	for _, stack := range stacks() {
		if name, _, _ := strings.Cut(stack, " ["); before[name] {
			continue
		}
		_, creator, _ := strings.Cut(stack, "created by ")
		if strings.HasPrefix(creator, "hemline/lsp") && !strings.HasPrefix(creator, "hemline/lsp.start") && !strings.HasPrefix(creator, "hemline/lsp.newWatcher") && !strings.Contains(creator, "watcher)") || strings.Contains(creator, "jsonrpc2") {
			list = append(list, stack)
		}
	}
	return strings.Join(list, "\n\n")
}
