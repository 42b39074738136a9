package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"

	"hemline/lsp/assist"
)

// plainName is what a name without quotes looks like.
const plainName = `[\p{L}_][\p{L}\p{Nd}\p{M}_]*`

func (s *server) linkedEditingRange(params json.RawMessage) (answer, error) {
	var p positionParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		spans := assist.Linked(doc.analysis(), offset(doc.file, p.Position, s.client.encoding))
		if len(spans) == 0 {
			return nil, nil
		}
		ranges := protocol.LinkedEditingRanges{WordPattern: plainName}
		for _, span := range spans {
			ranges.Ranges = append(ranges.Ranges, s.client.textRange(doc.file, span))
		}
		return ranges, nil
	}, nil
}
