package rules

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang/emit/drawing"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/readback"
	"hemline/lang/emit/scene"
)

// The drawing of every board that is made states every dimension of it once,
// whatever sheet is asked for.
func TestEveryBoardIsDrawnWithEachDimensionOnce(t *testing.T) {
	unraced(t)
	t.Parallel()
	for seed := range uint64(200) {
		text := cleanBoard(seed)
		b := readText("made.hem", text).Board()
		margin := checks.LimitsFor(readText("made.hem", text)).MaskMargin()
		o := drawing.Options{Format: []string{"", "A4", "A2"}[seed%3], Notes: notes.Sections(notes.Make(b, notes.Figures{}))}
		sheets, err := drawing.Make(b, scene.Build(b, margin), o)
		require.NoError(t, err)
		for _, wrong := range readback.Wrong(b, margin, sheets) {
			assert.Fail(t, wrong, "board %d\n%s", seed, text)
		}
	}
}
