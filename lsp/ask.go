package lsp

import (
	"context"
	"time"
)

// askTime bounds how long an answer of the client is waited for. It covers a
// person who reads a question first; after it the question counts as refused.
const askTime = time.Minute

// ask sends a request to the client and decodes its answer into result, which
// may be nil. It waits, so never call it on the read loop, which is the one
// that would have to read the answer. A client that is gone ends the wait:
// the connection alone would keep it for ever.
func (s *server) ask(method string, params, result any) error {
	ctx, cancel := context.WithTimeout(context.Background(), askTime)
	defer cancel()
	go func() {
		select {
		case <-s.conn.Done():
			cancel()
		case <-ctx.Done():
		}
	}()
	_, err := s.conn.Call(ctx, method, params, result)
	return err
}
