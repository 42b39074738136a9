package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"hemline/checks/compare"
	"hemline/lang"
	"hemline/lang/source"
)

type compareCommand struct {
	Old    string `arg:"" help:"The board as it was: a file, or REV:FILE of a git repository."`
	New    string `arg:"" help:"The board as it is: likewise."`
	Format string `enum:"text,markdown,json" default:"text" help:"How it is written: ${enum}."`
	FailOn string `enum:"any,new" default:"any" help:"What ends with exit code 1: ${enum}, that is any difference, or findings that are new."`
}

// Help is shown under `hemline compare --help`.
func (compareCommand) Help() string {
	return `What differs between two versions of a board, in the board's own terms: items
added, removed, renamed and changed, figures before and after, findings that
are new or gone, queries, fabrication notes. How the texts write the same thing
is of no account: units, lets, typicals, the order of statements. Items that
are renamed are recognised by what else they are.

Examples:
  hemline compare old.hem new.hem
  hemline compare HEAD:board.hem board.hem
  hemline compare --format markdown main:board.hem HEAD:board.hem

Exit codes: 0 nothing differs, 1 something does (with --fail-on new: there are
new findings), 2 could not run.`
}

// Run compares the two.
func (c compareCommand) Run(s *streams) error {
	was, err := sideOf(c.Old)
	if err != nil {
		return err
	}
	is, err := sideOf(c.New)
	if err != nil {
		return err
	}
	all := compare.Of(compare.Side{Name: c.Old, Analysis: was, Today: s.today()}, compare.Side{Name: c.New, Analysis: is, Today: s.today()})
	write := all.Text
	switch c.Format {
	case "json":
		write = all.JSON
	case "markdown":
		write = all.Markdown
	}
	if err := s.show(c.Format, write); err != nil {
		return err
	}
	if c.FailOn == "any" && !all.Same() || c.FailOn == "new" && len(all.FindingsNew) > 0 {
		return exitCode(exitFindings)
	}
	return nil
}

// sideOf is a file's analysis, or that of a file in a revision of the git repository that
// the working folder lies in. What it uses is read from the same revision.
func sideOf(arg string) (*lang.Analysis, error) {
	rev, path, ok := strings.Cut(arg, ":")
	if _, err := os.Stat(arg); err == nil || !ok || len(rev) < 2 || path == "" {
		return analyzed(arg)
	}
	read := inRevision(rev)
	f, err := read(path)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", arg, err)
	}
	return lang.Analyze(f, read, nil), nil
}

// inRevision reads files as they are in a revision.
func inRevision(rev string) lang.Reader {
	return func(path string) (*source.File, error) {
		git, err := exec.LookPath("git")
		if err != nil {
			return nil, errors.New("REV:FILE needs the program git, and there is none")
		}
		var out, said bytes.Buffer
		cmd := exec.Command(git, "show", "--end-of-options", rev+":./"+filepath.ToSlash(filepath.Clean(path)))
		cmd.Stdout, cmd.Stderr = &out, &said
		if err := cmd.Run(); err != nil {
			return nil, errors.New(strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(said.String()), "fatal: ")))
		}
		if out.Len() > source.MaxBytes {
			return nil, fmt.Errorf("it is %d bytes long; at most %d are read", out.Len(), source.MaxBytes)
		}
		return source.New(path, out.String()), nil
	}
}
