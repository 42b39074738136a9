package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

func (s *server) definition(params json.RawMessage) (answer, error) {
	var p positionParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	world := s.docs.current()
	return func(context.Context) (any, error) {
		target, ok := s.docs.engine.Definition(doc.analysis(), offset(doc.file, p.Position, s.client.encoding))
		if !ok {
			return nil, nil
		}
		at := uri.URI(world.uriOf(doc, target.File))
		name := s.client.textRange(target.File, target.Span)
		if !s.client.links {
			return protocol.Location{URI: at, Range: name}, nil
		}
		full := s.client.textRange(target.File, around(target.Full, target.Span))
		return []protocol.LocationLink{{TargetURI: at, TargetRange: full, TargetSelectionRange: name}}, nil
	}, nil
}
