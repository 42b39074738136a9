package lsp

import (
	"context"
	"encoding/json"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"hemline/lang"
	"hemline/lsp/assist"
)

// requestFailed is the protocol's code for a request that is right in form and
// cannot be carried out; the message is shown to a person.
const requestFailed jsonrpc2.Code = -32803

type renameParams struct {
	positionParams
	workDone
	NewName string `json:"newName"`
}

// prepareRename shows what would be renamed, or says why nothing can be.
func (s *server) prepareRename(params json.RawMessage) (answer, error) {
	var p positionParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(context.Context) (any, error) {
		m, err := assist.Renameable(doc.analysis(), offset(doc.file, p.Position, s.client.encoding))
		if err != nil {
			return nil, jsonrpc2.NewError(requestFailed, err.Error())
		}
		return struct {
			Range       protocol.Range `json:"range"`
			Placeholder string         `json:"placeholder"`
		}{s.client.textRange(doc.file, m.Span), m.Own()}, nil
	}, nil
}

// rename changes a name in every text of the workspace that speaks of it, or
// says why it cannot.
func (s *server) rename(params json.RawMessage) (answer, error) {
	var p renameParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	world := s.docs.current()
	return func(ctx context.Context) (any, error) {
		m, err := assist.Renameable(doc.analysis(), offset(doc.file, p.Position, s.client.encoding))
		if err != nil {
			return nil, jsonrpc2.NewError(requestFailed, err.Error())
		}
		users, err := s.users(ctx, world, doc, m.Name, p.token())
		if err != nil {
			return nil, err
		}
		roots := make([]*lang.Analysis, len(users))
		for i, user := range users {
			roots[i] = user.analysis()
		}
		changes, err := assist.Rename(roots, m.Name, p.NewName)
		if err != nil {
			return nil, jsonrpc2.NewError(requestFailed, doc.short(err.Error()))
		}
		edit := protocol.WorkspaceEdit{Changes: map[uri.URI][]protocol.TextEdit{}}
		for _, c := range changes {
			to := uri.URI(world.uriOf(doc, c.File))
			for _, e := range c.Edits {
				edit.Changes[to] = append(edit.Changes[to], protocol.TextEdit{Range: s.client.textRange(c.File, e.Span), NewText: e.Text})
			}
		}
		return edit, nil
	}, nil
}
