package lsp

import "runtime/debug"

const (
	// gcPercent lets the heap grow to five times what is in use before it is
	// collected, which keeps the collector out of most keystrokes.
	gcPercent = 400
	// What that may come to is bounded: a server at rest, and for each byte of an
	// open text. A text of 10,000 lines has about 400 kB, and what is known of it
	// takes some thirty times that.
	memoryAtRest  = 24 << 20
	memoryPerByte = 64
)

// boundMemory sets the collector for a process that is nothing but a server
// with open texts of so many bytes. The bound is far above what is in use: a
// lower one would let the collector run all the time.
func boundMemory(bytes int) {
	debug.SetGCPercent(gcPercent)
	debug.SetMemoryLimit(memoryAtRest + memoryPerByte*int64(bytes))
}
