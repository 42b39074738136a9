package drawing

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
)

// A mode's field is a view of its own: the outline, each line of equal field with its
// share beside it, and a cross; without one there is none.
func TestFieldOfAMode(t *testing.T) {
	b := read(t, "outline rectangle 60 mm by 40 mm\n")
	line := func(x float64) scene.Path {
		return scene.Path{Start: scene.Point{X: x}, Steps: []scene.Step{{To: scene.Point{X: x, Y: 20}}, {To: scene.Point{X: x, Y: 40}}}}
	}
	f := &scene.Field{Title: "mode 1, top to bottom, 1.16 GHz", Strongest: scene.Point{Y: 20},
		Lines: []scene.FieldLine{{Share: 0.4, Paths: []scene.Path{line(20)}}, {Share: 0.8, Paths: []scene.Path{line(10)}}}}
	count := func(list []*sheet.Sheet) (lines, texts int) {
		for _, s := range list {
			for _, x := range s.Shapes {
				if x.ID == "field.line" {
					lines++
				}
			}
			for _, x := range s.Texts {
				if x.S == "0.4" || x.S == "0.8" || x.S == "Field of mode 1, top to bottom, 1.16 GHz, 1:1" || x.S == "Field of mode 1, top to bottom, 1.16 GHz, 2:1" {
					texts++
				}
			}
		}
		return lines, texts
	}
	lines, texts := count(drawn(t, b, Options{Field: f}))
	assert.Equal(t, 2, lines)
	assert.Equal(t, 3, texts, "two figures and the title")
	lines, texts = count(drawn(t, b, Options{}))
	require.Zero(t, lines+texts)
}
