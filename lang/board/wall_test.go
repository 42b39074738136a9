package board_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/geom"
	"hemline/lang/source"
)

// A stretch that is widened past the path's start is still one that starts on
// the path and reaches beyond its end.
func TestWidenedOverThePathsStart(t *testing.T) {
	b := build(t, outlines[0]+"plating w { along south from 1 mm to 5 mm; net GND }\n")
	s := b.Wall(b.Outline()).Plated[0].Widened(3 * mm)
	assert.InDelta(t, 58*mm, s.From, 1, "2 mm before the end of the 60 mm")
	assert.InDelta(t, 68*mm, s.To, 1)
	require.Len(t, s.Segments(), 2)
	assert.Equal(t, geom.Point{Y: 2 * mm}, s.Segments()[0].A, "on west")
	assert.Equal(t, geom.Point{X: 8 * mm}, s.Segments()[1].B, "on south")
}

// Where a plating goes that lay over another, no stretch is new.
func TestWallChangesHoldWhatIsGone(t *testing.T) {
	over := "plating v { along south from 5 mm to 8 mm; net GND }\n"
	f := source.New("a.hem", outlines[0]+"plating w { along all; net GND }\n"+over)
	before := lang.Analyze(f, nil, nil)
	at := strings.Index(f.Text(), over)
	after := lang.Analyze(f.Edit(source.Span{Start: at, End: at + len(over)}, ""), nil, before)
	boxes, ok := after.Board().WallChanges(before.Board())
	require.True(t, ok, "the outline is the same")
	assert.Equal(t, []geom.Box{{Min: geom.Point{X: 5 * mm}, Max: geom.Point{X: 8 * mm}}}, boxes)
}
