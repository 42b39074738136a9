package scene

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestLevelsLieInTheThickness(t *testing.T) {
	// The stack's, top first, as deep as those above are thick.
	s := Build(read(t, "board b\nstack { copper top 35 um; dielectric core 1.5 mm; copper bottom 70 um }\noutline rectangle 9 mm by 9 mm\n").Board(), 0)
	require.Len(t, s.Levels, 3)
	for i, want := range [][2]float64{{0, 0.035}, {0.035, 1.535}, {1.535, 1.605}} {
		assert.InDelta(t, want[0], s.Levels[i].Top, 1e-9, i)
		assert.InDelta(t, want[1], s.Levels[i].Bottom, 1e-9, i)
	}
	assert.Equal(t, "core", s.Levels[1].Name.Text)
	assert.InDelta(t, 1.605, s.Drawn(), 1e-9)

	// Without a stack both faces' copper and what is between; without a thickness the nominal one.
	for text, thick := range map[string]float64{"board b { thickness 0.8 mm }\n": 0.8, "board b\n": NominalThickness} {
		s := Build(read(t, text+"outline rectangle 9 mm by 9 mm\n").Board(), 0)
		require.Len(t, s.Levels, 3)
		assert.Equal(t, []bool{true, false, true}, []bool{s.Levels[0].Copper, s.Levels[1].Copper, s.Levels[2].Copper})
		assert.Zero(t, s.Levels[0].Bottom)
		assert.InDelta(t, thick, s.Levels[1].Bottom, 1e-9)
		assert.InDelta(t, thick, s.Levels[2].Top, 1e-9)
		assert.InDelta(t, thick, s.Drawn(), 1e-9)
	}
}

// How high a connector's body is, is not stated: a quarter of its width past either face.
func TestABodyStandsPastBothFaces(t *testing.T) {
	s := Build(read(t, "board b { thickness 1 mm }\noutline rectangle 30 mm by 30 mm\nconnector c on south at 15 mm { body 8 mm; pin top width 1 mm length 2 mm }\n").Board(), 0)
	require.Len(t, s.Items, 2)
	for _, p := range s.Items[1].Parts {
		if p.Role == Body {
			assert.InDelta(t, 2, p.Rise, 1e-9)
		} else {
			assert.Zero(t, p.Rise)
		}
	}
}
