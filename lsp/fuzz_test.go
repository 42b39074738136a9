package lsp

import (
	"bytes"
	"context"
	"log"
	"testing"
	"time"

	"go.lsp.dev/jsonrpc2"
)

// FuzzMessages sends bytes to the server: as they are, which must neither
// stop nor break it, or as bodies of messages, one behind each byte 0, after
// which it must still answer.
func FuzzMessages(f *testing.F) {
	open := `{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"file:///nowhere/a.hem","version":1,"text":"hem 1\nlet a = 1 mm\n"}}}`
	change := `{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///nowhere/a.hem","version":2},"contentChanges":[{"range":{"start":{"line":0,"character":0},"end":{"line":1,"character":2}},"text":"é🛠"}]}}`
	for _, method := range []string{"hover", "definition", "documentSymbol", "formatting", "completion", "codeAction"} {
		f.Add([]byte(open+"\x00"+change+"\x00"+`{"jsonrpc":"2.0","id":1,"method":"textDocument/`+method+`","params":{"textDocument":{"uri":"file:///nowhere/a.hem"},"position":{"line":0,"character":1}}}`), true)
	}
	f.Add([]byte(`{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":1}}`), true)
	f.Add([]byte(`{"jsonrpc":"2.0","method":"textDocument/didClose","params":{"textDocument":{"uri":"file:///nowhere/a.hem"}}}`), true)
	f.Add([]byte(`[{"jsonrpc":"2.0"}]`), true)
	f.Add([]byte(frame(open)+frame(change)+"Content-Length: 10\r\n\r\n{"), false)
	f.Add([]byte("content-length: x\r\n\r\n{}"+frame(open)), false)
	f.Fuzz(func(t *testing.T, data []byte, framed bool) {
		var in bytes.Buffer
		in.WriteString(frame(`{"jsonrpc":"2.0","id":"first","method":"initialize","params":{"capabilities":{}}}`))
		in.WriteString(frame(open))
		answered := framed
		if framed {
			for body := range bytes.SplitSeq(data, []byte{0}) {
				in.WriteString(frame(string(body)))
				answered = answered && !meddles(body)
			}
		} else {
			in.Write(data)
		}
		in.WriteString(frame(`{"jsonrpc":"2.0","id":"last","method":"textDocument/moniker","params":{}}`))
		var out, logged safeBuffer
		done := make(chan struct{})
		reader, writer := watch(t, &in, &out)
		go func() {
			defer close(done)
			newServer(DefaultEngine(), log.New(&logged, "", 0), "test").serve(context.Background(), reader, writer)
		}()
		select {
		case <-done:
		case <-time.After(patience):
			t.Fatal("the server does not end")
		}
		if bytes.Contains([]byte(logged.String()), []byte("defect")) {
			t.Fatal(logged.String())
		}
		if answered && !bytes.Contains([]byte(out.String()), []byte(`"id":"last","error":{"code":-32601`)) {
			t.Fatalf("no answer to the last request: %s", out.String())
		}
	})
}

// meddles tells whether a message has a say in the answer to the last one.
func meddles(body []byte) bool {
	msg, bad := decodeMessage(body)
	if bad != nil {
		return false
	}
	switch msg := msg.(type) {
	case *jsonrpc2.Call:
		return msg.Method() == "shutdown" || msg.ID() == jsonrpc2.NewStringID("last")
	case *jsonrpc2.Notification:
		return msg.Method() == "exit"
	}
	return false
}
