package lsp

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log"
	"net/textproto"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// patience is how long a test waits for what must come.
const patience = 10 * time.Second

// session is a client of a server in the same process. Everything it reads is
// kept by id, or by method in the order in which it came.
type session struct {
	t      *testing.T
	server *server
	in     *io.PipeWriter
	logged safeBuffer
	code   chan int

	reading  sync.Mutex // held while the client does not read
	mu       sync.Mutex
	arrived  *sync.Cond
	answers  map[string][]json.RawMessage // by id as it was written
	notes    map[string][]json.RawMessage // by method: the params
	order    []string                     // methods and ids of all that came
	over     bool
	expired  bool
	lastID   int
	versions map[string]int
	replies  map[string]string // what the client answers by method, null where nothing is set
	held     []json.RawMessage // the requests of methods that replies hold back
	folder   string            // of the workspace, a URI
}

type wireMessage struct {
	JSONRPC string          `json:"jsonrpc"`
	ID      json.RawMessage `json:"id"`
	Method  string          `json:"method"`
	Params  json.RawMessage `json:"params"`
	Result  json.RawMessage `json:"result"`
	Error   *struct {
		Code    int    `json:"code"`
		Message string `json:"message"`
	} `json:"error"`
}

type safeBuffer struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (b *safeBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.Write(p)
}

func (b *safeBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.String()
}

// start runs a server; the session ends with the test.
func start(t *testing.T, engine Engine) *session {
	t.Helper()
	toServer, in := io.Pipe()
	out, fromServer := io.Pipe()
	c := &session{t: t, in: in, code: make(chan int, 1), answers: map[string][]json.RawMessage{}, notes: map[string][]json.RawMessage{}, versions: map[string]int{}, replies: map[string]string{}}
	c.arrived = sync.NewCond(&c.mu)
	reader, writer := watch(t, toServer, fromServer)
	c.server = newServer(engine, log.New(&c.logged, "", 0), "test")
	go func() {
		code := c.server.serve(context.Background(), reader, writer)
		fromServer.Close()
		toServer.Close()
		c.code <- code
	}()
	go c.listen(out)
	t.Cleanup(func() { in.Close(); out.Close() })
	return c
}

func (c *session) listen(out io.Reader) {
	r := bufio.NewReaderSize(out, 16) // what is not read stays in the pipe
	for {
		c.mayRead()
		header, err := textproto.NewReader(r).ReadMIMEHeader()
		if err != nil {
			break
		}
		n, _ := strconv.Atoi(header.Get("Content-Length"))
		body := make([]byte, n)
		if _, err := io.ReadFull(r, body); err != nil {
			break
		}
		var m wireMessage
		if err := json.Unmarshal(body, &m); err != nil || m.JSONRPC != "2.0" {
			c.t.Errorf("not a message: %q", body)
		}
		c.mu.Lock()
		if m.Method != "" {
			c.notes[m.Method] = append(c.notes[m.Method], m.Params)
			c.order = append(c.order, m.Method)
			switch reply := c.replies[m.Method]; {
			case m.ID == nil:
			case reply == held:
				c.held = append(c.held, m.ID)
			default:
				go c.reply(m.ID, reply)
			}
		} else {
			c.answers[string(m.ID)] = append(c.answers[string(m.ID)], body)
			c.order = append(c.order, string(m.ID))
		}
		c.arrived.Broadcast()
		c.mu.Unlock()
	}
	c.mu.Lock()
	c.over = true
	c.arrived.Broadcast()
	c.mu.Unlock()
}

// mayRead waits while the client does not read.
func (c *session) mayRead() {
	c.reading.Lock()
	defer c.reading.Unlock()
}

// stopReading leaves what the server writes in the pipe from the next message on.
func (c *session) stopReading() { c.reading.Lock() }

func (c *session) startReading() { c.reading.Unlock() }

// wait blocks until ready holds, which is asked under the lock.
func (c *session) wait(what string, ready func() bool) {
	c.t.Helper()
	timer := time.AfterFunc(patience, func() {
		c.mu.Lock()
		c.expired = true
		c.arrived.Broadcast()
		c.mu.Unlock()
	})
	defer timer.Stop()
	c.mu.Lock()
	defer c.mu.Unlock()
	for !ready() {
		if c.over || c.expired {
			c.t.Fatalf("no %s (over: %v); came: %v\nlog: %s", what, c.over, c.order, c.logged.String())
		}
		c.arrived.Wait()
	}
}

// raw writes bytes as they are.
func (c *session) raw(text string) {
	c.t.Helper()
	_, err := io.WriteString(c.in, text)
	require.NoError(c.t, err)
}

func frame(body string) string { return fmt.Sprintf("Content-Length: %d\r\n\r\n%s", len(body), body) }

func (c *session) send(message map[string]any) {
	c.t.Helper()
	message["jsonrpc"] = "2.0"
	body, err := json.Marshal(message)
	require.NoError(c.t, err)
	c.raw(frame(string(body)))
}

func (c *session) notify(method string, params any) {
	c.t.Helper()
	c.send(map[string]any{"method": method, "params": params})
}

// held as a method's reply keeps its requests unanswered, in session.held.
const held = "held"

// reply answers a request of the server.
func (c *session) reply(id json.RawMessage, result string) {
	if result == "" {
		result = "null"
	}
	// The session may be over; then nobody waits for it.
	_, _ = io.WriteString(c.in, frame(fmt.Sprintf(`{"jsonrpc":"2.0","id":%s,"result":%s}`, id, result)))
}

// note waits for the next message of the server under a method and returns its params.
func (c *session) note(method string) json.RawMessage {
	c.t.Helper()
	c.wait(method, func() bool { return len(c.notes[method]) > 0 })
	c.mu.Lock()
	defer c.mu.Unlock()
	first := c.notes[method][0]
	c.notes[method] = c.notes[method][1:]
	return first
}

// ask sends a request and returns its id.
func (c *session) ask(method string, params any) string {
	c.t.Helper()
	c.lastID++
	c.send(map[string]any{"id": c.lastID, "method": method, "params": params})
	return strconv.Itoa(c.lastID)
}

// answer waits for the next answer under an id.
func (c *session) answer(id string) (m wireMessage) {
	c.t.Helper()
	c.wait("answer to "+id, func() bool { return len(c.answers[id]) > 0 })
	c.mu.Lock()
	defer c.mu.Unlock()
	require.NoError(c.t, json.Unmarshal(c.answers[id][0], &m))
	c.answers[id] = c.answers[id][1:]
	return m
}

// call sends a request and returns its result as text.
func (c *session) call(method string, params any) string {
	c.t.Helper()
	m := c.answer(c.ask(method, params))
	require.Nil(c.t, m.Error, method)
	return string(m.Result)
}

// fails sends a request and returns the code of its error.
func (c *session) fails(method string, params any) int {
	c.t.Helper()
	m := c.answer(c.ask(method, params))
	require.NotNil(c.t, m.Error, "%s was answered: %s", method, m.Result)
	return m.Error.Code
}

type published struct {
	URI         string       `json:"uri"`
	Version     *int         `json:"version"`
	Diagnostics []diagnostic `json:"diagnostics"`
}

type diagnostic struct {
	Range struct {
		Start struct{ Line, Character int }
		End   struct{ Line, Character int }
	} `json:"range"`
	Severity int             `json:"severity"`
	Code     string          `json:"code"`
	Source   string          `json:"source"`
	Message  string          `json:"message"`
	Tags     []int           `json:"tags"`
	Related  json.RawMessage `json:"relatedInformation"`
}

// String is short: places, severity and rule.
func (p published) String() string {
	var b strings.Builder
	for i, d := range p.Diagnostics {
		if i > 0 {
			b.WriteString("; ")
		}
		fmt.Fprintf(&b, "%d:%d-%d:%d %d %s", d.Range.Start.Line, d.Range.Start.Character, d.Range.End.Line, d.Range.End.Character, d.Severity, d.Code)
	}
	return b.String()
}

// published waits for the next diagnostics, of whatever text.
func (c *session) published() (p published) {
	c.t.Helper()
	const method = "textDocument/publishDiagnostics"
	c.wait("diagnostics", func() bool { return len(c.notes[method]) > 0 })
	c.mu.Lock()
	defer c.mu.Unlock()
	require.NoError(c.t, json.Unmarshal(c.notes[method][0], &p))
	c.notes[method] = c.notes[method][1:]
	return p
}

// quiet tells whether no diagnostics are waiting to be read.
func (c *session) quiet() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	return len(c.notes["textDocument/publishDiagnostics"]) == 0
}

// initialize opens the session with some capabilities, as JSON.
func (c *session) initialize(capabilities string) string {
	c.t.Helper()
	params := map[string]any{"processId": nil, "rootUri": nil, "capabilities": json.RawMessage(capabilities)}
	if c.folder != "" {
		params["workspaceFolders"] = []any{map[string]any{"uri": c.folder, "name": "boards"}}
	}
	result := c.call("initialize", params)
	c.notify("initialized", struct{}{})
	return result
}

func (c *session) open(uri, text string) {
	c.t.Helper()
	c.versions[uri]++
	c.notify("textDocument/didOpen", map[string]any{"textDocument": map[string]any{"uri": uri, "languageId": "hem", "version": c.versions[uri], "text": text}})
}

// edit replaces a range given as four numbers, or all where there are none.
func (c *session) edit(uri, text string, at ...int) {
	c.t.Helper()
	change := map[string]any{"text": text}
	if len(at) == 4 {
		change["range"] = map[string]any{
			"start": map[string]any{"line": at[0], "character": at[1]},
			"end":   map[string]any{"line": at[2], "character": at[3]},
		}
	}
	c.versions[uri]++
	c.notify("textDocument/didChange", map[string]any{
		"textDocument":   map[string]any{"uri": uri, "version": c.versions[uri]},
		"contentChanges": []any{change},
	})
}

func (c *session) close(uri string) {
	c.t.Helper()
	c.notify("textDocument/didClose", map[string]any{"textDocument": map[string]any{"uri": uri}})
}

func at(uri string, line, character int) map[string]any {
	return map[string]any{
		"textDocument": map[string]any{"uri": uri},
		"position":     map[string]any{"line": line, "character": character},
	}
}

// exitCode waits for the server to end.
func (c *session) exitCode() int {
	c.t.Helper()
	select {
	case code := <-c.code:
		return code
	case <-time.After(patience):
		c.t.Fatal("the server did not end")
		return -1
	}
}
