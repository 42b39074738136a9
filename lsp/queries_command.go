package lsp

import (
	"context"
	"encoding/json"
	"fmt"

	"go.lsp.dev/protocol"

	"hemline/lang/source"
	"hemline/lsp/assist"
)

// queriesCommand asks which of a board's open queries is to be answered, and puts in what
// would answer it, short of its value. Its arguments are the document's URI and, where it is
// known already, the query's name.
const queriesCommand = "hemline.queries"

// mostAsked is how many answers a person chooses from at once; more leads to the next ones.
const (
	mostAsked = 6
	more      = "more…"
)

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
	answers := answersTo(open, name)
	if len(answers) == 0 {
		s.tell("No open query has an answer that could be put in here.")
		return
	}
	x, ok := answers[0], true
	if len(answers) > 1 {
		x, ok = s.choose(answers)
	}
	if !ok {
		return
	}
	change := textChange{file: doc.file, uri: doc.uri, edits: x.Edits}
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

// answersTo are what would answer open queries: one for each, or all of the one that is named.
func answersTo(open []assist.OpenQuery, name string) (list []assist.Action) {
	for _, q := range open {
		switch {
		case q.Name == name:
			list = append(list, q.Answers...)
		case name == "" && len(q.Answers) > 0:
			list = append(list, q.Answers[0])
		}
	}
	return list
}

// choose lets the client's user choose one of several answers, some at a time; ok is false
// where none was chosen.
func (s *server) choose(answers []assist.Action) (x assist.Action, ok bool) {
	for first := 0; first < len(answers); first += mostAsked {
		page := answers[first:min(first+mostAsked, len(answers))]
		ask := protocol.ShowMessageRequestParams{Type: protocol.MessageTypeInfo, Message: "What a shop would ask, and what would answer it"}
		if len(answers) > mostAsked {
			ask.Message += fmt.Sprintf(": %d to %d of %d", first+1, first+len(page), len(answers))
		}
		for _, x := range page {
			ask.Actions = append(ask.Actions, protocol.MessageActionItem{Title: x.Title})
		}
		if first+len(page) < len(answers) {
			ask.Actions = append(ask.Actions, protocol.MessageActionItem{Title: more})
		}
		var chosen *protocol.MessageActionItem
		if err := s.ask(protocol.MethodWindowShowMessageRequest, ask, &chosen); err != nil || chosen == nil {
			return x, false
		}
		for _, x := range page {
			if x.Title == chosen.Title {
				return x, true
			}
		}
		if chosen.Title != more {
			return x, false
		}
	}
	return x, false
}
