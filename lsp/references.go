package lsp

import (
	"context"
	"encoding/json"
	"slices"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"hemline/lsp/assist"
)

type referenceParams struct {
	positionParams
	workDone
	Context struct {
		IncludeDeclaration bool `json:"includeDeclaration"`
	} `json:"context"`
}

func (s *server) references(params json.RawMessage) (answer, error) {
	var p referenceParams
	world := s.looked()
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	return func(ctx context.Context) (any, error) {
		list := []protocol.Location{}
		if u, ok := assist.UseAt(doc.analysis(), offset(doc.file, p.Position, s.client.encoding)); ok {
			users, err := s.usersOf(ctx, world, absolute(u.Path), p.token())
			return s.places(users), err
		}
		name, ok := assist.NameAt(doc.analysis(), offset(doc.file, p.Position, s.client.encoding))
		if !ok {
			return list, nil
		}
		// Of a text that is not open no more is left than this.
		mentions, err := eachUser(ctx, s, world, doc, name.Name, p.token(), func(user *document) (list []protocol.Location) {
			for _, m := range assist.Mentions(user.analysis(), name.Name) {
				if p.Context.IncludeDeclaration || !m.States {
					list = append(list, protocol.Location{URI: uri.URI(world.uriOf(doc, m.File)), Range: s.client.textRange(m.File, m.Span)})
				}
			}
			return list
		})
		if err != nil {
			return nil, err
		}
		seen := map[protocol.Location]bool{}
		for _, of := range mentions {
			for _, at := range of {
				if !seen[at] {
					seen[at] = true
					list = append(list, at)
				}
			}
		}
		return list, nil
	}, nil
}

// users are the texts in which a name of doc may be spoken of: doc itself, and
// where the name is stated in a file that others use too, or in doc and others
// use doc, those others of the workspace.
func (s *server) users(ctx context.Context, w *world, doc *document, name assist.Name, token progressToken) ([]*document, error) {
	return eachUser(ctx, s, w, doc, name, token, func(user *document) *document { return user })
}

// eachUser asks something of each of the users of a name; see users.
func eachUser[T any](ctx context.Context, s *server, w *world, doc *document, name assist.Name, token progressToken, of func(*document) T) ([]T, error) {
	list := []T{of(doc)}
	if doc.path == "" {
		return list, nil
	}
	stated := map[string]bool{}
	for _, m := range assist.Mentions(doc.analysis(), name) {
		if m.States {
			stated[absolute(m.File.Path())] = true
		}
	}
	if len(stated) == 0 {
		return list, nil
	}
	everyone, err := everyText(ctx, s, w, token,
		func(other *document) []T {
			if other == doc || !usesAny(s.docs.engine.Files(other.analysis()), stated) {
				return nil
			}
			return []T{of(other)}
		},
		func(text *closedText) []T {
			if text.path == doc.path || !usesAny(text.files, stated) {
				return nil
			}
			if user := text.document(); user != nil {
				return []T{of(user)}
			}
			return nil
		})
	if err != nil {
		return nil, err
	}
	return slices.Concat(append([][]T{list}, everyone...)...), nil
}

func usesAny(files []string, paths map[string]bool) bool {
	return slices.ContainsFunc(files, func(path string) bool { return paths[absolute(path)] })
}
