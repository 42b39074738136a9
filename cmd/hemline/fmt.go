package main

import (
	"errors"
	"fmt"
	"io"

	"hemline/lang/source"
	"hemline/lang/syntax"
)

type fmtCommand struct {
	Files []string `arg:"" optional:"" name:"file" help:"Files, folders or patterns; none, or -, for standard input."`
	Check bool     `xor:"mode" help:"Only name the files that are not in canonical form, and end with 1 if there are any."`
	Write bool     `short:"w" xor:"mode" help:"Replace the files, each at once and whole."`
}

// Help is shown under `hemline fmt --help`.
func (fmtCommand) Help() string {
	return `Without --check or --write the formatted text goes to standard output. A
statement that cannot be read stays as it is.

Examples:
  hemline fmt board.hem
  hemline fmt --write boards/
  hemline fmt --check .
  hemline fmt < board.hem

Exit codes: 0 done, 1 with --check where a file is not in canonical form, 2 could not run.`
}

// Run formats the files.
func (c fmtCommand) Run(s *streams) error {
	if len(c.Files) == 0 || len(c.Files) == 1 && c.Files[0] == standardInput {
		return c.standard(s)
	}
	files, failed := hemFiles(c.Files)
	different := false
	for _, path := range files {
		changed, err := c.file(s, path)
		if err != nil {
			failed = errors.Join(failed, err)
		}
		different = different || changed
	}
	switch {
	case failed != nil:
		s.fail("%s", failed)
		return exitCode(exitFailed)
	case c.Check && different:
		return exitCode(exitFindings)
	}
	return nil
}

func (c fmtCommand) standard(s *streams) error {
	data, err := readAll(s.in)
	if err != nil {
		return err
	}
	text := syntax.Format(syntax.Parse(source.New(standardInput, string(data)), nil))
	switch {
	case c.Write:
		return errors.New("standard input cannot be written back; leave out --write")
	case !c.Check:
		_, err = io.WriteString(s.out, text)
		return err
	case text != string(data):
		return exitCode(exitFindings)
	}
	return nil
}

func (c fmtCommand) file(s *streams, path string) (changed bool, err error) {
	f, err := source.Read(path)
	if err != nil {
		return false, fmt.Errorf("%s: %w", path, err)
	}
	text := syntax.Format(syntax.Parse(f, nil))
	changed = text != f.Text()
	switch {
	case c.Check && changed:
		err = s.say("%s", path)
	case c.Write && changed:
		err = replace(path, text)
	case !c.Check && !c.Write:
		_, err = io.WriteString(s.out, text)
	}
	return changed, err
}
