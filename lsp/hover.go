package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"
)

func (s *server) hover(params json.RawMessage) (answer, error) {
	var p positionParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		card, ok := s.docs.engine.Hover(doc.analysis(), offset(doc.file, p.Position, s.client.encoding), &doc.shown)
		if !ok {
			return nil, nil
		}
		place := s.client.textRange(doc.file, card.Span)
		return protocol.Hover{Contents: s.client.prose(card.Markdown), Range: &place}, nil
	}, nil
}
