package lsp

import (
	"context"
	"slices"
	"sync"

	"hemline/checks/figures"
)

// resonator works out the modes of cavities beside everything else: those that the
// check of a document's newest version did without. One goroutine a document; it is
// stopped when a newer version has other cavities. When it is done the document is
// checked anew, at whatever version it then is.
type resonator struct {
	server *server
	mu     sync.Mutex
	under  map[string]*underWay // by the document's URI
	closed bool
	work   sync.WaitGroup
}

// underWay is what is being worked out for a document.
type underWay struct {
	keys   []figures.Key
	cancel context.CancelFunc
}

func newResonator(s *server) *resonator {
	return &resonator{server: s, under: map[string]*underWay{}}
}

// want says which cavities the check of a document waits for; none where it waits for
// nothing, or is closed. What is under way goes on if it is just these.
func (r *resonator) want(uri string, cavities []*figures.Cavity) {
	var keys []figures.Key
	for _, c := range cavities {
		keys = append(keys, c.Key)
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if u := r.under[uri]; u != nil {
		if slices.Equal(u.keys, keys) {
			return
		}
		u.cancel()
		delete(r.under, uri)
	}
	if len(keys) == 0 || r.closed {
		return
	}
	ctx, cancel := context.WithCancel(context.Background())
	u := &underWay{keys, cancel}
	r.under[uri] = u
	r.work.Go(func() {
		defer r.server.rescue("the modes of "+uri, nil)
		defer cancel()
		if r.server.docs.modes.WorkOut(ctx, cavities) == nil && r.done(uri, u) {
			r.server.docs.renew(uri)
			r.server.stepped(true) // whoever pulls cannot know either
		}
	})
}

// done takes note that something has been worked out, and tells whether it still
// counts.
func (r *resonator) done(uri string, u *underWay) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.under[uri] != u {
		return false
	}
	delete(r.under, uri)
	return true
}

// close stops whatever is under way, and takes nothing more.
func (r *resonator) close() {
	r.mu.Lock()
	r.closed = true
	for _, u := range r.under {
		u.cancel()
	}
	clear(r.under)
	r.mu.Unlock()
	r.work.Wait()
}
