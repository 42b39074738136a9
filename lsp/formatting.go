package lsp

import (
	"context"
	"encoding/json"

	"hemline/lang/source"
)

// formatting ignores the client's options: there is one canonical form.
func (s *server) formatting(params json.RawMessage) (answer, error) {
	var p documentParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		return s.formatEdits(doc, func(source.Span) bool { return true }), nil
	}, nil
}
