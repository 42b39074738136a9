package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"

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
		return doc.answer(protocol.MethodTextDocumentFormatting, func() any {
			return s.formatEdits(doc, func(source.Span) bool { return true })
		})
	}, nil
}
