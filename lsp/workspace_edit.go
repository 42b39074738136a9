package lsp

import (
	"fmt"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"hemline/lang/source"
)

// textChange is a change of one text, as the server knows that text.
type textChange struct {
	file  *source.File
	uri   string
	edits []source.Edit
}

// workspaceEdit stands in for the library's, whose edits carry no annotation.
type workspaceEdit struct {
	Changes           map[uri.URI][]protocol.TextEdit      `json:"changes,omitempty"`
	DocumentChanges   []documentEdit                       `json:"documentChanges,omitempty"`
	ChangeAnnotations map[string]protocol.ChangeAnnotation `json:"changeAnnotations,omitempty"`
}

type documentEdit struct {
	TextDocument protocol.OptionalVersionedTextDocumentIdentifier `json:"textDocument"`
	Edits        []annotatedEdit                                  `json:"edits"`
}

type annotatedEdit struct {
	protocol.TextEdit
	Annotation string `json:"annotationId,omitempty"`
}

// The annotations of a change: of texts that the editor has open, and of others, which
// nobody sees change.
const (
	annotatedOpen = "open"
	annotatedDisk = "disk"
)

// edit is a change of several texts in the form that the client takes best: with the versions
// that it was worked out for, so that a text that has changed meanwhile is left alone, and with
// a label for each group of places; else as plain edits.
func (s *server) edit(w *world, label string, list []textChange) workspaceEdit {
	var edit workspaceEdit
	places := map[string]int{}
	files := map[string]int{}
	for _, c := range list {
		to, group := uri.URI(c.uri), annotatedDisk
		doc := w.byURI[c.uri]
		if doc != nil {
			group = annotatedOpen
		}
		files[group]++
		places[group] += len(c.edits)
		texts := make([]annotatedEdit, len(c.edits))
		for i, e := range c.edits {
			texts[i].TextEdit = protocol.TextEdit{Range: s.client.textRange(c.file, e.Span), NewText: e.Text}
			if s.client.annotations {
				texts[i].Annotation = group
			}
		}
		if s.client.documentChanges {
			change := documentEdit{Edits: texts}
			change.TextDocument.URI = to
			if doc != nil {
				change.TextDocument.Version = doc.version
			}
			edit.DocumentChanges = append(edit.DocumentChanges, change)
			continue
		}
		if edit.Changes == nil {
			edit.Changes = map[uri.URI][]protocol.TextEdit{}
		}
		for _, e := range texts {
			edit.Changes[to] = append(edit.Changes[to], e.TextEdit)
		}
	}
	if len(edit.DocumentChanges) > 0 && s.client.annotations {
		edit.ChangeAnnotations = map[string]protocol.ChangeAnnotation{}
		for group, n := range places {
			where := "in texts that are open"
			if group == annotatedDisk {
				where = "in texts that are not open"
			}
			edit.ChangeAnnotations[group] = protocol.ChangeAnnotation{Label: label + ", " + where, Description: fmt.Sprintf("%s in %s", counted(n, "place"), counted(files[group], "text"))}
		}
	}
	return edit
}

// versioned is a change of one text, of the version that it was worked out for.
func (s *server) versioned(doc *document, edits []protocol.TextEdit) *protocol.WorkspaceEdit {
	change := protocol.TextDocumentEdit{Edits: edits}
	change.TextDocument.URI, change.TextDocument.Version = uri.URI(doc.uri), doc.version
	return &protocol.WorkspaceEdit{DocumentChanges: []protocol.TextDocumentEdit{change}}
}

// counted is a number of things.
func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
