package lsp

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const pullsFindings = `{"textDocument":{"diagnostic":{}}}`

// sent is what the client was sent last of each text, by number of findings.
func (c *session) sent(uri string) (last, times int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	last = -1
	for _, raw := range c.notes["textDocument/publishDiagnostics"] {
		var p publishParams
		require.NoError(c.t, json.Unmarshal(raw, &p))
		if p.URI == uri {
			last, times = len(p.Diagnostics), times+1
		}
	}
	return last, times
}

// A client that says that it pulls findings and never does is sent them after its
// first silence, from then on with every change; once it pulls they are taken back.
func TestAClientThatNeverPulls(t *testing.T) {
	c := start(t, newToy().engine())
	c.server.pulling.wait = 20 * time.Millisecond
	c.initialize(pullsFindings)
	c.open("file:///x/a.hem", "bad")
	c.open("file:///x/good.hem", "let x")
	findings := func(uri string, want int) {
		t.Helper()
		require.Eventually(t, func() bool { last, _ := c.sent(uri); return last == want }, patience, time.Millisecond)
	}
	findings("file:///x/a.hem", 1)
	findings("file:///x/good.hem", 0)
	c.edit("file:///x/a.hem", "bad ", 0, 0, 0, 0)
	findings("file:///x/a.hem", 2)

	pull := func() string { return string(c.call("textDocument/diagnostic", at("file:///x/a.hem", 0, 0))) }
	assert.Contains(t, pull(), `"kind":"full"`)
	findings("file:///x/a.hem", 0)
	_, times := c.sent("file:///x/a.hem")
	c.edit("file:///x/a.hem", "bad ", 0, 0, 0, 0)
	assert.Contains(t, pull(), `"kind":"full"`)
	c.open("file:///x/b.hem", "bad")
	time.Sleep(3 * c.server.pulling.wait)
	_, again := c.sent("file:///x/a.hem")
	assert.Equal(t, times, again, "nothing more is sent to whoever pulls")
	last, _ := c.sent("file:///x/b.hem")
	assert.Equal(t, -1, last)
}

// One that pulls at once is never sent any, however long it then says nothing.
func TestAClientThatPullsIsSentNothing(t *testing.T) {
	c := start(t, newToy().engine())
	c.server.pulling.wait = 50 * time.Millisecond
	c.initialize(pullsFindings)
	c.open("file:///x/a.hem", "bad")
	c.call("textDocument/diagnostic", at("file:///x/a.hem", 0, 0))
	time.Sleep(3 * c.server.pulling.wait)
	c.edit("file:///x/a.hem", "bad ", 0, 0, 0, 0)
	time.Sleep(c.server.pulling.wait)
	last, _ := c.sent("file:///x/a.hem")
	assert.Equal(t, -1, last)
}
