package lsp

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"hemline/lang/source"
	"hemline/lsp/assist"
)

// usersCommand leads to the texts of the workspace that use a file, one with each call, and
// gives all. Its argument is the file's URI.
const usersCommand = "hemline.users"

// user is a `use` that names a file.
type user struct {
	doc  *document
	span source.Span
}

func (s *server) openUsers(arguments []json.RawMessage) (answer, error) {
	world := s.looked()
	doc, err := s.documentOf(arguments)
	if err != nil {
		return nil, err
	}
	return func(ctx context.Context) (any, error) {
		list, err := s.usersOf(ctx, world, doc.path, progressToken{})
		if err != nil {
			return nil, err
		}
		if len(list) == 0 {
			go s.tell(fmt.Sprintf("No text of the workspace uses %s.", filepath.Base(doc.path)))
			return []protocol.Location{}, nil
		}
		i := s.visits.next(usersCommand+" "+doc.uri, len(list))
		go func() {
			defer s.rescue("showing who uses a file", nil)
			s.show(list[i].doc.uri, list[i].doc.file, list[i].span)
			const most = 10
			var names []string
			for n, u := range list {
				if n == most {
					names = append(names, fmt.Sprintf("and %d more", len(list)-most))
					break
				}
				names = append(names, doc.named(filepath.ToSlash(u.doc.path)))
			}
			s.tell(fmt.Sprintf("%s is used by %s: %s", filepath.Base(doc.path), counted(len(list), "text"), strings.Join(names, ", ")))
		}()
		return s.places(list), nil
	}, nil
}

// usersOf are the `use` statements of the workspace that name a file.
func (s *server) usersOf(ctx context.Context, w *world, path string, token progressToken) (list []user, err error) {
	if path == "" {
		return nil, nil // it is on no disk, where it could be used from
	}
	everyone, err := everyText(ctx, s, w, token, func(doc *document) *document { return doc },
		func(text *closedText) *document {
			if !text.readsAny(func(read string) bool { return absolute(read) == path }) {
				return nil
			}
			return text.document()
		})
	if err != nil {
		return nil, err
	}
	for _, doc := range everyone {
		if doc == nil {
			continue
		}
		for _, u := range assist.Uses(doc.analysis()) {
			if absolute(u.Path) == path {
				list = append(list, user{doc, u.Span})
			}
		}
	}
	return list, nil
}

func (s *server) places(list []user) []protocol.Location {
	places := []protocol.Location{}
	for _, u := range list {
		places = append(places, protocol.Location{URI: uri.URI(u.doc.uri), Range: s.client.textRange(u.doc.file, u.span)})
	}
	return places
}
