package lsp

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"go.lsp.dev/protocol"

	"hemline/lang/source"
	"hemline/lsp/assist"
)

type renameFilesParams struct {
	workDone
	Files []struct {
		OldURI string `json:"oldUri"`
		NewURI string `json:"newUri"`
	} `json:"files"`
}

// renaming is a file, or a folder with all that is in it, that is to go under another path.
type renaming struct{ from, to string }

func (p *renameFilesParams) renamings() (list []renaming) {
	for _, f := range p.Files {
		from, ok1 := pathOf(f.OldURI)
		to, ok2 := pathOf(f.NewURI)
		if ok1 && ok2 && from != to {
			list = append(list, renaming{from, to})
		}
	}
	return list
}

// after gives the path that a path has once files are renamed, with slashes.
func after(list []renaming) func(string) string {
	return func(path string) string {
		whole := absolute(path)
		for _, r := range list {
			if whole == r.from {
				return filepath.ToSlash(r.to)
			}
			if rest, inside := strings.CutPrefix(whole, r.from+string(filepath.Separator)); inside {
				return filepath.ToSlash(filepath.Join(r.to, rest))
			}
		}
		return path
	}
}

// fileOperations are what the server is asked about, and told of: texts and folders that may
// hold some.
func fileOperations() *protocol.FileOperationRegistrationOptions {
	return &protocol.FileOperationRegistrationOptions{Filters: []protocol.FileOperationFilter{
		{Scheme: "file", Pattern: protocol.FileOperationPattern{Glob: "**/*.hem", Matches: protocol.FileOperationPatternKindFile}},
		{Scheme: "file", Pattern: protocol.FileOperationPattern{Glob: "**", Matches: protocol.FileOperationPatternKindFolder}},
	}}
}

// willRenameFiles mends every `use` that would no longer name its file: those of the files that
// move, and those of the whole workspace that name one.
func (s *server) willRenameFiles(params json.RawMessage) (answer, error) {
	var p renameFilesParams
	if err := decode(params, &p); err != nil {
		return nil, err
	}
	world := s.looked()
	return func(ctx context.Context) (any, error) {
		moves := p.renamings()
		if len(moves) == 0 {
			return nil, nil
		}
		moved := after(moves)
		concerns := func(path string) bool { return moved(path) != path }
		everyone, err := everyText(ctx, s, world, p.token(), func(doc *document) *document { return doc },
			func(text *closedText) *document {
				if !concerns(text.path) && !text.readsAny(concerns) {
					return nil
				}
				return text.document()
			})
		if err != nil {
			return nil, err
		}
		known := map[string]bool{}
		everyone = slices.DeleteFunc(everyone, func(doc *document) bool { return doc == nil })
		for _, doc := range everyone {
			known[doc.path] = true
		}
		for _, m := range moves { // outside all folders of the workspace
			if filepath.Ext(m.from) == source.Suffix && !known[m.from] && world.byPath[m.from] == nil {
				if text := s.survey(world).closed(m.from); text != nil && text.document() != nil {
					everyone = append(everyone, text.document())
				}
			}
		}
		var list []textChange
		var refused []string
		for _, doc := range everyone {
			if doc.path == "" {
				continue
			}
			change := textChange{file: doc.file, uri: doc.uri}
			for _, e := range assist.Moved(doc.analysis(), moved) {
				if writable(e.Text) {
					change.edits = append(change.edits, e)
				} else {
					refused = append(refused, fmt.Sprintf("`use %s` in %s", doc.file.Slice(e.Span), filepath.Base(doc.path)))
				}
			}
			if len(change.edits) > 0 {
				list = append(list, change)
			}
		}
		if len(refused) > 0 {
			go s.say(protocol.MessageTypeWarning, unwritten(refused))
		}
		if len(list) == 0 {
			return nil, nil
		}
		return s.edit(world, "mend `use`", list), nil
	}, nil
}

// writable tells whether a path can stand in a text: on one line, as something to be seen.
func writable(path string) bool {
	return utf8.ValidString(path) && !strings.ContainsFunc(path, unicode.IsControl)
}

// unwritten says of which `use` statements no edit was made.
func unwritten(uses []string) string {
	const most = 3
	more := ""
	if len(uses) > most {
		more = fmt.Sprintf(" and %d more", len(uses)-most)
		uses = uses[:most]
	}
	return source.Visible(fmt.Sprintf("%s%s: left as it stands: the new name holds a line end, another control character or bytes that are no UTF-8, which no `use` can name", strings.Join(uses, ", "), more))
}

// didRenameFiles looks at the disk again.
func (s *server) didRenameFiles(params json.RawMessage) error { return s.didChangeWatchedFiles(params) }
