package wording

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/geom"
)

func TestLengthsHaveNoIdleZeros(t *testing.T) {
	for nm, want := range map[float64]string{0: "0", -0.3: "0", 62e6: "62", 381e3: "0.381", 20.14159e6: "20.142", -1.5e6: "-1.5"} {
		assert.Equal(t, want, Millimetres(nm))
	}
	assert.Equal(t, "25 µm", Micrometres(25e3))
	assert.Equal(t, "34.79 µm", Micrometres(34_790), "an ounce of copper, as a thickness")
	assert.Equal(t, "1.5, -2", Pair(geom.Point{X: 1.5e6, Y: -2e6}))
}

// CommonMark, from memory: what stands here is markup elsewhere.
func TestMarkdownIsPlain(t *testing.T) {
	for text, want := range map[string]string{
		"wrap_land": "wrap_land", "_x_": `\_x\_`, "a __b__": `a \_\_b\_\_`, "a|b*c": `a\|b\*c`, "two\nlines\x1b[0m": `two lines\\u{001B}\[0m`, "<b>&`": "\\<b>\\&\\`",
	} {
		assert.Equal(t, want, Markdown(text), text)
	}
}

// A table in a text stands in columns; on a page its words are no markup.
func TestTable(t *testing.T) {
	x := Table{Title: "Holes (mm)", Head: []string{"hole", "⌀", "net"}, Rows: [][]string{{"a_", "3.2", "|"}, {"long one", "–", ""}}}
	assert.Equal(t, "Holes (mm)\n  hole      ⌀    net\n  a_        3.2  |\n  long one  –\n", x.Text())
	assert.Equal(t, "**Holes (mm)**\n\n| hole | ⌀ | net |\n| --- | --- | --- |\n| a\\_ | 3.2 | \\| |\n| long one | – |  |\n", x.Markdown())
	x = Table{Title: "T\nx", Head: []string{"a"}, Rows: [][]string{{"b\x1b[1m"}}}
	assert.Equal(t, "T x\n  a\n  b\\u{001B}[1m\n", x.Text(), "nothing commands a terminal")
}
