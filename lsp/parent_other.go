//go:build !unix

package lsp

import "os"

// watchParent lets gone be closed when a process is no more; it looks for it
// once before it returns. One that cannot be seen
// from the start is not watched: the client may live in another container,
// where the number means something else.
func watchParent(pid int, gone chan<- struct{}) {
	process, err := os.FindProcess(pid)
	if err != nil {
		return
	}
	go func() {
		if _, err := process.Wait(); err == nil {
			close(gone)
		}
	}()
}
