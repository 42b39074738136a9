package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"

	"hemline/lang/source"
	"hemline/lsp/assist"
)

// codeLens shows lines to read, each with a command of the server for a click on it.
func (s *server) codeLens(params json.RawMessage) (answer, error) {
	var p documentParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		list := []protocol.CodeLens{}
		for _, l := range assist.Lenses(doc.analysis(), doc.outcome()) {
			list = append(list, protocol.CodeLens{Range: s.client.textRange(doc.file, l.Span), Command: s.lensCommand(doc, l)})
		}
		return list, nil
	}, nil
}

// lensCommand is what a click on a lens does.
func (s *server) lensCommand(doc *document, l assist.Lens) *protocol.Command {
	c := &protocol.Command{Title: source.Visible(l.Text), Command: lensCommands[l.Does], Arguments: []any{doc.uri}}
	if l.Does == assist.DoesPicture {
		c.Arguments = append(c.Arguments, s.client.position(doc.file, l.Span.Start))
	}
	return c
}

var lensCommands = map[string]string{
	assist.DoesFindings: findingsCommand, assist.DoesPicture: pictureCommand, assist.DoesQueries: queriesCommand, assist.DoesUsers: usersCommand,
}
