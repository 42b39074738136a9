package lsp

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"hemline/lang/finding"
)

// findingsCommand leads to the findings of a text, the gravest first, one with each call. Its
// argument is the document's URI.
const findingsCommand = "hemline.findings"

// shownFinding is what the command has led to.
type shownFinding struct {
	Location protocol.Location `json:"location"`
	Rule     string            `json:"rule"`
	Message  string            `json:"message"`
}

func (s *server) openFindings(arguments []json.RawMessage) (answer, error) {
	doc, err := s.documentOf(arguments)
	if err != nil {
		return nil, err
	}
	world := s.docs.current()
	return func(context.Context) (any, error) {
		list := doc.settings.shown(doc.findings())
		if len(list) == 0 {
			go s.tell("There are no findings.")
			return nil, nil
		}
		slices.SortStableFunc(list, func(a, b finding.Located) int { return cmp.Compare(b.Category, a.Category) })
		i := s.visits.next(findingsCommand+" "+doc.uri, len(list))
		f := list[i]
		to := world.uriOf(doc, f.File)
		go func() {
			defer s.rescue("showing a finding", nil)
			where := ""
			if !s.show(to, f.File, f.Span) {
				where = mention(doc.file, f.File, f.Span) + ": "
			}
			s.tell(fmt.Sprintf("%d of %d: %s%s", i+1, len(list), where, doc.named(f.Message)))
		}()
		return shownFinding{protocol.Location{URI: uri.URI(to), Range: s.client.textRange(f.File, f.Span)}, f.Rule, doc.named(f.Message)}, nil
	}, nil
}

// documentOf is the open document that a command's first argument names.
func (s *server) documentOf(arguments []json.RawMessage) (*document, error) {
	var to string
	if err := argument(arguments, 0, &to); err != nil {
		return nil, err
	}
	return s.document(to)
}
