//go:build !race

package lsp

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The most that one keystroke may allocate, from the message read to the
// findings written, by the lines of the text: a tenth above what was counted
// when this was written. The number hardly grows with the text, since nothing
// is made again that did not change; of the longest one it is found each time
// that no board is 10 m long. Whoever lowers it lowers the bound.
var allocations = map[int]float64{100: 380, 1_000: 420, 10_000: 420}

func TestAllocationsOfAKeystroke(t *testing.T) {
	for lines, most := range allocations {
		t.Run(fmt.Sprint(lines), func(t *testing.T) {
			c := newBench(t, lines)
			c.keystroke()
			c.keystroke()
			n := testing.AllocsPerRun(40, func() {
				c.keystroke()
				c.keystroke()
			}) / 2
			t.Logf("%.0f allocations", n)
			assert.LessOrEqual(t, n, most)
		})
	}
}
