package lsp

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"

	"go.lsp.dev/jsonrpc2"
)

const (
	// maxMessage is the longest body that is read, in bytes. A longer one is
	// refused and skipped without being held in memory.
	maxMessage = 32 << 20
	// maxHeaderLine is how much of one header line is kept, in bytes.
	maxHeaderLine = 1 << 10
	// maxKeptBuffer is the largest write buffer that is kept for the next message.
	maxKeptBuffer = 1 << 20

	// maxWaiting bounds the bytes of the answers that wait until a client reads.
	maxWaiting = 32 << 20

	contentLength = "content-length:"
	// frameRoom is the space left before a body for its header.
	frameRoom = len("Content-Length: \r\n\r\n") + 20
)

var errStreamClosed = errors.New("the stream is closed")

// stream frames messages on a pair of byte streams. Unlike the library's own
// it outlives what it cannot read: it answers with an error of the JSON-RPC
// specification and goes on with the next message, so that one bad message
// costs itself alone. Each message is one Write.
type stream struct {
	in    *bufio.Reader
	ended bool         // no more is read; the read loop's own
	aside func(func()) // carries out what would keep the read loop waiting

	mu     sync.Mutex // guards out and buf
	out    io.Writer
	buf    []byte
	waits  atomic.Int64  // bytes of the answers that are to be written
	closed atomic.Bool   // no more is written
	broken chan struct{} // closed when a write has failed
}

func newStream(in io.Reader, out io.Writer) *stream {
	return &stream{in: bufio.NewReaderSize(in, 1<<16), out: out, broken: make(chan struct{}), aside: func(write func()) { write() }}
}

// Read implements jsonrpc2.Stream. Its only errors are those of the reader.
func (s *stream) Read(ctx context.Context) (jsonrpc2.Message, int64, error) {
	for {
		if s.ended {
			return nil, 0, io.EOF
		}
		if err := ctx.Err(); err != nil {
			return nil, 0, err
		}
		body, bad, err := s.readBody()
		if err != nil {
			return nil, 0, err
		}
		var msg jsonrpc2.Message
		if bad == nil {
			msg, bad = decodeMessage(body)
		}
		if bad != nil {
			s.aside(func() { s.refuse(bad) })
		} else if msg != nil {
			return msg, int64(len(body)), nil
		}
	}
}

// readBody reads one header block and the bytes that it announces.
func (s *stream) readBody() ([]byte, *fault, error) {
	length, bad, err := s.readHeader()
	if err != nil || bad != nil {
		return nil, bad, err
	}
	if length > maxMessage {
		_, err := io.CopyN(io.Discard, s.in, length)
		return nil, &fault{code: jsonrpc2.InvalidRequest,
			message: fmt.Sprintf("the message has %d bytes; at most %d are read", length, maxMessage)}, err
	}
	body := make([]byte, length)
	_, err = io.ReadFull(s.in, body)
	return body, nil, err
}

// readHeader reads up to the empty line that ends a header block and returns
// the Content-Length. Names are matched without regard to case, as in HTTP.
func (s *stream) readHeader() (length int64, bad *fault, err error) {
	length = -1
	for seen := false; ; seen = true {
		line, err := s.readLine()
		for err == nil && line == "" && !seen {
			line, err = s.readLine() // stray empty lines between two messages
		}
		if err != nil {
			return 0, nil, err
		}
		if line == "" {
			if length < 0 && bad == nil {
				bad = &fault{code: jsonrpc2.ParseError, message: "a header block without Content-Length"}
			}
			return length, bad, nil
		}
		// A body that went unread because its header was bad runs into the
		// next header. Looking for the name anywhere in the line finds the
		// way back into step.
		at := lengthAt(line)
		if at < 0 {
			continue
		}
		n, failed := strconv.ParseInt(strings.TrimSpace(line[at+len(contentLength):]), 10, 64)
		switch {
		case failed != nil || n < 0:
			bad = &fault{code: jsonrpc2.ParseError, message: "Content-Length is no length"}
		case at > 0:
			length, bad = n, nil // what stood before belongs to what was lost
		case length >= 0 && n != length:
			bad = &fault{code: jsonrpc2.ParseError, message: "two different values of Content-Length"}
		default:
			length = n
		}
	}
}

// lengthAt finds the last header name Content-Length in a line, -1 if there
// is none. The tail of a longer name is not meant.
func lengthAt(line string) int {
	for at := len(line) - len(contentLength); at >= 0; at-- {
		if strings.EqualFold(line[at:at+len(contentLength)], contentLength) && (at == 0 || !inName(line[at-1])) {
			return at
		}
	}
	return -1
}

func inName(c byte) bool {
	return c == '-' || c == '_' || c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z'
}

// readLine reads one line without its ending. Of a very long line the end is
// returned, which is where the way back into step would be.
func (s *stream) readLine() (string, error) {
	var line []byte
	for {
		piece, err := s.in.ReadSlice('\n')
		line = append(line, piece...)
		if over := len(line) - maxHeaderLine; over > 0 {
			line = append(line[:0], line[over:]...)
		}
		if err == nil {
			return strings.TrimSpace(string(line)), nil
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return "", err
		}
	}
}

// Write implements jsonrpc2.Stream: one message, one call of the writer.
func (s *stream) Write(_ context.Context, msg jsonrpc2.Message) (int64, error) {
	return s.frame(func(buf []byte) ([]byte, error) { return appendMessage(buf, msg) })
}

// answer writes the answer to a request whose result is JSON already.
func (s *stream) answer(id jsonrpc2.ID, result json.RawMessage) error {
	_, err := s.frame(func(buf []byte) ([]byte, error) {
		buf, err := appendID(append(buf, `{"jsonrpc":"2.0"`...), id)
		if err != nil {
			return nil, err
		}
		buf = append(buf, `,"result":`...)
		buf = append(buf, result...)
		return append(buf, '}'), nil
	})
	return err
}

// wait makes room for an answer of so many bytes among those that wait to be written, as
// long as the result is not called. It is nil where there is none; the first has room,
// however long it is.
func (s *stream) wait(bytes int) (free func()) {
	n := int64(bytes)
	if now := s.waits.Add(n); now > maxWaiting && now > n {
		s.waits.Add(-n)
		return nil
	}
	return func() { s.waits.Add(-n) }
}

// refuse answers a message that could not be read.
func (s *stream) refuse(f *fault) {
	// A write that fails is noticed through broken.
	_, _ = s.frame(func(buf []byte) ([]byte, error) { return f.appendAnswer(buf) })
}

// frame lets body append a message behind the room for its header, fills in
// the header and writes both.
func (s *stream) frame(body func([]byte) ([]byte, error)) (int64, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed.Load() {
		return 0, errStreamClosed
	}
	if s.buf == nil {
		s.buf = make([]byte, frameRoom, 4<<10)
	}
	buf, err := body(s.buf[:frameRoom])
	if err != nil {
		return 0, err
	}
	if cap(buf) <= maxKeptBuffer {
		s.buf = buf
	} else {
		s.buf = nil
	}
	var room [frameRoom]byte
	header := append(room[:0], "Content-Length: "...)
	header = strconv.AppendInt(header, int64(len(buf)-frameRoom), 10)
	header = append(header, "\r\n\r\n"...)
	start := frameRoom - len(header)
	copy(buf[start:], header)
	n, err := s.out.Write(buf[start:])
	if err != nil {
		s.closed.Store(true)
		close(s.broken)
	}
	return int64(n), err
}

// end makes the next Read the last. Only what Read's messages are handed to
// may call it, on the same goroutine.
func (s *stream) end() { s.ended = true }

// Close implements jsonrpc2.Stream. The connection calls it when reading has
// ended; answers under way may still be written until shut.
func (s *stream) Close() error { return nil }

// shut ends all writing. It does not wait for a write that is under way,
// because a reader that is gone may never take it.
func (s *stream) shut() { s.closed.Store(true) }

// appendMessage encodes a message around the parts that are JSON already.
func appendMessage(buf []byte, msg jsonrpc2.Message) ([]byte, error) {
	buf = append(buf, `{"jsonrpc":"2.0"`...)
	switch msg := msg.(type) {
	case *jsonrpc2.Notification:
		return appendRequest(buf, msg)
	case *jsonrpc2.Call:
		buf, err := appendID(buf, msg.ID())
		if err != nil {
			return nil, err
		}
		return appendRequest(buf, msg)
	case *jsonrpc2.Response:
		buf, err := appendID(buf, msg.ID())
		if err != nil {
			return nil, err
		}
		if msg.Err() != nil {
			return appendError(buf, msg.Err())
		}
		buf = append(buf, `,"result":`...)
		buf = append(buf, msg.Result()...)
		return append(buf, '}'), nil
	}
	return nil, fmt.Errorf("no such kind of message: %T", msg)
}

func appendRequest(buf []byte, msg jsonrpc2.Request) ([]byte, error) {
	method, err := json.Marshal(msg.Method())
	if err != nil {
		return nil, err
	}
	buf = append(buf, `,"method":`...)
	buf = append(buf, method...)
	if len(msg.Params()) > 0 {
		buf = append(buf, `,"params":`...)
		buf = append(buf, msg.Params()...)
	}
	return append(buf, '}'), nil
}

func appendID(buf []byte, id jsonrpc2.ID) ([]byte, error) {
	text, err := id.MarshalJSON()
	if err != nil {
		return nil, err
	}
	buf = append(buf, `,"id":`...)
	return append(buf, text...), nil
}

func appendError(buf []byte, err error) ([]byte, error) {
	text, failed := json.Marshal(wireError(err))
	if failed != nil {
		return nil, failed
	}
	buf = append(buf, `,"error":`...)
	buf = append(buf, text...)
	return append(buf, '}'), nil
}
