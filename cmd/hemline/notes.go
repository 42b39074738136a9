package main

import (
	"bytes"
	"fmt"
	"time"

	"hemline/checks"
	"hemline/checks/report"
	"hemline/lang"
	"hemline/lang/emit/notes"
	"hemline/lang/source"
)

type notesCommand struct {
	File   string `arg:"" help:"The board."`
	Format string `enum:"text,markdown" default:"text" help:"How the notes are written: ${enum}."`
	Out    string `short:"o" placeholder:"FILE" help:"The file to write; standard output if not said."`
}

// Help is shown under `hemline notes --help`.
func (notesCommand) Help() string {
	return `What a shop must know to build the board, one fact a line: class, copper, wrap,
which stretches are plated and which stay bare and why, layers, finish, the two
routs, tabs, mask, half holes, cutouts, fences, continuity, and the text's own
notes last. What the text does not say is not said.

Examples:
  hemline notes board.hem
  hemline notes board.hem --format markdown -o notes.md`
}

// Run writes the notes.
func (c notesCommand) Run(s *streams) error {
	f, err := source.Read(c.File)
	if err != nil {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	a := lang.Analyze(f, source.Read, nil)
	found := checks.Check(a, checks.Options{Today: time.Now().Format(time.DateOnly)}).Findings
	if err := inFull(s, c.File, found); err != nil {
		return err
	}
	list := fabricationNotes(a)
	write := notes.Text
	if c.Format == "markdown" {
		write = notes.Markdown
	}
	var text bytes.Buffer
	if err := write(&text, a.Board(), list); err != nil {
		return err
	}
	if len(found) > 0 {
		s.fail("%s has %d findings; the notes are written all the same", c.File, len(found))
	}
	if c.Out == "" {
		_, err = s.out.Write(text.Bytes())
		return err
	}
	if err := writeWhole(c.Out, text.Bytes()); err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.out, "%s: %d notes\n", c.Out, len(list))
	return err
}

// fabricationNotes are the notes of a board with the figures that they state.
func fabricationNotes(a *lang.Analysis) []notes.Note {
	return notes.Make(a.Board(), report.NoteFigures(a.Board()))
}
