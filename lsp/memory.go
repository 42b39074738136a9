package lsp

import (
	"runtime/debug"
	"sync"
)

const (
	// gcPercent lets the heap grow to five times what is in use before it is
	// collected, which keeps the collector out of most keystrokes.
	gcPercent = 400
	// What that may come to is bounded: a server at rest, and for each byte of an
	// open text. A text of 10,000 lines has about 400 kB, and what is known of it
	// takes some thirty times that.
	memoryAtRest  = 24 << 20
	memoryPerByte = 64
	// Of a text that is not open no more is kept than what it is asked for. For each
	// byte of that the collector is left its room.
	memoryPerKept = 1 + gcPercent/100
	// memoryStep is by how many bytes open texts change before the bound follows.
	memoryStep = 32 << 10
	// memoryAtWork is what goes through the hands of a request on the whole workspace.
	memoryAtWork = 64 << 20
)

// memory follows what the server keeps, and tells the collector. The bound must
// stay far above what is in use: a lower one lets the collector run all the time,
// and that is felt at every keystroke.
type memory struct {
	mu     sync.Mutex
	open   int64 // bytes of the open texts
	closed int64 // bytes of what is kept of texts that are not open
	works  int64 // requests on the whole workspace
	set    func(bound int64)
}

// opened tells how many bytes the open texts have.
func (m *memory) opened(bytes int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.open = int64(bytes)
	m.tell()
}

// changed tells how many bytes the open texts have after a change of one. What a
// keystroke comes to is not worth a word to the collector.
func (m *memory) changed(bytes int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if by := int64(bytes) - m.open; by > memoryStep || by < -memoryStep {
		m.open = int64(bytes)
		m.tell()
	}
}

// kept tells how many bytes are kept of texts that are not open.
func (m *memory) kept(bytes int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.closed = int64(bytes)
	m.tell()
}

// busy tells that a request on the whole workspace begins; the result is to be
// called when it ends.
func (m *memory) busy() (done func()) {
	work := func(by int64) {
		m.mu.Lock()
		defer m.mu.Unlock()
		m.works += by
		m.tell()
	}
	work(1)
	return func() { work(-1) }
}

func (m *memory) tell() {
	m.set(memoryAtRest + memoryPerByte*m.open + memoryPerKept*m.closed + memoryAtWork*min(m.works, 4))
}

// boundMemory sets the collector of a process that is nothing but a server.
func boundMemory(bound int64) {
	debug.SetGCPercent(gcPercent)
	debug.SetMemoryLimit(bound)
}
