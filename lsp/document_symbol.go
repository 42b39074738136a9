package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"hemline/lang/source"
	"hemline/lsp/assist"
)

func (s *server) documentSymbol(params json.RawMessage) (answer, error) {
	var p documentParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		return doc.answer(protocol.MethodTextDocumentDocumentSymbol, func() any {
			symbols := s.docs.engine.Symbols(doc.analysis())
			if s.client.hierarchical {
				return s.tree(doc.file, symbols)
			}
			return s.flat([]protocol.SymbolInformation{}, doc, "", symbols)
		})
	}, nil
}

func (s *server) tree(f *source.File, symbols []assist.Symbol) []protocol.DocumentSymbol {
	list := make([]protocol.DocumentSymbol, len(symbols))
	for i, symbol := range symbols {
		list[i] = protocol.DocumentSymbol{
			Name:           symbolName(symbol),
			Detail:         source.Visible(symbol.Detail),
			Kind:           symbolKinds[symbol.Symbol],
			Range:          s.client.textRange(f, around(symbol.Full, symbol.NameSpan)),
			SelectionRange: s.client.textRange(f, symbol.NameSpan),
			Children:       s.tree(f, symbol.Children),
		}
	}
	return list
}

func (s *server) flat(list []protocol.SymbolInformation, doc *document, within string, symbols []assist.Symbol) []protocol.SymbolInformation {
	for _, symbol := range symbols {
		name := symbolName(symbol)
		list = append(list, protocol.SymbolInformation{
			Name:          name,
			Kind:          symbolKinds[symbol.Symbol],
			Location:      protocol.Location{URI: uri.URI(doc.uri), Range: s.client.textRange(doc.file, symbol.Full)},
			ContainerName: within,
		})
		list = s.flat(list, doc, name, symbol.Children)
	}
	return list
}

// around is the span widened to hold the other, since the protocol asks for a
// name to lie within what it names.
func around(whole, part source.Span) source.Span {
	return source.Span{Start: min(whole.Start, part.Start), End: max(whole.End, part.End)}
}
