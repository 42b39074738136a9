package lsp

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPlainText(t *testing.T) {
	assert.Equal(t, `plating wall

200 mm of 210 mm, see the rule wrap_land

opening  length
launch  5 mm

wrap **top** 0.8 mm
2 * 3 * 4`, plainText("### plating **wall**\n\n---\n200 mm of `210 mm`, see [the rule `wrap_land`](https://example.invalid)\n\n"+
		"| opening | length |\n|:---|---:|\n| launch | 5 mm |\n\n```hem\nwrap **top** 0.8 mm\n```\n2 * 3 * 4\n"))
}
