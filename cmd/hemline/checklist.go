package main

import (
	"fmt"
	"strings"
	"time"

	"hemline/checks"
	"hemline/checks/report"
	"hemline/lang/emit/article"
	"hemline/lang/emit/drawing"
	"hemline/lang/emit/plot"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
	"hemline/lang/emit/wording"
)

type checklistCommand struct {
	File string `arg:"" help:"The board."`
	Out  string `short:"o" required:"" placeholder:"FILE" help:"The checklist: .pdf holds all sheets; .svg and .png hold one each, further ones get a number."`
	Date string `help:"The date of issue, as 2026-11-25; without it SOURCE_DATE_EPOCH, else none."`
}

// Help is shown under `hemline checklist --help`.
func (checklistCommand) Help() string {
	return `The sheet on which the first boards of an order are measured: what, where, the
limit and whose it is, and room for what was read. It lists what the text states
and what the fabrication notes give a limit for, and nothing else.

Examples:
  hemline checklist board.hem -o checklist.pdf

Exit codes: 0 written whatever findings stand, 1 the text cannot be read in full and nothing was written, 2 could not run.`
}

// Run writes the checklist.
func (c checklistCommand) Run(s *streams) error {
	issued, err := creation(c.Date)
	if err != nil {
		return err
	}
	r := checkFile(c.File, s.today())
	if err := r.inFull(s); err != nil {
		return err
	}
	if r.analysis.Board().Outline() == nil {
		return fmt.Errorf("%s: %w", r.path, drawing.ErrNoOutline)
	}
	lines := articleOf(r)
	files, err := plotted(c.Out, checklistSheets(r, shapesOf(r.analysis), lines, issued), plot.About{Title: titleOf(r.analysis.Board()), Date: issued})
	if err != nil {
		return err
	}
	if err := writeAll(files); err != nil {
		return err
	}
	r.stands(s, "the checklist is written all the same")
	return s.say("%s: %s", strings.Join(names(files), ", "), wording.Plural(len(lines), "line"))
}

// articleOf is what is measured on a board's first article.
func articleOf(r result) []article.Line {
	margin := checks.LimitsFor(r.analysis).Minimum("mask_margin")
	return article.Make(r.analysis.Board(), article.Options{
		Continuity: report.NoteFigures(r.analysis, r.modes).Continuity,
		MaskMargin: margin.Value, MaskMarginBy: margin.Who,
	})
}

func checklistSheets(r result, shapes *scene.Scene, lines []article.Line, issued time.Time) []*sheet.Sheet {
	return drawing.Checklist(r.analysis.Board(), shapes, lines, r.checked(shapes, drawing.Options{Date: issued}))
}
