package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"

	"hemline/lsp/assist"
)

func (s *server) documentHighlight(params json.RawMessage) (answer, error) {
	var p positionParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	at := offset(doc.file, p.Position, s.client.encoding)
	s.cursor(doc, at) // editors ask wherever the cursor comes to rest
	return func(context.Context) (any, error) {
		list := []protocol.DocumentHighlight{}
		a := doc.analysis()
		name, ok := assist.NameAt(a, at)
		if !ok {
			return list, nil
		}
		for _, m := range assist.Mentions(a, name.Name) {
			if m.File != doc.file {
				continue
			}
			kind := protocol.DocumentHighlightKindRead
			if m.States {
				kind = protocol.DocumentHighlightKindWrite
			}
			list = append(list, protocol.DocumentHighlight{Range: s.client.textRange(doc.file, m.Span), Kind: kind})
		}
		return list, nil
	}, nil
}
