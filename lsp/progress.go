package lsp

import (
	"context"
	"encoding/json"
	"fmt"
	"sync"
	"time"

	"go.lsp.dev/protocol"
)

// progressToken is what a client, or the server, calls a piece of work; nil for none.
type progressToken json.RawMessage

// workDone is the part of a request's parameters that names its progress.
type workDone struct {
	Token json.RawMessage `json:"workDoneToken"`
}

func (w workDone) token() progressToken { return progressToken(w.Token) }

const (
	// progressAfter is how long a piece of work goes on unseen: most are over
	// before anybody could read a word.
	progressAfter = 300 * time.Millisecond
	// progressEvery keeps reports from outnumbering what they report.
	progressEvery = 100 * time.Millisecond
)

// progress shows how far a piece of work is, and lets the client stop it.
type progress struct {
	s      *server
	ctx    context.Context
	cancel context.CancelFunc
	token  json.RawMessage
	title  string
	total  int

	mu     sync.Mutex // held while it is shown
	start  time.Time
	last   time.Time
	begun  bool
	own    bool // the server made the token
	silent bool // the client knows no progress
}

type progressValue struct {
	Kind        string  `json:"kind"`
	Title       string  `json:"title,omitempty"`
	Cancellable *bool   `json:"cancellable,omitempty"`
	Message     string  `json:"message,omitempty"`
	Percentage  *uint32 `json:"percentage,omitempty"`
}

// progress begins to watch a piece of work of so many steps.
func (s *server) progress(ctx context.Context, token progressToken, title string, total int) *progress {
	p := &progress{s: s, token: json.RawMessage(token), title: title, total: total, start: time.Now()}
	p.ctx, p.cancel = context.WithCancel(ctx)
	p.own = len(p.token) == 0
	p.silent = p.own && !s.client.progress
	return p
}

// step says that so many steps are behind. Several goroutines may call it; while one
// shows how far the work is, the others go on.
func (p *progress) step(done int) {
	if !p.mu.TryLock() {
		return
	}
	defer p.mu.Unlock()
	now := time.Now()
	if p.silent || now.Sub(p.start) < p.s.progressAfter || p.begun && now.Sub(p.last) < progressEvery {
		return
	}
	p.last = now
	if !p.begun {
		p.begin()
	}
	percent := uint32(100 * done / max(p.total, 1))
	p.send(progressValue{Kind: "report", Message: fmt.Sprintf("%d of %d", done, p.total), Percentage: &percent})
}

func (p *progress) begin() {
	p.begun = true
	if p.own {
		p.token = json.RawMessage(fmt.Sprintf(`"hemline-%d"`, p.s.tokens.next()))
		if err := p.s.ask(protocol.MethodWorkDoneProgressCreate, map[string]any{"token": p.token}, nil); err != nil {
			p.silent = true
			return
		}
	}
	p.s.tokens.add(p.token, p.cancel)
	yes, zero := true, uint32(0)
	p.send(progressValue{Kind: "begin", Title: p.title, Cancellable: &yes, Percentage: &zero})
}

// end says that the work is over, if anything was said of it.
func (p *progress) end() {
	if p.begun && !p.silent {
		p.send(progressValue{Kind: "end"})
		p.s.tokens.drop(p.token)
	}
	p.cancel()
}

func (p *progress) send(value progressValue) {
	if !p.silent {
		_ = p.s.conn.Notify(context.Background(), protocol.MethodProgress, map[string]any{"token": p.token, "value": value})
	}
}

// tokens are the pieces of work that a client may stop.
type tokens struct {
	mu      sync.Mutex
	count   int
	cancels map[string]context.CancelFunc
}

func (t *tokens) next() int {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.count++
	return t.count
}

func (t *tokens) add(token json.RawMessage, cancel context.CancelFunc) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.cancels == nil {
		t.cancels = map[string]context.CancelFunc{}
	}
	t.cancels[string(token)] = cancel
}

func (t *tokens) drop(token json.RawMessage) {
	t.mu.Lock()
	defer t.mu.Unlock()
	delete(t.cancels, string(token))
}

// workDoneProgressCancel stops the work that a token names.
func (s *server) workDoneProgressCancel(params json.RawMessage) error {
	var p struct {
		Token json.RawMessage `json:"token"`
	}
	if err := decode(params, &p); err != nil {
		return err
	}
	s.tokens.mu.Lock()
	cancel := s.tokens.cancels[string(p.Token)]
	s.tokens.mu.Unlock()
	if cancel != nil {
		cancel()
	}
	return nil
}
