package lsp

import (
	"context"
	"encoding/json"
	"strings"
	"unicode"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

type workspaceSymbolParams struct {
	workDone
	Query string `json:"query"`
}

// maxSymbols bounds the answer; a person reads the first few.
const maxSymbols = 1000

// workspaceSymbol finds the named statements of every text of the workspace
// whose names hold the letters of the query in order.
func (s *server) workspaceSymbol(params json.RawMessage) (answer, error) {
	var p workspaceSymbolParams
	if err := decode(params, &p); err != nil {
		return nil, err
	}
	world := s.docs.current()
	return func(ctx context.Context) (any, error) {
		list := []protocol.SymbolInformation{}
		everyone, err := s.everything(ctx, world, p.token())
		if err != nil {
			return nil, err
		}
		for _, doc := range everyone {
			for _, symbol := range s.docs.engine.Symbols(doc.analysis()) {
				if !symbol.Named || !letters(symbol.Name, p.Query) {
					continue
				}
				list = append(list, protocol.SymbolInformation{
					Name:          symbolName(symbol),
					Kind:          symbolKinds[symbol.Symbol],
					Location:      protocol.Location{URI: uri.URI(doc.uri), Range: s.client.textRange(doc.file, symbol.NameSpan)},
					ContainerName: symbol.Kind,
				})
				if len(list) == maxSymbols {
					return list, nil
				}
			}
		}
		return list, nil
	}, nil
}

// letters tells whether a name holds the letters of a query in order, small
// and capital ones alike.
func letters(name, query string) bool {
	rest := strings.ToLower(name)
	for _, r := range query {
		_, after, found := strings.Cut(rest, string(unicode.ToLower(r)))
		if !found {
			return false
		}
		rest = after
	}
	return true
}
