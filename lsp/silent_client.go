package lsp

import (
	"sync"
	"time"
)

// silence is for how long a client that says that it pulls findings may open
// texts without asking for any before it is sent them.
const silence = time.Second

// pulling tells whether findings are sent to a client that says that it pulls
// them: from its first silence on, until it pulls after all.
type pulling struct {
	mu     sync.Mutex
	wait   time.Duration
	timer  *time.Timer // since the first text was opened
	pulled bool        // once is enough: it knows how
	silent bool
}

// opened starts the wait for the first pull.
func (p *pulling) opened(over func()) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.timer != nil || p.pulled {
		return
	}
	p.timer = time.AfterFunc(p.wait, func() {
		p.mu.Lock()
		p.silent = !p.pulled
		p.mu.Unlock()
		over()
	})
}

// asked takes note of a pull; it tells whether findings were sent until now.
func (p *pulling) asked() (was bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.timer != nil {
		p.timer.Stop()
	}
	was = p.silent
	p.pulled, p.silent = true, false
	return was
}

// sends tells whether findings are sent to the client now.
func (s *server) sends() bool {
	if !s.client.pulls {
		return true
	}
	s.pulling.mu.Lock()
	defer s.pulling.mu.Unlock()
	return s.pulling.silent
}

// pulls takes note that the client asks for findings: what it was sent is taken
// back, so that it shows nothing twice.
func (s *server) pulls() {
	if s.pulling.asked() {
		s.diag.wake()
	}
}
