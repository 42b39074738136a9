package lsp

// exit ends the read loop at once. What has not been answered by now is not
// waited for.
func (s *server) exit() {
	s.exited = true
	s.stream.end()
}
