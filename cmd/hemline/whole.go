package main

import (
	"os"
	"os/signal"
	"syscall"
)

// whole writes what belongs together. An interrupt, or the end of its terminal, that comes
// meanwhile ends the program once that is done: nothing half-written stays, nor what was written to be renamed.
func whole(write func() error) error {
	interrupts := make(chan os.Signal, 1)
	signal.Notify(interrupts, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	defer signal.Stop(interrupts)
	err := write()
	select {
	case s := <-interrupts:
		code := 128
		if n, ok := s.(syscall.Signal); ok {
			code += int(n)
		}
		os.Exit(code)
	default:
	}
	return err
}
