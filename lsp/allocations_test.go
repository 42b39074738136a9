//go:build !race

package lsp

import (
	"fmt"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The most that one keystroke may allocate, from the message read to the
// findings written, by the lines of the text: a tenth above what was counted
// when this was written. The number hardly grows with the text, since nothing
// is made again that did not change; of the longest one it is found each time
// that no board is 10 m long. Whoever lowers it lowers the bound.
var allocations = map[int]float64{100: 384, 1_000: 389, 10_000: 421}

// The most bytes that one keystroke may allocate, counted the same way. What still grows
// with the text are lists of its statements, and of the stretches of a wall where a gap
// comes or goes.
var allocatedBytes = map[int]uint64{100: 66_000, 1_000: 121_000, 10_000: 492_000}

func TestBytesOfAKeystroke(t *testing.T) {
	for lines, most := range allocatedBytes {
		t.Run(fmt.Sprint(lines), func(t *testing.T) {
			c := newBench(t, lines)
			c.keystroke()
			c.keystroke()
			const keystrokes = 80
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			for range keystrokes {
				c.keystroke()
			}
			runtime.ReadMemStats(&after)
			n := (after.TotalAlloc - before.TotalAlloc) / keystrokes
			t.Logf("%d bytes", n)
			assert.LessOrEqual(t, n, most)
		})
	}
}

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
