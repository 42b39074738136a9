package lsp

import "sync"

// refresher tells a client that pulls diagnostics to pull them again: once at
// a time, and once more where something has changed while it was told.
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
	if !s.client.pulls || !s.client.diagnosticRefresh {
		return
	}
	r := &s.refreshing
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.busy {
		r.again = true
		return
	}
	r.busy = true
	go func() {
		defer s.rescue(methodDiagnosticRefresh, nil)
		for more := true; more; more = r.next() {
			if err := s.ask(methodDiagnosticRefresh, nil, nil); err != nil {
				s.log.Printf("%s: %v", methodDiagnosticRefresh, err)
			}
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
