package lsp

import (
	"sync"

	"go.lsp.dev/protocol"

	"hemline/lang/source"
)

// visits remembers, for what a click leads to one after another, which came last.
type visits struct {
	mu   sync.Mutex
	last map[string]int
}

// next is the number of the one to show of n, the one behind the last or the first.
func (v *visits) next(key string, n int) int {
	v.mu.Lock()
	defer v.mu.Unlock()
	if v.last == nil {
		v.last = map[string]int{}
	}
	i, had := v.last[key]
	if i++; !had || i >= n {
		i = 0
	}
	v.last[key] = i
	return i
}

// show lets the client open a place of a text; done is false for a client that cannot. It
// waits for the client: never on the read loop.
func (s *server) show(uri string, file *source.File, span source.Span) (done bool) {
	at := s.client.textRange(file, span)
	return s.showDocument(showDocumentParams{URI: uri, TakeFocus: true, Selection: &at}) == nil
}

// tell shows a message to the client's user.
func (s *server) tell(text string) { s.say(protocol.MessageTypeInfo, text) }
