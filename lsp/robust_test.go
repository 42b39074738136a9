package lsp

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"math/rand/v2"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/source"
)

// amount is how much a test does: a few seconds' worth, or what the environment
// variable says.
func amount(t *testing.T, variable string, usual int) int {
	t.Helper()
	text := os.Getenv(variable)
	if text == "" {
		return usual
	}
	n, err := strconv.Atoi(text)
	require.NoError(t, err, variable)
	return n
}

// editor is a text as an editor keeps it, in UTF-16 and by lines that it finds
// by itself: it shares nothing with the server's.
type editor struct{ units []uint16 }

func newEditor(text string) *editor { return &editor{utf16.Encode([]rune(text))} }

func (e *editor) text() string { return string(utf16.Decode(e.units)) }

// offset is the unit at a position: a column past the line's end means the end,
// a line past the text the text's end, and a place between the halves of a pair
// the first half.
func (e *editor) offset(line, column int) int {
	at := 0
	for ; line > 0 && at < len(e.units); line-- {
		for at < len(e.units) && e.units[at] != '\n' && e.units[at] != '\r' {
			at++
		}
		if at < len(e.units) {
			at++
			if e.units[at-1] == '\r' && at < len(e.units) && e.units[at] == '\n' {
				at++
			}
		}
	}
	if line > 0 {
		return len(e.units)
	}
	for ; column > 0 && at < len(e.units) && e.units[at] != '\n' && e.units[at] != '\r'; column-- {
		at++
	}
	if at > 0 && at < len(e.units) && utf16.IsSurrogate(rune(e.units[at])) && e.units[at] >= 0xDC00 && e.units[at-1] >= 0xD800 && e.units[at-1] < 0xDC00 {
		at--
	}
	return at
}

func (e *editor) replace(fromLine, fromColumn, toLine, toColumn int, text string) {
	from, to := e.offset(fromLine, fromColumn), e.offset(toLine, toColumn)
	if from > to {
		from, to = to, from
	}
	e.units = append(append(append([]uint16{}, e.units[:from]...), utf16.Encode([]rune(text))...), e.units[to:]...)
}

// pieces are what is typed: all that has a meaning somewhere, and what breaks it.
var pieces = []string{
	"", "", "", "", " ", "\n", "\r\n", "\r", "5", "0", "mm", "mil", "x1", "{", "}", "(", ")", "\"", "// ", ";", "=", "µ", "🛠", "é",
	"let x1 = 3 mm\n", "let x2 = x1 * 2\n", "long", "gap g9 of wall on south at x1 width 2 mm\n", "tab t9 on north at 20 mm width 3 mm solid\n",
	"feature f9 on top circle 1 mm at (x1, 1 mm) net N9\r\n", "use \"b.hem\"\n", "tab t8 on south at x1 width 2 mm solid opens margin 1 mm\n", "connector c9 on west at 20 mm { body 6 mm; pin top width 1 mm length 2 mm; opens wall margin 0.5 mm bridged }\n", " opens span 4 mm", "premetallised",
	"accept tab_count on wall because \"x\"\n", "accept wrap_clearance on f9 outline with wall because \"x\"\n", "gap g8 of wall on south at 9 mm width 2 mm for t9\n", "note \"🛠\"\n",
	"leave tab_places outline along south to shop because \"so\"\n", "delivery panel \"a.hem\" \"b.hem\"\n", "marking none\n", "marking \"date\" on top at (5 mm, 5 mm)\n",
	"tolerance { outline 0.1 mm; thickness 10 % }\n", "criteria { voids none; adhesion \"tape\" }\n",
	"note \"wall touches the lid\"\n", "relief r9 over wall on top reach 1 mm\n", "hole h9 diameter 7 mm at (20 mm, 1 mm) plated net GND\n", "plane on top bottom net GND pullback 0.5 mm\n", "plane on top net V5 pullback 0.5 mm within (0 mm, 0 mm) to (9 mm, 9 mm)\n",
	"wrap top 0.2 mm\n", "outline circle 50 mm\n", "cutout c9 circle 4 mm at (20 mm, 20 mm)\n", "along all\n", "fabricator z { limit wrap_land minimum 0.7 mm }\n",
}

// TestRandomEdits types at random, also into the middle of pairs and line ends
// and past every end, and holds the server's findings after each step against
// those of a new analysis of the text as another editor has it. HEMLINE_EDITS
// says how many.
func TestRandomEdits(t *testing.T) {
	edits := amount(t, "HEMLINE_EDITS", 600)
	random := rand.New(rand.NewPCG(uint64(edits), 4))
	const uri = "file:///nowhere/a.hem"
	c := start(t, DefaultEngine())
	c.initialize(`{}`)
	e := newEditor(typedBoard)
	c.open(uri, typedBoard)
	c.published()
	position := func() (line, column int) { return random.IntN(30), random.IntN(40) }
	for i := range edits {
		if i%200 == 199 { // a new beginning, so that the text stays a board
			e = newEditor(typedBoard)
			c.edit(uri, typedBoard)
		} else {
			l1, c1 := position()
			l2, c2 := l1, c1+random.IntN(4)
			if random.IntN(20) == 0 {
				l2, c2 = l1+random.IntN(3), random.IntN(40)
			}
			piece := pieces[random.IntN(len(pieces))]
			e.replace(l1, c1, l2, c2, piece)
			c.edit(uri, piece, l1, c1, l2, c2)
		}
		p := c.published()
		require.Equal(t, c.versions[uri], *p.Version)
		if !assert.Equal(t, freshFindings("/nowhere/a.hem", e.text()), messagesOf(p), "after %d edits:\n%q", i+1, e.text()) {
			return
		}
	}
}

// freshFindings are those of a text of which nothing is known.
func freshFindings(path, text string) []string {
	a := lang.Analyze(source.New(path, text), func(string) (*source.File, error) { return nil, errors.New("no such file or directory") }, nil)
	list := []string{}
	for _, f := range check(a, checks.Options{Today: today()}).Findings {
		from, to := f.File.Position(f.Span.Start, source.UTF16), f.File.Position(f.Span.End, source.UTF16)
		message, _, _ := strings.Cut(strings.ReplaceAll(f.Message, "/nowhere/", ""), "\n")
		list = append(list, fmt.Sprintf("%d:%d-%d:%d %s %s", from.Line, from.Column, to.Line, to.Column, f.Rule, message))
	}
	return list
}

func messagesOf(p published) []string {
	list := []string{}
	for _, d := range p.Diagnostics {
		message, _, _ := strings.Cut(d.Message, "\n")
		list = append(list, fmt.Sprintf("%d:%d-%d:%d %s %s", d.Range.Start.Line, d.Range.Start.Character, d.Range.End.Line, d.Range.End.Character, d.Code, message))
	}
	return list
}

// TestSoak asks everything there is, at random, while texts are typed, opened
// and closed: memory must not grow and nothing be left over. HEMLINE_SOAK says
// for how many seconds.
func TestSoak(t *testing.T) {
	seconds := amount(t, "HEMLINE_SOAK", 2)
	random := rand.New(rand.NewPCG(7, 7))
	there := goroutines()
	toServer, in := io.Pipe()
	out, fromServer := io.Pipe()
	defects := make(chan string, 1)
	done := make(chan int, 1)
	s := newServer(DefaultEngine(), log.New(defectWriter(defects), "", 0), "test")
	go func() { done <- s.serve(context.Background(), toServer, fromServer) }()
	go func() { _, _ = io.Copy(io.Discard, out) }()
	id := 0
	send := func(format string, args ...any) {
		_, err := io.WriteString(in, frame(fmt.Sprintf(format, args...)))
		require.NoError(t, err)
	}
	request := func(method, params string) {
		id++
		send(`{"jsonrpc":"2.0","id":%d,"method":%q,"params":%s}`, id, method, params)
		if random.IntN(10) == 0 {
			send(`{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":%d}}`, id)
		}
	}
	request("initialize", `{"capabilities":{}}`)
	folder := t.TempDir()
	version := 0
	step := func() {
		uri := uriOf(fmt.Sprintf("%s/%d.hem", folder, random.IntN(4)))
		place := fmt.Sprintf(`{"line":%d,"character":%d}`, random.IntN(25), random.IntN(30))
		doc := fmt.Sprintf(`"textDocument":{"uri":%q}`, uri)
		switch random.IntN(6) {
		case 0:
			send(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":%q,"version":1,"languageId":"hem","text":%s}}}`, uri, strconv.Quote(strings.ReplaceAll(typedBoard, "🛠", "")))
		case 1:
			send(`{"jsonrpc":"2.0","method":"textDocument/didClose","params":{%s}}`, doc)
		case 2, 3:
			version++
			piece := strings.Trim(strconv.QuoteToASCII(pieces[random.IntN(20)]), `"`)
			send(`{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":%q,"version":%d},"contentChanges":[{"range":{"start":%s,"end":%s},"text":"%s"}]}}`, uri, version, place, place, piece)
		default:
			method := soakMethods[random.IntN(len(soakMethods))]
			request(method, fmt.Sprintf(`{%s,"position":%s,"range":{"start":{"line":0,"character":0},"end":%s},"positions":[%s],"ch":"\n","newName":"other","query":"","context":{"includeDeclaration":true,"diagnostics":[]},"previousResultIds":[],"previousResultId":"1","options":{"tabSize":2,"insertSpaces":true}}`, doc, place, place, place))
		}
	}
	heap := func() uint64 {
		require.Eventually(t, func() bool {
			s.calls.mu.Lock()
			defer s.calls.mu.Unlock()
			return len(s.calls.pending) == 0
		}, patience, time.Millisecond, "what is being answered takes memory")
		var m runtime.MemStats
		for range 3 {
			runtime.GC()
		}
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	run := func(d time.Duration) {
		for end := time.Now().Add(d); time.Now().Before(end); {
			step()
		}
	}
	total := time.Duration(seconds) * time.Second
	run(total / 4) // until everything has been asked once and is as large as it gets
	before := heap()
	run(total * 3 / 4)
	for _, name := range []string{"0", "1", "2", "3"} {
		send(`{"jsonrpc":"2.0","method":"textDocument/didClose","params":{"textDocument":{"uri":%q}}}`, uriOf(folder+"/"+name+".hem"))
	}
	after := heap()
	t.Logf("%d requests, heap %d kB then %d kB", id, before>>10, after>>10)
	assert.LessOrEqual(t, after, before+before/10+1<<20, "memory does not grow")
	send(`{"jsonrpc":"2.0","id":"end","method":"shutdown"}`)
	send(`{"jsonrpc":"2.0","method":"exit"}`)
	select {
	case code := <-done:
		assert.Equal(t, 0, code)
	case <-time.After(patience):
		t.Fatalf("the server did not end\n%s", serverGoroutines(there))
	}
	fromServer.Close()
	in.Close()
	select {
	case defect := <-defects:
		t.Error(defect)
	default:
	}
	noneLeft(t, there)
}

// defectWriter is a log of which the first defect is kept and nothing else.
type defectWriter chan string

func (w defectWriter) Write(line []byte) (int, error) {
	if strings.Contains(string(line), "defect") {
		select {
		case w <- string(line):
		default:
		}
	}
	return len(line), nil
}

var soakMethods = func() []string {
	var list []string
	for method := range requests {
		if method != "workspace/executeCommand" {
			list = append(list, method)
		}
	}
	return list
}()
