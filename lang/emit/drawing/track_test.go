package drawing

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/geom"
)

func TestNamesWithinAMicrometreShareAText(t *testing.T) {
	at := func(x, y float64, text string) label { return label{at: geom.Point{X: x, Y: y}, text: text} }
	texts := func(list ...label) (out []string) {
		for _, l := range merged(list) {
			out = append(out, l.text)
		}
		return out
	}
	assert.Equal(t, []string{"a, b"}, texts(at(500, 500, "a"), at(600, 600, "b")))
	assert.Equal(t, []string{"a, b"}, texts(at(999, -1, "a"), at(1001, 1, "b")), "on either side of whole micrometres")
	assert.Equal(t, []string{"a, b"}, texts(at(1001, 1, "a"), at(999, -1, "b")))
	assert.Equal(t, []string{"a", "b"}, texts(at(0, 0, "a"), at(1000, 0, "b")), "a micrometre apart")
	assert.Equal(t, []string{"a, c", "b"}, texts(at(0, 0, "a"), at(1500, 0, "b"), at(900, 0, "c")), "of two the first")
	assert.Equal(t, []string{"south wall", "north wall", "x"}, texts(at(0, 0, "south wall"), at(0, 0, "north wall"), label{text: "x", ordinate: true}), "too long together; ordinates stand alone")
}
