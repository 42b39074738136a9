package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"

	"hemline/lsp/assist"
)

func (s *server) foldingRange(params json.RawMessage) (answer, error) {
	var p documentParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	kinds := map[string]protocol.FoldingRangeKind{"comment": protocol.CommentFoldingRange, "uses": protocol.ImportsFoldingRange}
	return func(context.Context) (any, error) {
		list := []protocol.FoldingRange{}
		for _, f := range assist.Folds(doc.analysis()) {
			list = append(list, protocol.FoldingRange{StartLine: uint32(f.First), EndLine: uint32(f.Last), Kind: kinds[f.Kind]})
		}
		return list, nil
	}, nil
}
