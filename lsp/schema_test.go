package lsp

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.lsp.dev/jsonrpc2"
)

// The schemas of testdata/schema/messages.json are made from the protocol
// library's own types, one for each method. Every message that a server of a
// test sends is held to the one of its method, whatever the test is about.

// messageSchemas are compiled once, and then only read.
type messageSchemas struct {
	results, params map[string]*jsonschema.Schema
	failure         *jsonschema.Schema
}

var loadSchemas = sync.OnceValues(func() (*messageSchemas, error) {
	const name = "testdata/schema/messages.json"
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	var shape struct {
		Definitions struct {
			Results, Params struct{ Properties map[string]any }
		}
	}
	if err := json.Unmarshal(text, &shape); err != nil {
		return nil, err
	}
	compiler := jsonschema.NewCompiler()
	if err := compiler.AddResource(name, document); err != nil {
		return nil, err
	}
	compile := func(group string, methods map[string]any) (map[string]*jsonschema.Schema, error) {
		byMethod := map[string]*jsonschema.Schema{}
		for method := range methods {
			pointer := strings.NewReplacer("~", "~0", "/", "~1").Replace(method)
			schema, err := compiler.Compile(name + "#/definitions/" + group + "/properties/" + pointer)
			if err != nil {
				return nil, err
			}
			byMethod[method] = schema
		}
		return byMethod, nil
	}
	all := new(messageSchemas)
	if all.results, err = compile("Results", shape.Definitions.Results.Properties); err != nil {
		return nil, err
	}
	if all.params, err = compile("Params", shape.Definitions.Params.Properties); err != nil {
		return nil, err
	}
	all.failure, err = compiler.Compile(name + "#/definitions/Failure")
	return all, err
})

// ours tells whether a method is hemline's own, of which no type is known.
func ours(method string) bool { return strings.HasPrefix(method, "hemline/") }

// checkParams holds what the server sends of its own accord to its method.
func (m *messageSchemas) checkParams(method string, params json.RawMessage) error {
	return checkBy(m.params, method, params)
}

// checkResult holds a result to the request's method.
func (m *messageSchemas) checkResult(method string, result json.RawMessage) error {
	return checkBy(m.results, method, result)
}

func checkBy(byMethod map[string]*jsonschema.Schema, method string, value json.RawMessage) error {
	if ours(method) {
		return nil
	}
	schema, ok := byMethod[method]
	if !ok {
		return fmt.Errorf("%s: no schema; add it to testdata/schema/messages.ts", method)
	}
	if err := validate(schema, value); err != nil {
		return fmt.Errorf("%s: %w: %.300s", method, err, value)
	}
	return nil
}

// validate takes what is absent as null, the one value it can stand for.
func validate(schema *jsonschema.Schema, value json.RawMessage) error {
	if value == nil {
		value = json.RawMessage("null")
	}
	decoded, err := jsonschema.UnmarshalJSON(bytes.NewReader(value))
	if err != nil {
		return err
	}
	return schema.Validate(decoded)
}

// watcher holds what one server sends to the schemas. It works aside, so that
// no test's timing hangs on it.
type watcher struct {
	schemas *messageSchemas

	mu       sync.Mutex
	changed  *sync.Cond
	asked    map[string]map[string]int // by id: the methods, and how often each
	sent     [][]byte                  // not checked yet
	busy     bool
	over     bool
	failures []string
	checked  int
}

// watch stands between a server and its client; the pair goes to the server.
// What was sent and does not fit fails the test when it ends. A test closes
// its streams before that.
func watch(t testing.TB, in io.Reader, out io.Writer) (io.Reader, io.Writer) {
	t.Helper()
	w := newWatcher(t)
	t.Cleanup(func() {
		t.Helper()
		for _, failure := range w.finish() {
			t.Errorf("the server sent what the protocol has not: %s", failure)
		}
	})
	return w.reader(in), w.writer(out)
}

func newWatcher(t testing.TB) *watcher {
	t.Helper()
	schemas, err := loadSchemas()
	if err != nil {
		t.Fatal(err)
	}
	w := &watcher{schemas: schemas, asked: map[string]map[string]int{}}
	w.changed = sync.NewCond(&w.mu)
	go w.run()
	return w
}

// reader notes the requests in what passes. They are read as the server reads
// them, by its own stream, so that what it skips is skipped.
func (w *watcher) reader(in io.Reader) io.Reader {
	copied, aside := io.Pipe()
	go func() {
		s := newStream(copied, io.Discard)
		for {
			msg, _, err := s.Read(context.Background())
			if err != nil {
				copied.Close() // from now on writing fails, and does not wait
				return
			}
			if call, ok := msg.(*jsonrpc2.Call); ok {
				callID := call.ID()
				id, _ := callID.MarshalJSON() // it was read from JSON
				w.note(string(id), call.Method())
			}
		}
	}()
	return readerFunc(func(p []byte) (int, error) {
		n, err := in.Read(p)
		if n > 0 {
			_, _ = aside.Write(p[:n]) // a copy; that it ends is no concern of the server's
		}
		if err != nil {
			aside.Close()
		}
		return n, err
	})
}

// writer keeps a copy of each message; a message is one Write.
func (w *watcher) writer(out io.Writer) io.Writer {
	return writerFunc(func(p []byte) (int, error) {
		if _, body, ok := bytes.Cut(p, []byte("\r\n\r\n")); ok {
			w.mu.Lock()
			w.sent = append(w.sent, slices.Clone(body))
			w.changed.Broadcast()
			w.mu.Unlock()
		}
		return out.Write(p)
	})
}

type readerFunc func([]byte) (int, error)

func (f readerFunc) Read(p []byte) (int, error) { return f(p) }

type writerFunc func([]byte) (int, error)

func (f writerFunc) Write(p []byte) (int, error) { return f(p) }

func (w *watcher) note(id, method string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.asked[id] == nil {
		w.asked[id] = map[string]int{}
	}
	w.asked[id][method]++
	w.changed.Broadcast()
}

func (w *watcher) run() {
	w.mu.Lock()
	defer w.mu.Unlock()
	for {
		for len(w.sent) == 0 {
			if w.over {
				return
			}
			w.changed.Wait()
		}
		body := w.sent[0]
		w.sent, w.busy = w.sent[1:], true
		w.mu.Unlock()
		err := w.check(body)
		w.mu.Lock()
		w.busy = false
		w.checked++
		if err != nil && len(w.failures) < 10 {
			w.failures = append(w.failures, err.Error())
		}
		w.changed.Broadcast()
	}
}

// finish waits for what has been sent to be checked.
func (w *watcher) finish() []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	for len(w.sent) > 0 || w.busy {
		w.changed.Wait()
	}
	w.over = true
	w.changed.Broadcast()
	return w.failures
}

func (w *watcher) check(body []byte) error {
	var m struct {
		JSONRPC string
		ID      json.RawMessage
		Method  string
		Params  json.RawMessage
		Result  json.RawMessage
		Error   json.RawMessage
	}
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(&m); err != nil {
		return fmt.Errorf("%w: %.200s", err, body)
	}
	switch {
	case m.JSONRPC != "2.0":
		return fmt.Errorf("no version: %.200s", body)
	case m.Method != "":
		return w.schemas.checkParams(m.Method, m.Params)
	case m.Error != nil && m.Result == nil:
		w.answered(string(m.ID), nil)
		return validate(w.schemas.failure, m.Error)
	case m.Error == nil && m.Result != nil:
		return w.answered(string(m.ID), m.Result)
	}
	return fmt.Errorf("neither a result nor an error, or both: %.200s", body)
}

// answered holds a result to the methods asked under its id: one in nearly all
// tests, but a client may ask under the same id twice. A nil result is an
// error's.
func (w *watcher) answered(id string, result json.RawMessage) error {
	methods := w.methods(id)
	if len(methods) == 0 && result != nil {
		return fmt.Errorf("an answer to nothing that was asked, id %s: %.200s", id, result)
	}
	if len(methods) == 1 {
		w.settle(id, methods[0])
	}
	if result == nil {
		return nil
	}
	var err error
	for _, method := range methods {
		if err = w.schemas.checkResult(method, result); err == nil {
			return nil
		}
	}
	return err
}

// methods waits a little: the request is read aside, and may not be yet.
func (w *watcher) methods(id string) (list []string) {
	late := time.AfterFunc(time.Second, w.changed.Broadcast)
	defer late.Stop()
	end := time.Now().Add(time.Second)
	w.mu.Lock()
	defer w.mu.Unlock()
	for len(w.asked[id]) == 0 && id != "null" && time.Now().Before(end) {
		w.changed.Wait()
	}
	for method := range w.asked[id] {
		list = append(list, method)
	}
	return list
}

// settle forgets one request, so that a long session does not fill the memory.
func (w *watcher) settle(id, method string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.asked[id][method]--; w.asked[id][method] <= 0 {
		delete(w.asked, id)
	}
}
