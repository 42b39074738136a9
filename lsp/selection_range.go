package lsp

import (
	"context"
	"encoding/json"
	"slices"

	"go.lsp.dev/protocol"

	"hemline/lsp/assist"
)

const methodSelectionRange = "textDocument/selectionRange"

type selectionRangeParams struct {
	documentParams
	Positions []position `json:"positions"`
}

func (s *server) selectionRange(params json.RawMessage) (answer, error) {
	var p selectionRangeParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(ctx context.Context) (any, error) {
		list := []*protocol.SelectionRange{}
		for _, at := range p.Positions {
			if ctx.Err() != nil {
				return nil, protocol.ErrRequestCancelled
			}
			var parent *protocol.SelectionRange
			for _, span := range slices.Backward(assist.Selections(doc.analysis(), offset(doc.file, at, s.client.encoding))) {
				parent = &protocol.SelectionRange{Range: s.client.textRange(doc.file, span), Parent: parent}
			}
			list = append(list, parent)
		}
		return list, nil
	}, nil
}
