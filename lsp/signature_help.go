package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"

	"hemline/lang/source"
	"hemline/lsp/assist"
)

// signatureHelp and the two types below stand in for the library's, which
// knows no offsets into a label and cannot tell the first parameter from none.
type signatureHelp struct {
	Signatures      []signatureInformation `json:"signatures"`
	ActiveSignature uint32                 `json:"activeSignature"`
	ActiveParameter uint32                 `json:"activeParameter"`
}

type signatureInformation struct {
	Label         string                 `json:"label"`
	Documentation protocol.MarkupContent `json:"documentation"`
	Parameters    []parameterInformation `json:"parameters"`
}

type parameterInformation struct {
	Label         any                    `json:"label"` // the text, or its two ends in the signature's label in UTF-16
	Documentation protocol.MarkupContent `json:"documentation"`
}

func (s *server) signatureHelp(params json.RawMessage) (answer, error) {
	var p positionParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		signature, ok := assist.SignatureAt(doc.analysis(), offset(doc.file, p.Position, s.client.encoding))
		if !ok {
			return nil, nil
		}
		return s.client.signatureHelp(signature), nil
	}, nil
}

func (c client) signatureHelp(x assist.Signature) signatureHelp {
	label := source.New("", x.Label)
	info := signatureInformation{Label: x.Label, Documentation: c.prose(x.Doc), Parameters: []parameterInformation{}}
	for _, p := range x.Parameters {
		item := parameterInformation{Label: x.Label[p.Span.Start:p.Span.End], Documentation: c.prose(p.Doc)}
		if c.labelOffsets {
			// These count UTF-16 whatever the positions count.
			item.Label = [2]int{label.Position(p.Span.Start, source.UTF16).Column, label.Position(p.Span.End, source.UTF16).Column}
		}
		info.Parameters = append(info.Parameters, item)
	}
	active := len(info.Parameters) // past the end: none
	if x.Active >= 0 {
		active = x.Active
	}
	return signatureHelp{Signatures: []signatureInformation{info}, ActiveParameter: uint32(active)}
}
