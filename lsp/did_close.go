package lsp

import "encoding/json"

func (s *server) didClose(params json.RawMessage) error {
	var p documentParams
	if err := decode(params, &p); err != nil {
		return err
	}
	if _, err := s.document(p.uri()); err != nil {
		return err
	}
	s.tokensSent.drop(p.uri())
	s.stepped(s.docs.close(p.uri()))
	s.memory.opened(s.docs.current().bytes())
	return nil
}
