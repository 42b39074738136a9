package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"

	"hemline/lang/source"
	"hemline/lsp/assist"
)

// codeLens shows lines to read; a click on one does nothing.
func (s *server) codeLens(params json.RawMessage) (answer, error) {
	var p documentParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		list := []protocol.CodeLens{}
		for _, l := range assist.Lenses(doc.analysis(), doc.outcome()) {
			list = append(list, protocol.CodeLens{Range: s.client.textRange(doc.file, l.Span), Command: &protocol.Command{Title: source.Visible(l.Text)}})
		}
		return list, nil
	}, nil
}
