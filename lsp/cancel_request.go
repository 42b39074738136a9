package lsp

import (
	"encoding/json"

	"go.lsp.dev/protocol"
)

// cancelRequest answers the request at once as cancelled; what works on it is
// told through its context and its result is dropped.
func (s *server) cancelRequest(params json.RawMessage) {
	var p struct {
		ID json.RawMessage `json:"id"`
	}
	if decode(params, &p) != nil {
		return
	}
	id, ok := decodeID(p.ID)
	if !ok {
		return
	}
	if call := s.calls.get(id); call != nil {
		call.cancel()
		s.clerk.post(func() { call.finish(nil, protocol.ErrRequestCancelled) })
	}
}
