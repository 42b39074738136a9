package main

import (
	"fmt"
	"sync"
	"sync/atomic"
	"time"
)

// quiet is for how long a command works before it says how far it is.
const quiet = time.Second

// progress says on the terminal, where there is one, how many of so many are done, once it
// has lasted: done counts one, stop ends it and clears the line.
func (s *streams) progress(what string, of int) (done, stop func()) {
	if !s.live {
		return func() {}, func() {}
	}
	var n atomic.Int64
	ended, gone := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(gone)
		said := false
		for wait := quiet; ; wait = quiet / 4 {
			select {
			case <-ended:
				if said {
					fmt.Fprint(s.err, "\r\x1b[K")
				}
				return
			case <-time.After(wait):
				said = true
				fmt.Fprintf(s.err, "\r\x1b[Khemline: %s %d of %d", what, n.Load(), of)
			}
		}
	}()
	return func() { n.Add(1) }, sync.OnceFunc(func() { close(ended); <-gone })
}
