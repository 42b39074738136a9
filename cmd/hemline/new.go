package main

import (
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

type newCommand struct {
	File string `arg:"" help:"The file to write; one that exists is never touched."`
}

// Help is shown under `hemline new --help`.
func (newCommand) Help() string {
	return `Example:
  hemline new board.hem && hemline check board.hem

Exit codes: 0 written, 2 the file exists already or could not be written.`
}

//go:embed starter.hem
var starter string

// Run writes the starter board.
func (c newCommand) Run(s *streams) error {
	err := whole(func() error {
		f, err := os.OpenFile(c.File, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("%s exists already and was not touched", c.File)
		}
		if err != nil {
			return fmt.Errorf("%s: %w", c.File, cause(err))
		}
		_, err = f.WriteString(starter)
		if err = errors.Join(err, f.Close()); err != nil {
			os.Remove(c.File) // nothing half-written stays
			return fmt.Errorf("%s: %w", c.File, cause(err))
		}
		return nil
	})
	if err != nil {
		return err
	}
	if filepath.Ext(c.File) != ".hem" {
		s.fail("%s: the name does not end in .hem: editors do not know it for a board, and a check of its folder passes it by", c.File)
	}
	return s.say("%s written; next: hemline check %s", c.File, c.File)
}
