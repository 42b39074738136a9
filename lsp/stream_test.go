package lsp

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/jsonrpc2"
)

const good = `{"jsonrpc":"2.0","method":"good"}`

// Each row is a message that cannot be read; a good one follows, which must
// come through. The codes are those of the JSON-RPC 2.0 specification,
// section 5.1.
func TestWhatCannotBeReadIsAnsweredAndPassed(t *testing.T) {
	deep := strings.Repeat("[", 5_000_000)
	for name, row := range map[string]struct {
		sent string // as it is; a body alone gets its header
		want string // the answer
	}{
		"not JSON":            {"{]", `{"jsonrpc":"2.0","id":null,"error":{"code":-32700,"message":"the message is not JSON"}}`},
		"two values":          {good + good, `{"jsonrpc":"2.0","id":null,"error":{"code":-32700,"message":"the message is not JSON"}}`},
		"nothing":             {"Content-Length: 0\r\n\r\n", `{"jsonrpc":"2.0","id":null,"error":{"code":-32700,"message":"the message is not JSON"}}`},
		"nested too deep":     {deep, `{"jsonrpc":"2.0","id":null,"error":{"code":-32700,"message":"the message is not JSON"}}`},
		"empty batch":         {"[]", `{"jsonrpc":"2.0","id":null,"error":{"code":-32600,"message":"batches of messages are not part of the protocol"}}`},
		"batch":               {"[" + good + "]", `{"jsonrpc":"2.0","id":null,"error":{"code":-32600,"message":"batches of messages are not part of the protocol"}}`},
		"a number":            {"1", `{"jsonrpc":"2.0","id":null,"error":{"code":-32600,"message":"the message is no object"}}`},
		"null":                {"null", `{"jsonrpc":"2.0","id":null,"error":{"code":-32600,"message":"the message is no object"}}`},
		"no version":          {`{"id":1,"method":"m"}`, `{"jsonrpc":"2.0","id":1,"error":{"code":-32600,"message":"the message lacks \"jsonrpc\":\"2.0\""}}`},
		"another version":     {`{"jsonrpc":"1.0","id":"x","method":"m"}`, `{"jsonrpc":"2.0","id":"x","error":{"code":-32600,"message":"the message lacks \"jsonrpc\":\"2.0\""}}`},
		"version as number":   {`{"jsonrpc":2.0,"method":"m"}`, `{"jsonrpc":"2.0","id":null,"error":{"code":-32600,"message":"the message lacks \"jsonrpc\":\"2.0\""}}`},
		"no method":           {`{"jsonrpc":"2.0","id":3}`, `{"jsonrpc":"2.0","id":3,"error":{"code":-32600,"message":"the message has no method"}}`},
		"method no text":      {`{"jsonrpc":"2.0","id":3,"method":4}`, `{"jsonrpc":"2.0","id":3,"error":{"code":-32600,"message":"the method is no name"}}`},
		"method empty":        {`{"jsonrpc":"2.0","id":3,"method":""}`, `{"jsonrpc":"2.0","id":3,"error":{"code":-32600,"message":"the method is no name"}}`},
		"params a number":     {`{"jsonrpc":"2.0","id":3,"method":"m","params":4}`, `{"jsonrpc":"2.0","id":3,"error":{"code":-32600,"message":"the params are neither an object nor a list"}}`},
		"id a fraction":       {`{"jsonrpc":"2.0","id":1.5,"method":"m"}`, badID("null")},
		"id with an exponent": {`{"jsonrpc":"2.0","id":1e2,"method":"m"}`, badID("null")},
		"id huge":             {`{"jsonrpc":"2.0","id":2147483648,"method":"m"}`, badID("null")},
		"id an object":        {`{"jsonrpc":"2.0","id":{},"method":"m"}`, badID("null")},
		"id null":             {`{"jsonrpc":"2.0","id":null,"method":"m"}`, badID("null")},
		"id empty":            {`{"jsonrpc":"2.0","id":"","method":"m"}`, badID(`""`)},

		"no length":           {"Content-Type: x\r\n\r\n", `{"jsonrpc":"2.0","id":null,"error":{"code":-32700,"message":"a header block without Content-Length"}}`},
		"length no number":    {"Content-Length: x\r\n\r\n", `{"jsonrpc":"2.0","id":null,"error":{"code":-32700,"message":"Content-Length is no length"}}`},
		"length negative":     {"Content-Length: -1\r\n\r\n", `{"jsonrpc":"2.0","id":null,"error":{"code":-32700,"message":"Content-Length is no length"}}`},
		"length past 64 bits": {"Content-Length: 99999999999999999999\r\n\r\n", `{"jsonrpc":"2.0","id":null,"error":{"code":-32700,"message":"Content-Length is no length"}}`},
		"two lengths":         {"Content-Length: 1\r\nContent-Length: 2\r\n\r\n", `{"jsonrpc":"2.0","id":null,"error":{"code":-32700,"message":"two different values of Content-Length"}}`},
		"unread body":         {"Content-Length: x\r\n\r\n" + `{"jsonrpc":"2.0"}`, `{"jsonrpc":"2.0","id":null,"error":{"code":-32700,"message":"Content-Length is no length"}}`},
		"too long": {fmt.Sprintf("Content-Length: %d\r\n\r\n%s", maxMessage+1, strings.Repeat(" ", maxMessage+1)),
			`{"jsonrpc":"2.0","id":null,"error":{"code":-32600,"message":"the message has 33554433 bytes; at most 33554432 are read"}}`},
	} {
		t.Run(name, func(t *testing.T) {
			sent := row.sent
			if !strings.HasPrefix(sent, "Content-") {
				sent = frame(sent)
			}
			var out bytes.Buffer
			s := newStream(strings.NewReader(sent+frame(good)), &out)
			msg, _, err := s.Read(context.Background())
			require.NoError(t, err)
			require.IsType(t, new(jsonrpc2.Notification), msg)
			assert.Equal(t, "good", msg.(*jsonrpc2.Notification).Method())
			assert.Equal(t, frame(row.want), out.String())
		})
	}
}

func badID(id string) string {
	return `{"jsonrpc":"2.0","id":` + id + `,"error":{"code":-32600,"message":"the id is neither a whole number of 32 bits nor a text that is not empty"}}`
}

func TestHeadersAreReadGenerously(t *testing.T) {
	n := fmt.Sprint(len(good))
	for _, header := range []string{
		"content-length: " + n + "\r\n\r\n",
		"CONTENT-LENGTH:" + n + "\r\n\r\n",
		"Content-Length: " + n + "\n\n",
		"\r\n\r\nContent-Length: " + n + "\r\n\r\n",
		"Content-Length: " + n + "\r\nContent-Length: " + n + "\r\n\r\n",
		"Content-Type: application/vscode-jsonrpc; charset=utf-8\r\nContent-Length: " + n + "\r\n\r\n",
		"Content-Length: " + n + "\r\nX-Content-Length: 3\r\n\r\n",
		"Content-Length: 7\r\nlost}Content-Length: " + n + "\r\n\r\n",
		"Content-Length: " + n + "\r\nX-Long: " + strings.Repeat("x", 200_000) + "\r\n\r\n",
	} {
		var out bytes.Buffer
		msg, _, err := newStream(strings.NewReader(header+good), &out).Read(context.Background())
		require.NoError(t, err, header[:min(len(header), 80)])
		assert.Equal(t, "good", msg.(*jsonrpc2.Notification).Method())
		assert.Empty(t, out.String())
	}
}

// A length that nothing follows must not be believed: the memory would be
// taken before the end is noticed.
func TestALengthOverTheLimitTakesNoMemory(t *testing.T) {
	input := "Content-Length: 9000000000000000000\r\n\r\n{}"
	s := newStream(strings.NewReader(input), io.Discard)
	allocated := testing.AllocsPerRun(1, func() {
		_, _, err := s.Read(context.Background())
		assert.Error(t, err)
	})
	assert.Less(t, allocated, 100.0)
}

func TestIDsComeBackAsTheyWere(t *testing.T) {
	for _, id := range []string{`1`, `0`, `-5`, `2147483647`, `-2147483648`, `"1"`, `"é<&> \""`} {
		msg, bad := decodeMessage([]byte(`{"jsonrpc":"2.0","id":` + id + `,"method":"m","params":{"a":[1,{}]}}`))
		require.Nil(t, bad, id)
		call := msg.(*jsonrpc2.Call)
		assert.JSONEq(t, `{"a":[1,{}]}`, string(call.Params()))
		response, err := jsonrpc2.NewResponse(call.ID(), 5, nil)
		require.NoError(t, err)
		var out bytes.Buffer
		_, err = newStream(nil, &out).Write(context.Background(), response)
		require.NoError(t, err)
		_, body, _ := strings.Cut(out.String(), "\r\n\r\n")
		assert.JSONEq(t, `{"jsonrpc":"2.0","id":`+id+`,"result":5}`, body)
	}
}

type countingWriter struct{ calls, bytes int }

func (w *countingWriter) Write(p []byte) (int, error) {
	w.calls++
	w.bytes += len(p)
	return len(p), nil
}

func TestAMessageIsOneWrite(t *testing.T) {
	w := new(countingWriter)
	s := newStream(nil, w)
	for _, size := range []int{0, 10, 3 * maxKeptBuffer, 10} {
		msg, err := jsonrpc2.NewNotification("m", strings.Repeat("x", size))
		require.NoError(t, err)
		before := *w
		n, err := s.Write(context.Background(), msg)
		require.NoError(t, err)
		assert.Equal(t, 1, w.calls-before.calls)
		assert.Equal(t, int64(w.bytes-before.bytes), n)
	}
	assert.LessOrEqual(t, cap(s.buf), maxKeptBuffer, "a large buffer is not kept")
}

func TestNothingIsWrittenAfterShut(t *testing.T) {
	w := new(countingWriter)
	s := newStream(nil, w)
	s.shut()
	msg, err := jsonrpc2.NewNotification("m", nil)
	require.NoError(t, err)
	_, err = s.Write(context.Background(), msg)
	assert.ErrorIs(t, err, errStreamClosed)
	assert.Zero(t, w.calls)
}

// A client that never reads costs no more than so many requests: then it is read no
// further, until it reads.
func TestAClientThatNeverReadsIsBounded(t *testing.T) {
	c := start(t, DefaultEngine())
	c.initialize(`{"workspace":{"configuration":true,"inlayHint":{"refreshSupport":true},"codeLens":{"refreshSupport":true}}}`)
	c.open("file:///a.hem", "let a = 1 mm\n")
	c.published()
	there := runtime.NumGoroutine()
	c.stopReading()
	const requests = 3 * maxCalls
	sent, done := atomic.Int64{}, make(chan struct{})
	go func() {
		defer close(done)
		for i := range requests {
			c.notify("workspace/didChangeConfiguration", map[string]any{"settings": nil})
			c.ask("textDocument/documentSymbol", at("file:///a.hem", 0, 0))
			if i%50 == 0 {
				c.edit("file:///a.hem", fmt.Sprintf("let a = %d mm\n", i))
			}
			sent.Add(1)
		}
	}()
	last := int64(0)
	require.Eventually(t, func() bool {
		now := sent.Load()
		still := now == last && now > 0
		last = now
		return still
	}, patience, 200*time.Millisecond, "it is not read for ever")
	assert.Less(t, last, int64(requests), "all was taken in")
	assert.Less(t, runtime.NumGoroutine()-there, maxCalls+100)
	c.startReading()
	<-done
	c.call("textDocument/documentSymbol", at("file:///a.hem", 0, 0)) // it goes on
}

// Answers that wait for a client to read have so many bytes together; one alone may have
// any number.
func TestAnswersThatWaitAreBounded(t *testing.T) {
	s := newStream(nil, io.Discard)
	long := s.wait(2 * maxWaiting)
	require.NotNil(t, long)
	assert.Nil(t, s.wait(1))
	long()
	first := s.wait(maxWaiting - 10)
	require.NotNil(t, first)
	second := s.wait(10)
	require.NotNil(t, second)
	assert.Nil(t, s.wait(1))
	second()
	assert.NotNil(t, s.wait(1))
}
