package lsp

import (
	"io"
	"log"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A client that pulls knows which text it changes, and not which others use it.
func TestTheUsersOfAChangedTextArePulledAgain(t *testing.T) {
	dir := t.TempDir()
	used, user := uriOf(filepath.Join(dir, "used.hem")), uriOf(filepath.Join(dir, "user.hem"))
	c := start(t, newToy().engine())
	c.initialize(`{"textDocument":{"diagnostic":{}},"workspace":{"diagnostics":{"refreshSupport":true}}}`)
	c.open(used, "let x")
	c.open(user, `use "used.hem"`)
	pull := func() {
		for _, uri := range []string{used, user} {
			c.call("textDocument/diagnostic", at(uri, 0, 0))
		}
	}
	told := func() int {
		c.mu.Lock()
		defer c.mu.Unlock()
		return len(c.notes[methodDiagnosticRefresh])
	}
	c.wait("the question that opening the second asks", func() bool { return len(c.notes[methodDiagnosticRefresh]) == 1 })
	pull()
	c.edit(user, " ", 0, 0, 0, 0)
	pull()
	assert.Equal(t, 1, told(), "nobody uses it")
	c.edit(used, "bad", 0, 0, 0, 0)
	c.wait("the question to ask again", func() bool { return len(c.notes[methodDiagnosticRefresh]) == 2 })
}

// However much changes, one question waits for its answer and one behind it.
func TestOneQuestionAtATime(t *testing.T) {
	s := newServer(newToy().engine(), log.New(io.Discard, "", 0), "test")
	s.client.pulls, s.client.diagnosticRefresh, s.refreshing.busy = true, true, true
	for range 5 {
		s.refreshDiagnostics() // without a connection a second question would fail
	}
	assert.True(t, s.refreshing.next())
	assert.False(t, s.refreshing.next())
}
