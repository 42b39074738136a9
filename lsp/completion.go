package lsp

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"go.lsp.dev/protocol"

	"hemline/lang/source"
	"hemline/lsp/assist"
)

func (s *server) completion(params json.RawMessage) (answer, error) {
	var p positionParams
	doc, err := s.decodeFor(params, &p)
	if err != nil {
		return nil, err
	}
	world := s.docs.current()
	return func(context.Context) (any, error) {
		list := protocol.CompletionList{Items: []protocol.CompletionItem{}}
		for i, c := range s.docs.engine.Complete(doc.analysis(), offset(doc.file, p.Position, s.client.encoding), filesBeside(doc.path), world.held(doc)) {
			list.Items = append(list.Items, s.completionItem(doc, i, c))
		}
		return list, nil
	}, nil
}

func (s *server) completionItem(doc *document, rank int, c assist.Candidate) protocol.CompletionItem {
	item := protocol.CompletionItem{
		Label:  source.Visible(c.Label),
		Kind:   completionKind(c.Kind),
		Detail: source.Visible(c.Detail),
		// The order is ours: what is likely meant comes first.
		SortText: fmt.Sprintf("%04d", rank),
		TextEdit: &protocol.TextEdit{Range: s.client.textRange(doc.file, c.Span), NewText: c.Insert},
	}
	if c.Snippet {
		if s.client.snippets {
			item.InsertTextFormat = protocol.InsertTextFormatSnippet
		} else {
			item.TextEdit.NewText = c.Label
		}
	}
	if c.Doc != "" {
		item.Documentation = s.client.prose(c.Doc)
	}
	return item
}

// prose is Markdown in the form that the client shows.
func (c client) prose(markdown string) protocol.MarkupContent {
	markdown = source.Visible(markdown)
	if c.markdown {
		return protocol.MarkupContent{Kind: protocol.Markdown, Value: markdown}
	}
	return protocol.MarkupContent{Kind: protocol.PlainText, Value: plainText(markdown)}
}

// completionKinds gives candidates the icon that fits best among those that
// editors have; an item of the board is a variable.
var completionKinds = map[string]protocol.CompletionItemKind{
	"keyword":  protocol.CompletionItemKindKeyword,
	"clause":   protocol.CompletionItemKindProperty,
	"unit":     protocol.CompletionItemKindUnit,
	"function": protocol.CompletionItemKindFunction,
	"word":     protocol.CompletionItemKindEnumMember,
	"value":    protocol.CompletionItemKindConstant,
	"edge":     protocol.CompletionItemKindField,
	"layer":    protocol.CompletionItemKindField,
	"file":     protocol.CompletionItemKindFile,
	"rule":     protocol.CompletionItemKindEnumMember,
	"limit":    protocol.CompletionItemKindEnumMember,
}

func completionKind(kind string) protocol.CompletionItemKind {
	if k, ok := completionKinds[kind]; ok {
		return k
	}
	return protocol.CompletionItemKindVariable
}

// leadsToFolder tells whether an entry of a folder is a folder, or a link to one.
func leadsToFolder(in string, e os.DirEntry) bool {
	if e.Type()&os.ModeSymlink == 0 {
		return e.IsDir()
	}
	info, err := os.Stat(filepath.Join(in, e.Name()))
	return err == nil && info.IsDir()
}

// filesBeside lists .hem files and folders for a path that is being typed
// after `use`. Only names are read, never a file.
func filesBeside(path string) assist.Files {
	if path == "" {
		return nil
	}
	return func(folder string) []string {
		entries, err := os.ReadDir(filepath.Join(filepath.Dir(path), filepath.FromSlash(folder)))
		if err != nil {
			return nil
		}
		var list []string
		for _, e := range entries {
			switch name := e.Name(); {
			case name[0] == '.':
			case leadsToFolder(filepath.Join(filepath.Dir(path), filepath.FromSlash(folder)), e):
				list = append(list, name+"/")
			case filepath.Ext(name) == ".hem" && (folder != "" || name != filepath.Base(path)):
				list = append(list, name)
			}
		}
		return list
	}
}
