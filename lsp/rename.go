package lsp

import (
	"context"
	"encoding/json"
	"fmt"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

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
	world := s.looked()
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
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
			return nil, jsonrpc2.NewError(requestFailed, doc.named(err.Error()))
		}
		list := make([]textChange, 0, len(changes))
		for _, c := range changes {
			list = append(list, textChange{file: c.File, uri: world.uriOf(doc, c.File), edits: c.Edits})
		}
		return s.edit(world, fmt.Sprintf("rename %s %s to %s", m.Kind, m.Text, p.NewName), list), nil
	}, nil
}
