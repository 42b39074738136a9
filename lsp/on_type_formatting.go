package lsp

import (
	"context"
	"encoding/json"

	"hemline/lang/source"
)

// Characters that end what was being typed: the statement or line before is
// then brought into form.
const (
	onTypeFirst = "}"
	onTypeLine  = "\n"
)

type onTypeParams struct {
	positionParams
	Character string `json:"ch"`
}

// onTypeFormatting keeps to the lines of the statement that was just ended and
// leaves the cursor's own line alone after a line end: what stands there is
// still being typed.
func (s *server) onTypeFormatting(params json.RawMessage) (answer, error) {
	var p onTypeParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		last := doc.file.LineOf(offset(doc.file, p.Position, s.client.encoding))
		if p.Character == onTypeLine {
			last--
		}
		first := last
		if last >= 0 && p.Character == onTypeFirst {
			end := doc.file.Line(last).End
			if statement, rel := doc.analysis().Document().At(end); statement != nil && rel >= 0 {
				first = doc.file.LineOf(end - rel)
			}
		}
		return s.formatEdits(doc, func(edit source.Span) bool {
			return first <= doc.file.LineOf(edit.Start) && doc.file.LineOf(max(edit.Start, edit.End-1)) <= last
		}), nil
	}, nil
}
