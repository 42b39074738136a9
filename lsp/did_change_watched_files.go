package lsp

import "encoding/json"

// didChangeWatchedFiles reads again what is not open, and so checks anew every
// text that uses it.
func (s *server) didChangeWatchedFiles(json.RawMessage) error {
	s.docs.reread()
	s.workspace.forget()
	s.changed()
	return nil
}
