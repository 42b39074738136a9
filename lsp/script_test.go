package lsp

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"
)

var update = flag.Bool("update", false, "write the sessions' answers into their archives")

// TestSessions plays the archives of testdata/sessions. An archive's files are
// written to a folder, except those whose name ends in "~", which only `disk`
// and `open` use. Its file "session" holds commands behind "> " and what they
// answer behind "< "; -update writes the answers anew. The first line of the
// archive says which engine: toy (see its type) or hemline.
//
//	initialize CAPABILITIES   as JSON
//	open FILE [TEXT]          with the text of FILE, or of another of the archive
//	edit FILE RANGE TEXT      RANGE as 0:1-0:2, TEXT as a Go string
//	close FILE
//	save FILE
//	watched                   the client says that files have changed
//	disk FILE TEXT            writes a text of the archive to the disk; the server is not told
//	diagnostics [N]           waits for the next N lists, 1 if not said; of hemline's, errors alone
//	hover FILE PLACE          likewise definition
//	symbols FILE
//	format FILE               shows the text as it is afterwards
//	ask METHOD FILE [PARAMS]  any request; places in PARAMS may be short: "3:5", "3:5-4:0"
//	workspace                 before initialize: the archive's folder is the client's
//	notify METHOD PARAMS      any notification
//	reply METHOD RESULT       what the client answers when it is asked
//	asked METHOD              waits for the server to ask or tell, and shows what
func TestSessions(t *testing.T) {
	archives, err := filepath.Glob("testdata/sessions/*.txtar")
	require.NoError(t, err)
	require.NotEmpty(t, archives)
	for _, path := range archives {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txtar"), func(t *testing.T) { playArchive(t, path) })
	}
}

func playArchive(t *testing.T, path string) {
	archive, err := txtar.ParseFile(path)
	require.NoError(t, err)
	p := &player{t: t, dir: t.TempDir(), texts: map[string]string{}}
	at := -1
	for i, file := range archive.Files {
		if file.Name == "session" {
			at = i
			continue
		}
		p.texts[file.Name] = string(file.Data)
		if !strings.HasSuffix(file.Name, "~") {
			p.write(file.Name, string(file.Data))
		}
	}
	require.GreaterOrEqual(t, at, 0, "no file named session")
	engine := DefaultEngine()
	if strings.HasPrefix(string(archive.Comment), "toy") {
		engine, p.lenient = newToy().engine(), true
	}
	p.session = start(t, engine)
	want := string(archive.Files[at].Data)
	got := p.play(want)
	if *update {
		archive.Files[at].Data = []byte(got)
		require.NoError(t, os.WriteFile(path, txtar.Format(archive), 0o644))
		return
	}
	assert.Equal(t, want, got)
}

type player struct {
	*session
	t     *testing.T
	dir   string
	texts map[string]string
	now   map[string]string // the text of each open file

	// Whether findings that are no errors are shown. Those of the language's
	// own rules are not: a session is not to change with every rule.
	lenient bool
}

func (p *player) write(name, text string) {
	path := filepath.Join(p.dir, filepath.FromSlash(name))
	require.NoError(p.t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(p.t, os.WriteFile(path, []byte(text), 0o644))
}

// play carries out a session and returns it with the answers as they came.
func (p *player) play(session string) string {
	p.now = map[string]string{}
	var out strings.Builder
	for line := range strings.Lines(session) {
		if strings.HasPrefix(line, "<") {
			continue
		}
		out.WriteString(line)
		if command, ok := strings.CutPrefix(strings.TrimSpace(line), "> "); ok {
			for answer := range strings.Lines(p.do(command)) {
				out.WriteString(strings.TrimRight("< "+strings.TrimRight(answer, "\n"), " ") + "\n")
			}
		}
	}
	return strings.NewReplacer(uriOf(p.dir), "DIR", p.dir, "FOLDER").Replace(out.String())
}

func (p *player) uri(name string) string {
	if strings.Contains(name, ":") {
		return name
	}
	return uriOf(filepath.Join(p.dir, filepath.FromSlash(name)))
}

// place is a short way to write a position or a range: 3:5, 3:5-4:0.
var place = regexp.MustCompile(`"(\d+):(\d+)(?:-(\d+):(\d+))?"`)

// params are those of a session's line, with DIR and short places written out.
func (p *player) params(text string) string {
	text = strings.ReplaceAll(text, "DIR", uriOf(p.dir))
	return place.ReplaceAllStringFunc(text, func(short string) string {
		m := place.FindStringSubmatch(short)
		at := func(line, character string) string { return fmt.Sprintf(`{"line":%s,"character":%s}`, line, character) }
		if m[3] == "" {
			return at(m[1], m[2])
		}
		return fmt.Sprintf(`{"start":%s,"end":%s}`, at(m[1], m[2]), at(m[3], m[4]))
	})
}

func (p *player) do(command string) string {
	verb, rest, _ := strings.Cut(command, " ")
	name, rest2, _ := strings.Cut(rest, " ")
	doc := map[string]any{"textDocument": map[string]any{"uri": p.uri(name)}}
	switch verb {
	case "workspace":
		p.folder = uriOf(p.dir)
	case "initialize":
		p.initialize(rest)
	case "ask": // METHOD FILE [PARAMS]
		uri, extra, _ := strings.Cut(rest2, " ")
		doc = map[string]any{"textDocument": map[string]any{"uri": p.uri(uri)}}
		if uri == "-" {
			doc = map[string]any{}
		}
		if extra != "" {
			require.NoError(p.t, json.Unmarshal([]byte(p.params(extra)), &doc), command)
		}
		m := p.answer(p.session.ask(name, doc))
		if m.Error != nil {
			return fmt.Sprintf("error %d: %s", m.Error.Code, m.Error.Message)
		}
		return pretty(p.t, string(m.Result))
	case "notify": // METHOD PARAMS
		p.notify(name, json.RawMessage(p.params(rest2)))
	case "reply": // METHOD RESULT
		p.mu.Lock()
		p.replies[name] = p.params(rest2)
		p.mu.Unlock()
	case "everything": // like diagnostics, with findings that are no errors
		p.lenient = true
		return p.diagnostics(1)
	case "asked": // METHOD
		return pretty(p.t, string(p.note(name)))
	case "open":
		text := name
		if rest2 != "" {
			text = rest2
		}
		p.now[name] = p.texts[text]
		p.open(p.uri(name), p.texts[text])
	case "edit":
		place, quoted, _ := strings.Cut(rest2, " ")
		text, err := strconv.Unquote(quoted)
		require.NoError(p.t, err, command)
		var at [4]int
		_, err = fmt.Sscanf(place, "%d:%d-%d:%d", &at[0], &at[1], &at[2], &at[3])
		require.NoError(p.t, err, command)
		p.edit(p.uri(name), text, at[:]...)
	case "close":
		p.close(p.uri(name))
	case "save":
		p.notify("textDocument/didSave", doc)
	case "watched":
		p.notify("workspace/didChangeWatchedFiles", map[string]any{"changes": []any{}})
	case "disk":
		p.write(name, p.texts[rest2])
	case "diagnostics":
		n := 1
		if rest != "" {
			n, _ = strconv.Atoi(rest)
		}
		return p.diagnostics(n)
	case "hover", "definition":
		var line, character int
		_, err := fmt.Sscanf(rest2, "%d:%d", &line, &character)
		require.NoError(p.t, err, command)
		return pretty(p.t, p.call("textDocument/"+verb, at(p.uri(name), line, character)))
	case "complete": // URI LINE:CHARACTER: the labels in order, and the first one whole
		var line, character int
		_, err := fmt.Sscanf(rest2, "%d:%d", &line, &character)
		require.NoError(p.t, err, command)
		var list struct{ Items []json.RawMessage }
		require.NoError(p.t, json.Unmarshal([]byte(p.call("textDocument/completion", at(p.uri(name), line, character))), &list))
		require.NotNil(p.t, list.Items, "a list, never null")
		labels := make([]string, len(list.Items))
		for i, item := range list.Items {
			var x struct{ Label string }
			require.NoError(p.t, json.Unmarshal(item, &x))
			labels[i] = x.Label
		}
		out := strings.Join(labels, " ") + "\n"
		if len(list.Items) > 0 {
			out += pretty(p.t, string(list.Items[0]))
		}
		return out
	case "actions": // URI LINE:CHARACTER-LINE:CHARACTER [KIND]
		place, only, _ := strings.Cut(rest2, " ")
		var at [4]int
		_, err := fmt.Sscanf(place, "%d:%d-%d:%d", &at[0], &at[1], &at[2], &at[3])
		require.NoError(p.t, err, command)
		where := map[string]any{"start": map[string]any{"line": at[0], "character": at[1]}, "end": map[string]any{"line": at[2], "character": at[3]}}
		asked := map[string]any{"diagnostics": []any{}}
		if only != "" {
			asked["only"] = []string{only}
		}
		doc["range"], doc["context"] = where, asked
		return pretty(p.t, p.call("textDocument/codeAction", doc))
	case "symbols":
		return pretty(p.t, p.call("textDocument/documentSymbol", doc))
	case "format":
		return applyEdits(p.t, p.now[name], p.call("textDocument/formatting", doc))
	default:
		p.t.Fatalf("no such command: %s", command)
	}
	return ""
}

func (p *player) diagnostics(n int) string {
	var b strings.Builder
	for range n {
		list := p.published()
		version := "-"
		if list.Version != nil {
			version = strconv.Itoa(*list.Version)
		}
		if !p.lenient {
			list.Diagnostics = slices.DeleteFunc(list.Diagnostics, func(d diagnostic) bool { return d.Severity != 1 })
		}
		fmt.Fprintf(&b, "%s version %s: %d\n", list.URI, version, len(list.Diagnostics))
		for _, d := range list.Diagnostics {
			fmt.Fprintf(&b, "  %d:%d-%d:%d %s %s: %s\n", d.Range.Start.Line, d.Range.Start.Character, d.Range.End.Line, d.Range.End.Character,
				[]string{"", "error", "warning", "information", "hint"}[d.Severity], d.Code, strings.ReplaceAll(d.Message, "\n", " / "))
			if d.Related != nil {
				fmt.Fprintf(&b, "    %s\n", d.Related)
			}
		}
	}
	return b.String()
}

// pretty writes ranges short and the rest as JSON, a list's items a line each.
func pretty(t *testing.T, result string) string {
	var list []json.RawMessage
	if json.Unmarshal([]byte(result), &list) != nil || list == nil {
		list = []json.RawMessage{json.RawMessage(result)}
	}
	var b strings.Builder
	for _, item := range list {
		var value any
		require.NoError(t, json.Unmarshal(item, &value))
		text, err := json.Marshal(shorten(value))
		require.NoError(t, err)
		b.Write(text)
		b.WriteByte('\n')
	}
	return b.String()
}

func shorten(value any) any {
	switch v := value.(type) {
	case map[string]any:
		start, ok1 := v["start"].(map[string]any)
		end, ok2 := v["end"].(map[string]any)
		if ok1 && ok2 {
			return fmt.Sprintf("%v:%v-%v:%v", start["line"], start["character"], end["line"], end["character"])
		}
		for key := range v {
			v[key] = shorten(v[key])
		}
	case []any:
		for i := range v {
			v[i] = shorten(v[i])
		}
	}
	return value
}

// applyEdits is a client of its own: it knows nothing of the server's texts.
// It counts bytes, so the sessions that format keep to ASCII.
func applyEdits(t *testing.T, text, result string) string {
	var edits []struct {
		Range   struct{ Start, End struct{ Line, Character int } }
		NewText string
	}
	require.NoError(t, json.Unmarshal([]byte(result), &edits))
	require.NotNil(t, edits, "null is no list")
	lines := strings.SplitAfter(text, "\n")
	offset := func(line, character int) (n int) {
		for _, l := range lines[:line] {
			n += len(l)
		}
		return n + character
	}
	slices.Reverse(edits)
	for _, e := range edits {
		text = text[:offset(e.Range.Start.Line, e.Range.Start.Character)] + e.NewText + text[offset(e.Range.End.Line, e.Range.End.Character):]
	}
	return fmt.Sprintf("%d edits\n%s", len(edits), text)
}
