package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"
)

// formatting ignores the client's options: there is one canonical form.
func (s *server) formatting(params json.RawMessage) (answer, error) {
	var p documentParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		list := []protocol.TextEdit{}
		for _, edit := range s.docs.engine.Format(doc.analysis()) {
			list = append(list, protocol.TextEdit{Range: s.client.textRange(doc.file, edit.Span), NewText: edit.Text})
		}
		return list, nil
	}, nil
}
