package scene

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestHoles(t *testing.T) {
	s := Build(read(t, "outline rectangle 40 mm by 20 mm\nhole mount diameter 3.2 mm at (4 mm, 4 mm) plated net GND land 6 mm\nhole peg diameter 3 mm at (36 mm, 4 mm) unplated\n").Board(), 0)
	var mount, pin Item
	for _, i := range s.Items {
		switch i.ID {
		case "hole mount":
			mount = i
		case "hole peg":
			pin = i
		}
	}
	require.Len(t, mount.Parts, 3)
	assert.Equal(t, []Role{Land, Land, Via}, []Role{mount.Parts[0].Role, mount.Parts[1].Role, mount.Parts[2].Role})
	assert.Equal(t, []Side{Top, Bottom, Through}, []Side{mount.Parts[0].Side, mount.Parts[1].Side, mount.Parts[2].Side})
	assert.Equal(t, "plated, net GND", mount.Of)
	assert.Equal(t, Point{4, 4}, mount.At)
	assert.Contains(t, mount.Facts, Fact{Label: "land", Value: 6, Unit: "mm"})
	require.Len(t, pin.Parts, 1)
	assert.Equal(t, Hole, pin.Parts[0].Role)
	assert.Equal(t, "unplated", pin.Of)
	assert.InDelta(t, 3, loopsOf(pin.Parts[0].Paths)[0].Box().Max.X/mm-loopsOf(pin.Parts[0].Paths)[0].Box().Min.X/mm, 1e-9)
}
