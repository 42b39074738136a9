package main

import (
	"bytes"

	"hemline/checks"
	"hemline/checks/report"
	"hemline/lang"
	"hemline/lang/emit/drawing"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/wording"
)

type notesCommand struct {
	File   string `arg:"" help:"The board."`
	Format string `enum:"text,markdown" default:"text" help:"How the notes are written: ${enum}."`
	Out    string `short:"o" placeholder:"FILE" help:"The file to write; default: standard output."`
}

// Help is shown under `hemline notes --help`.
func (notesCommand) Help() string {
	return `What a shop must know to build the board, numbered under headings: general,
plating, copper and planes, routs and tabs, solder mask, holes, acceptance, and
the text's own notes last. The drawing has the same notes. Its tables, which they
refer to, stand beneath them. What the text does not say is not said.

Examples:
  hemline notes board.hem
  hemline notes board.hem --format markdown -o notes.md

Exit codes: 0 written whatever findings stand, 1 the text cannot be read in full and nothing was written, 2 could not run.`
}

// Run writes the notes.
func (c notesCommand) Run(s *streams) error {
	r := checkFile(c.File, s.today())
	if err := r.inFull(s); err != nil {
		return err
	}
	list := fabricationNotes(r)
	write := notes.Text
	if c.Format == "markdown" {
		write = notes.Markdown
	}
	var text bytes.Buffer
	if err := write(&text, r.analysis.Board(), list, tablesOf(r.analysis)); err != nil {
		return err
	}
	r.stands(s, "the notes are written all the same")
	if c.Out == "" {
		_, err := s.out.Write(visible(c.Format, text.Bytes()))
		return err
	}
	if err := writeWhole(c.Out, visible(c.Format, text.Bytes())); err != nil {
		return err
	}
	return s.say("%s: %s", c.Out, wording.Plural(len(list), "note"))
}

// fabricationNotes are the notes of a board with the figures that they state.
func fabricationNotes(r result) []notes.Note {
	return notes.Make(r.analysis.Board(), report.NoteFigures(r.analysis, r.modes))
}

// tablesOf are the drawing's tables of a board, which its notes refer to.
func tablesOf(a *lang.Analysis) []wording.Table {
	return drawing.Tables(a.Board(), shapesOf(a), checks.BitsOf(a.Board()).Tab)
}
