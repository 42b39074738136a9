package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"

	"hemline/checks"
)

func (s *server) hover(params json.RawMessage) (answer, error) {
	var p positionParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	world := s.docs.current()
	return func(context.Context) (any, error) {
		card, ok := s.docs.engine.Hover(doc.analysis(), offset(doc.file, p.Position, s.client.encoding), &doc.shown, world.held(doc))
		if !ok {
			return nil, nil
		}
		place := s.client.textRange(doc.file, card.Span)
		return protocol.Hover{Contents: s.client.prose(doc.named(card.Markdown)), Range: &place}, nil
	}, nil
}

// held is what the board of a document is held to.
func (w *world) held(doc *document) checks.Options {
	return checks.Options{Today: w.today, Limits: w.limits(doc.analysis())}
}
