package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"

	"hemline/lang/source"
)

// rangeFormatting makes those of the whole text's edits that touch the range.
func (s *server) rangeFormatting(params json.RawMessage) (answer, error) {
	var p rangeParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		within := span(doc.file, p.Range, s.client.encoding)
		return s.formatEdits(doc, func(edit source.Span) bool { return edit.Start <= within.End && within.Start <= edit.End }), nil
	}, nil
}

// formatEdits are those of the edits that bring a text into canonical form
// which are wanted.
func (s *server) formatEdits(doc *document, wanted func(source.Span) bool) []protocol.TextEdit {
	list := []protocol.TextEdit{}
	for _, edit := range s.docs.engine.Format(doc.analysis()) {
		if wanted(edit.Span) {
			list = append(list, protocol.TextEdit{Range: s.client.textRange(doc.file, edit.Span), NewText: edit.Text})
		}
	}
	return list
}
