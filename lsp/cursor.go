package lsp

import "encoding/json"

// methodCursor is hemline's own notification: where the cursor stands, sent by
// editors whose user looks at a picture.
const methodCursor = "hemline/cursor"

// cursorMoved takes {textDocument, position}. A document that is not open, or
// not open yet, is no fault.
func (s *server) cursorMoved(params json.RawMessage) error {
	var p positionParams
	if err := decode(params, &p); err != nil {
		return err
	}
	if doc := s.docs.current().byURI[p.uri()]; doc != nil {
		s.cursor(doc, offset(doc.file, p.Position, s.client.encoding))
	}
	return nil
}

// cursor notes where the editor's cursor stands, as a byte of a document. It
// may be called on the read loop: it only leaves a note, and without a picture
// not even that.
func (s *server) cursor(doc *document, offset int) { s.pictures.cursor(doc, offset) }
