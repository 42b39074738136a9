package lsp

import (
	"encoding/json"

	"hemline/lang/source"
)

// didChange applies the changes one after the other, each to the text that
// the one before it left.
func (s *server) didChange(params json.RawMessage) error {
	var p didChangeParams
	if err := decode(params, &p); err != nil {
		return err
	}
	doc, err := s.document(p.TextDocument.URI)
	if err != nil {
		return err
	}
	file := doc.file
	for _, change := range p.ContentChanges {
		switch {
		case change.Text == nil:
			s.log.Printf("textDocument/didChange of %s: a change without a text is passed over", doc.uri)
		case change.Range == nil:
			file = source.New(file.Path(), *change.Text)
		default:
			file = file.Edit(span(file, *change.Range, s.client.encoding), *change.Text)
		}
	}
	version := p.TextDocument.Version
	if version == nil {
		version = doc.version
	}
	s.pictures.edit(doc.uri)
	s.stepped(s.docs.change(doc, version, file))
	s.memory.changed(s.docs.current().bytes())
	return nil
}
