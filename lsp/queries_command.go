package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"

	"hemline/lang/source"
	"hemline/lsp/assist"
)

// queriesCommand asks which of a board's open queries is to be answered, and puts in what
// would answer it, short of its value. Its arguments are the document's URI and, where it is
// known already, the query's name.
const queriesCommand = "hemline.queries"

// mostAsked is how many answers a person chooses from at once; the rest is offered the next time.
const mostAsked = 6

func (s *server) openQueries(arguments []json.RawMessage) (answer, error) {
	doc, err := s.documentOf(arguments)
	if err != nil {
		return nil, err
	}
	name := ""
	if len(arguments) > 1 {
		if err := argument(arguments, 1, &name); err != nil {
			return nil, err
		}
	}
	world := s.docs.current()
	return func(context.Context) (any, error) {
		open := assist.OpenQueries(doc.analysis())
		names := make([]string, 0, len(open))
		for _, q := range open {
			names = append(names, q.Name)
		}
		go func() {
			defer s.rescue("answering a query", nil)
			s.answerQuery(world, doc, open, name)
		}()
		return names, nil
	}, nil
}

// answerQuery lets the client's user choose and then change the text.
func (s *server) answerQuery(w *world, doc *document, open []assist.OpenQuery, name string) {
	var ask protocol.ShowMessageRequestParams
	ask.Type, ask.Message = protocol.MessageTypeInfo, "What a shop would ask, and what would answer it"
	byTitle := map[string]assist.Action{}
	for _, q := range open {
		for _, x := range q.Answers {
			if (name == "" || name == q.Name) && len(ask.Actions) < mostAsked {
				if _, known := byTitle[x.Title]; !known {
					byTitle[x.Title] = x
					ask.Actions = append(ask.Actions, protocol.MessageActionItem{Title: x.Title})
				}
			}
		}
	}
	if len(byTitle) == 0 {
		s.tell("No open query has an answer that could be put in here.")
		return
	}
	chosen := &ask.Actions[0]
	if len(ask.Actions) > 1 {
		chosen = nil
		if err := s.ask(protocol.MethodWindowShowMessageRequest, ask, &chosen); err != nil || chosen == nil {
			return // nothing was chosen
		}
	}
	x, ok := byTitle[chosen.Title]
	if !ok {
		return
	}
	change := textChange{file: doc.file, uri: doc.uri}
	for _, e := range x.Edits {
		change.edits = append(change.edits, source.Edit{Span: e.Span, Text: e.Text})
	}
	if !s.client.appliesEdits {
		s.tell("The editor takes no changes from the server: " + x.Title)
		return
	}
	var result struct {
		Applied bool `json:"applied"`
	}
	edit := applyEditParams{Label: x.Title, Edit: s.edit(w, x.Title, []textChange{change})}
	if err := s.ask(protocol.MethodWorkspaceApplyEdit, edit, &result); err != nil || !result.Applied {
		return
	}
	// The cursor goes behind what was put in, where the value is to be.
	after := doc.file.Edit(x.Edits[0].Span, x.Edits[0].Text)
	end := x.Edits[0].Span.Start + x.Value()
	s.show(doc.uri, after, source.Span{Start: end, End: end})
}
