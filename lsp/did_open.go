package lsp

import "encoding/json"

func (s *server) didOpen(params json.RawMessage) error {
	var p didOpenParams
	if err := decode(params, &p); err != nil {
		return err
	}
	if s.client.pulls {
		s.pulling.opened(s.diag.wake)
	}
	s.stepped(s.docs.open(p.TextDocument.URI, p.TextDocument.Version, p.TextDocument.Text))
	s.memory.opened(s.docs.current().bytes())
	return nil
}
