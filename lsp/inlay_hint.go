package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"

	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lsp/assist"
)

const methodInlayHint = "textDocument/inlayHint"

// inlayHint is a type that the library does not have.
type inlayHint struct {
	Position    protocol.Position `json:"position"`
	Label       string            `json:"label"`
	Tooltip     string            `json:"tooltip"`
	PaddingLeft bool              `json:"paddingLeft"`
}

type rangeParams struct {
	documentParams
	Range textRange `json:"range"`
}

func (s *server) inlayHint(params json.RawMessage) (answer, error) {
	var p rangeParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	world := s.docs.current()
	set := world.settings
	unit, _ := quantity.UnitNamed(set.Units)
	options := assist.HintOptions{Coordinates: set.InlayHints.Coordinates, Values: set.InlayHints.Values, Units: set.InlayHints.Units, Unit: unit}
	return func(context.Context) (any, error) {
		if set.InlayHints.Margins {
			options.Margins = assist.Margins(doc.analysis(), &doc.shown, world.held(doc))
		}
		list := []inlayHint{}
		for _, h := range assist.Hints(doc.analysis(), span(doc.file, p.Range, s.client.encoding), options) {
			list = append(list, inlayHint{Position: s.client.position(doc.file, h.Offset), Label: source.Visible(h.Text), Tooltip: source.Visible(doc.named(h.Why)), PaddingLeft: true})
		}
		return list, nil
	}, nil
}
