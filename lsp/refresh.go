package lsp

import "sync"

// refresher asks a client for something: once at a time, and once more where something
// has changed while it was asked. So a client that does not read is asked once.
type refresher struct {
	mu    sync.Mutex
	busy  bool
	again bool
}

// stepped is called when the texts have changed. A client pulls those of a
// text that it changes by itself; that others use it, it cannot know.
func (s *server) stepped(others bool) {
	s.diag.wake()
	if others {
		s.refreshDiagnostics()
	}
}

func (s *server) refreshDiagnostics() {
	if s.client.pulls && s.client.diagnosticRefresh {
		s.refreshing.do(func() { s.remind(methodDiagnosticRefresh) })
	}
}

// remind sends the client a request without anything more to it.
func (s *server) remind(method string) {
	defer s.rescue(method, nil)
	if err := s.ask(method, nil, nil); err != nil {
		s.log.Printf("%s: %v", method, err)
	}
}

// do lets work be done on a goroutine of its own, and once more after that if it is asked
// for meanwhile, however often.
func (r *refresher) do(work func()) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.busy {
		r.again = true
		return
	}
	r.busy = true
	go func() {
		for more := true; more; more = r.next() {
			work()
		}
	}()
}

// next ends a round and tells whether there is another.
func (r *refresher) next() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.busy, r.again = r.again, false
	return r.busy
}
