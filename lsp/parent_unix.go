//go:build unix

package lsp

import (
	"errors"
	"syscall"
	"time"
)

// watchParent lets gone be closed when a process is no more; it looks for it
// once before it returns. One that cannot be seen
// from the start is not watched: the client may live in another container,
// where the number means something else.
func watchParent(pid int, gone chan<- struct{}) {
	if pid <= 0 || !alive(pid) {
		return
	}
	go func() {
		for alive(pid) {
			time.Sleep(parentPeriod)
		}
		close(gone)
	}()
}

// alive asks with signal 0, which is refused but not delivered where the
// process belongs to someone else.
func alive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}
