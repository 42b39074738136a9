package lsp

import (
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// untilMarch has a gap that is agreed to on 4 March and not the day after. It
// and the acceptance's date are findings then, as its rule's document says.
const untilMarch = `outline rectangle 60 mm by 40 mm corner 1 mm
plating wall { along south; net GND; copper 25 um; wrap top 0.8 mm; wrap bottom 0.8 mm; extend 0.05 mm }
gap g of wall on south at 40 mm width 1 mm
leave tab_places to shop because "its usual frame"
accept gap_narrow on g because "agreed" until "2026-03-04"
`

// onDay starts a server whose clock a test sets, and looks at it all the time.
func onDay(t *testing.T, day string) (c *session, set func(day string)) {
	t.Helper()
	var now atomic.Value
	now.Store(day)
	c = start(t, DefaultEngine())
	c.server.dayPeriod = time.Millisecond
	c.server.docs.today = func() string { return now.Load().(string) }
	c.server.docs.nextDay() // from the machine's
	return c, func(day string) { now.Store(day) }
}

// Nobody types and yet, at midnight, what was accepted until then is found.
func TestAnAcceptanceExpiresWhileTheServerRuns(t *testing.T) {
	c, set := onDay(t, "2026-03-03")
	c.initialize(`{}`)
	c.open("file:///nowhere/a.hem", untilMarch)
	assert.Empty(t, c.published().Diagnostics)
	set("2026-03-04")
	c.open("file:///nowhere/b.hem", untilMarch)
	assert.Equal(t, "file:///nowhere/b.hem", c.published().URI, "the day itself is part of it")
	set("2026-03-05")
	for range 2 {
		assert.Equal(t, "2:23-2:42 1 gap_narrow; 4:46-4:58 2 acceptance_expired", c.published().String())
	}
	c.edit("file:///nowhere/a.hem", "2026-03-05", 4, 47, 4, 57)
	assert.Empty(t, c.published().Diagnostics)
	assert.True(t, c.quiet())
}

// A client that pulls is told to pull again, and finds the texts that are not
// open checked anew too.
func TestAnAcceptanceExpiresForAClientThatPulls(t *testing.T) {
	folder := t.TempDir()
	open := write(t, folder, "open.hem", untilMarch)
	write(t, folder, "closed.hem", untilMarch)
	c, set := onDay(t, "2026-03-04")
	c.folder = uriOf(folder)
	c.initialize(`{"textDocument":{"diagnostic":{}},"workspace":{"diagnostics":{"refreshSupport":true}}}`)
	c.open(uriOf(open), untilMarch)
	pull := func() (expired int) {
		return strings.Count(c.call("workspace/diagnostic", map[string]any{"previousResultIds": []any{}}), `"code":"acceptance_expired"`)
	}
	assert.Zero(t, pull())
	set("2026-03-05")
	c.wait("the question to ask again", func() bool { return len(c.notes[methodDiagnosticRefresh]) == 1 })
	assert.Equal(t, 2, pull())
}
