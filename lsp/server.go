// Package lsp is the language server: the protocol on one side, the language
// and its rules on the other. It is the only package that knows the protocol.
//
// Messages are read by one loop. It carries out notifications in their order;
// for a request it takes the state of the document as it is at that moment and
// answers from it on a goroutine of its own. Every version of a text is an
// immutable value, so nothing is locked while something is worked out.
// Diagnostics are the work of one more goroutine, which always takes the
// newest state there is.
package lsp

import (
	"context"
	"io"
	"log"
	"sync"
	"sync/atomic"
	"time"

	"go.lsp.dev/jsonrpc2"
)

const (
	// drainTime bounds how long answers under way are waited for once the
	// client has closed its end.
	drainTime = 2 * time.Second
	// parentPeriod is how often the client's process is looked for.
	parentPeriod = time.Second
)

// Serve speaks the protocol until the client is done, and returns the exit
// code of the process: 0 after a shutdown, 1 where the end came without one. It
// sets the process's collector to its needs.
// The log is for people; nothing of the protocol goes there. The version is
// what the server says of itself.
func Serve(ctx context.Context, in io.Reader, out io.Writer, logTo io.Writer, version string) int {
	s := newServer(DefaultEngine(), log.New(logTo, "hemline: ", 0), version)
	s.memory.set = boundMemory
	s.memory.opened(0)
	return s.serve(ctx, in, out)
}

// server is one session with one client. What has no lock belongs to the read
// loop; client is written once, before anything else reads it.
type server struct {
	version  string
	log      *log.Logger
	docs     *documents
	client   client
	stream   *stream
	conn     jsonrpc2.Conn
	calls    calls
	phase    phase
	exited   bool
	gone     chan struct{} // closed when the client's process is no more
	diag     *publisher
	clerk    *clerk
	pictures *pictures
	visits   visits
	modes    *resonator

	fetches  atomic.Int64 // how often the client was asked for its settings
	fetching atomic.Int64 // how often without an answer yet
	missed   atomic.Bool  // it is to be asked once more
	settling sync.Mutex   // held while an answer to that is put in force

	memory                                        memory // sets nothing in a test
	workspace                                     workspace
	tokensSent                                    semanticTokens
	refreshing, refreshingHints, refreshingLenses refresher
	pulling                                       pulling
	tokens                                        tokens
	rules                                         rulesPage
	progressAfter                                 time.Duration
	dayPeriod                                     time.Duration
	ended                                         <-chan struct{} // closed when the session is over
}

// phase is how far the session has come.
type phase int

const (
	fresh    phase = iota // not initialized
	running               // between initialize and shutdown
	shutdown              // waiting for exit
)

func newServer(engine Engine, logger *log.Logger, version string) *server {
	s := &server{version: version, log: logger, docs: newDocuments(engine), gone: make(chan struct{}), progressAfter: progressAfter, dayPeriod: dayPeriod}
	s.memory.set = func(int64) {}
	s.pulling.wait = silence
	s.calls.pending, s.calls.room = map[jsonrpc2.ID]*pendingCall{}, make(chan struct{}, maxCalls)
	s.diag = newPublisher(s)
	s.pictures = newPictures(s)
	s.modes = newResonator(s)
	return s
}

func (s *server) serve(ctx context.Context, in io.Reader, out io.Writer) int {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	s.ended = ctx.Done()
	s.clerk = newClerk()
	s.stream = newStream(in, out)
	s.stream.aside = s.clerk.post
	defer s.stream.shut()
	defer s.pictures.close()
	defer s.modes.close()
	s.conn = jsonrpc2.NewConn(s.stream)
	go s.diag.run()
	s.conn.Go(ctx, s.handle)
	select {
	case <-s.conn.Done():
	case <-s.gone:
		s.log.Print("the client's process is gone")
		return 1
	case <-s.stream.broken:
		s.log.Print("the client takes no more messages")
		return 1
	case <-ctx.Done():
		return 1
	}
	s.diag.stop()
	s.clerk.stop()
	if !s.exited {
		s.drain()
	}
	if s.phase != shutdown {
		return 1
	}
	return 0
}

// drain gives what was asked before the client closed its end the time to be
// answered, so that a session can be a file.
func (s *server) drain() {
	done := make(chan struct{})
	go func() {
		<-s.clerk.done
		s.calls.running.Wait()
		<-s.diag.done
		close(done)
	}()
	select {
	case <-done:
	case <-time.After(drainTime):
	}
}

// calls are the requests that have no answer yet.
type calls struct {
	mu      sync.Mutex
	pending map[jsonrpc2.ID]*pendingCall
	running sync.WaitGroup
	room    chan struct{} // holds one for each that is worked on or waits to be written
}

// maxCalls bounds the requests that are worked on or whose answers wait to be written;
// with so many, no more is read of the client.
const maxCalls = 1000

// pendingCall is one request; the first to finish it answers.
type pendingCall struct {
	ctx    context.Context
	cancel context.CancelFunc
	finish func(result any, err error)
}

// add notes a request until it is finished.
func (c *calls) add(ctx context.Context, id jsonrpc2.ID, reply func(result any, err error)) *pendingCall {
	call := new(pendingCall)
	call.ctx, call.cancel = context.WithCancel(ctx)
	var once sync.Once
	call.finish = func(result any, err error) {
		once.Do(func() {
			call.cancel()
			c.mu.Lock()
			if c.pending[id] == call {
				delete(c.pending, id)
			}
			c.mu.Unlock()
			reply(result, err)
		})
	}
	c.mu.Lock()
	c.pending[id] = call
	c.mu.Unlock()
	return call
}

func (c *calls) get(id jsonrpc2.ID) *pendingCall {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.pending[id]
}
