package main

import (
	"fmt"
	"runtime"
)

type versionCommand struct{}

// Help is shown under `hemline version --help`.
func (versionCommand) Help() string { return "Example:\n  hemline version" }

// Run says which program this is and what built it.
func (versionCommand) Run(s *streams) error {
	_, err := fmt.Fprintf(s.out, "hemline %s (language version 1, %s %s/%s)\n", version, runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return err
}
