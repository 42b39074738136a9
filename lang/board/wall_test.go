package board_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/geom"
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
