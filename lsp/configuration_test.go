package lsp

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// An answer about settings that comes after that to a later question is no
// longer what the client has: it changes nothing.
func TestALateAnswerAboutSettingsIsPassedOver(t *testing.T) {
	c := start(t, DefaultEngine())
	c.replies = map[string]string{"workspace/configuration": held}
	c.initialize(`{"workspace":{"configuration":true,"inlayHint":{"refreshSupport":true}}}`)
	c.open("file:///a.hem", "outline rectangle 60 mm by 40 mm\n")
	c.note("workspace/configuration")
	c.notify("workspace/didChangeConfiguration", map[string]any{"settings": nil})
	c.note("workspace/configuration")
	c.mu.Lock()
	first, second := c.held[0], c.held[1]
	c.mu.Unlock()

	c.reply(second, `[{"units":"mil"}]`)
	c.note("workspace/inlayHint/refresh")
	hints := func() string {
		return c.call("textDocument/inlayHint", map[string]any{"textDocument": map[string]any{"uri": "file:///a.hem"},
			"range": map[string]any{"start": map[string]any{"line": 0, "character": 0}, "end": map[string]any{"line": 1, "character": 0}}})
	}
	assert.Contains(t, hints(), "1574.803 mil")
	c.reply(first, `[{"units":"mm"}]`)
	time.Sleep(50 * time.Millisecond) // for what must not happen
	assert.Contains(t, hints(), "1574.803 mil")
}
