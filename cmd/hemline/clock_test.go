package main

import (
	"archive/zip"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// untilMarch has a gap that is agreed to on 4 March and not the day after.
const untilMarch = `outline rectangle 60 mm by 40 mm corner 1 mm
plating wall { along south; net GND; copper 25 um; wrap top 0.8 mm; wrap bottom 0.8 mm; extend 0.05 mm }
gap g of wall on south at 40 mm width 1 mm
leave tab_places to shop because "its usual frame"
accept gap_narrow on g because "agreed" until "2026-03-04"
`

// Midnight between the last day of the acceptance and the next, where the user is.
var midnight = time.Date(2026, time.March, 5, 0, 0, 0, 0, time.Local)

// A page that is left open shows at midnight what is accepted no longer,
// though no file has changed, and shows it once.
func TestAnAcceptanceExpiresOnTheWatchedPage(t *testing.T) {
	var now atomic.Pointer[time.Time]
	set := func(at time.Time) { now.Store(&at) }
	set(midnight.Add(-time.Second))
	by := clock{now: func() time.Time { return *now.Load() }, every: time.Millisecond}
	dir, out, _, url, _ := watchingBy(t, by, map[string]string{"board.hem": untilMarch})
	board := filepath.Join(dir, "board.hem")
	out.until(t, board+": 0 findings\n")
	shows := page(t, url)
	set(midnight)
	out.until(t, board+": 2 findings\n")
	shows(`"rule":"acceptance_expired"`)
	time.Sleep(50 * by.every)
	assert.Equal(t, 1, strings.Count(out.String(), " 2 findings"), out.String())
}

// What a command finds is what holds on the day by its clock, in all that it writes.
func TestCommandsGoByTheClock(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("board.hem", []byte(untilMarch), 0o644))
	require.NoError(t, os.WriteFile("shop.hem", []byte("fabricator s { offers edge_plating }\n"), 0o644))
	on := func(at time.Time, line string) (code int, said string) {
		var out strings.Builder
		code = run(strings.Fields(line), &streams{in: strings.NewReader(""), out: &out, err: &out, clock: clock{now: func() time.Time { return at }}})
		return code, out.String()
	}
	for _, c := range []struct {
		line          string
		before, after int
		says          string // the day after, and not before
	}{
		{"check board.hem", exitClean, exitFindings, "held until 2026-03-04; today is 2026-03-05"},
		{"report board.hem", exitClean, exitClean, "findings: 1 unbuildable, 1 risky"},
		{"shops board.hem --with shop.hem", exitClean, exitFindings, "cannot: 1 edit"},
		{"notes board.hem", exitClean, exitClean, "board.hem has 2 findings"},
		{"draw board.hem -o board.svg", exitClean, exitClean, "board.hem has 2 findings"},
		{"layers board.hem -o layers", exitClean, exitClean, "board.hem has 2 findings"},
		{"pack board.hem -o board.zip", exitClean, exitFindings, "board.hem has 2 findings"},
	} {
		code, said := on(midnight.Add(-time.Second), c.line)
		assert.Equal(t, c.before, code, "%s: %s", c.line, said)
		assert.NotContains(t, said, c.says, c.line)
		code, said = on(midnight, c.line)
		assert.Equal(t, c.after, code, "%s: %s", c.line, said)
		assert.Contains(t, said, c.says, c.line)
	}

	_, said := on(midnight, "pack board.hem -o board.zip --despite")
	archive, err := zip.OpenReader("board.zip")
	require.NoError(t, err, said)
	defer archive.Close()
	f, err := archive.Open("board/report.md")
	require.NoError(t, err)
	data, err := io.ReadAll(f)
	require.NoError(t, err)
	assert.Contains(t, string(data), "Findings: 1 unbuildable, 1 risky.", "the report is of the same day")

	code, said := on(midnight.Add(-time.Second), "check --fix board.hem")
	assert.Equal(t, exitClean, code, "nothing is mended that is accepted: %s", said)
	_, said = on(midnight, "check --fix board.hem")
	assert.Contains(t, said, "fixed: widen the gap: 2 mm [gap_narrow]")
}
