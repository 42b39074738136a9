package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"hemline/lsp/assist"
)

func (s *server) documentLink(params json.RawMessage) (answer, error) {
	var p documentParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	world := s.docs.current()
	return func(context.Context) (any, error) {
		list := []protocol.DocumentLink{}
		for _, l := range assist.Links(doc.analysis()) {
			list = append(list, protocol.DocumentLink{Range: s.client.textRange(doc.file, l.Span), Target: uri.URI(world.uriOfPath(l.Path))})
		}
		return list, nil
	}, nil
}
