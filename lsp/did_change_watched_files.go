package lsp

import "encoding/json"

func (s *server) didChangeWatchedFiles(json.RawMessage) error {
	s.docs.reread()
	s.diag.wake()
	return nil
}
