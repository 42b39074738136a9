package main

import (
	"os"

	"golang.org/x/term"
)

// terminal tells whether colour is wanted: only on a terminal, and not where
// the environment says NO_COLOR.
func terminal(f *os.File) bool {
	return os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && term.IsTerminal(int(f.Fd()))
}
