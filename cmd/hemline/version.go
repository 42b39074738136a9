package main

import (
	_ "embed"
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
	"strings"
)

// version is that of a release, set by the linker alone:
// -ldflags '-X main.version=1.2.3'. Nothing in the source states one.
var version string

// notices are the licences of all that is linked into the program.
//
//go:embed NOTICES
var notices string

// development is the version of a program that is no release.
const development = "development"

// release is the version that the program gives of itself.
func release() string {
	info, _ := debug.ReadBuildInfo() // nil where the build recorded nothing
	return versionOf(version, info)
}

// versionOf is what the linker was told. Without its word the program is no
// release: it says so, and which commit it was built from as far as the build
// recorded that.
func versionOf(linked string, info *debug.BuildInfo) string {
	if linked != "" {
		return linked
	}
	says := []string{development}
	if info != nil {
		for _, s := range info.Settings {
			switch {
			case s.Key == "vcs.revision" && s.Value != "":
				says = append(says, s.Value[:min(12, len(s.Value))])
			case s.Key == "vcs.modified" && s.Value == "true":
				says = append(says, "modified")
			}
		}
	}
	return strings.Join(says, "-")
}

type versionCommand struct {
	Notices bool `help:"Print the licences of all that the program is built of: fonts, libraries, the language's own."`
}

// Help is shown under `hemline version --help`.
func (versionCommand) Help() string {
	return `A program that is no release says "development" and, where its build recorded
it, the commit.

Examples:
  hemline version
  hemline version --notices

Exit codes: 0 said, 2 could not run.`
}

// Run says which program this is and what built it, or what it is built of.
func (c versionCommand) Run(s *streams) error {
	if c.Notices {
		_, err := io.WriteString(s.out, notices)
		return err
	}
	_, err := fmt.Fprintf(s.out, "hemline %s (language version 1, %s %s/%s)\n", release(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return err
}
