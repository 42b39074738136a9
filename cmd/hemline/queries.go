package main

import (
	"io"

	"hemline/lang"
	"hemline/lang/emit/queries"
	"hemline/lang/source"
)

type queriesCommand struct {
	File   string `arg:"" help:"The board."`
	Format string `enum:"text,markdown,json" default:"text" help:"How the queries are written: ${enum}."`
}

// Help is shown under `hemline queries --help`.
func (queriesCommand) Help() string {
	return `What a shop would have to ask before it builds the board: what the text answers
and where, what it leaves open and what would answer that, what it leaves to the
shop.

Examples:
  hemline queries board.hem
  hemline queries --format json board.hem

Exit codes: 0 nothing is open, 1 something is, 2 could not run.`
}

// Run holds the board to the questions.
func (c queriesCommand) Run(s *streams) error {
	r := checkFile(c.File, s.today())
	if err := r.inFull(s); err != nil {
		return err
	}
	a := r.analysis
	list := queries.Ask(a.Board())
	write := queries.Text
	switch c.Format {
	case "json":
		write = queries.JSON
	case "markdown":
		write = queries.Markdown
	}
	if err := s.show(c.Format, func(w io.Writer) error { return write(w, a.Root().Path(), list, lineOf(a)) }); err != nil {
		return err
	}
	if queries.Count(list, queries.Open) > 0 {
		return exitCode(exitFindings)
	}
	return nil
}

// lineOf locates places; what is nowhere belongs at the text's end.
func lineOf(a *lang.Analysis) queries.Where {
	return func(p source.Place) (string, int) {
		f, span, ok := a.Locate(p)
		if !ok {
			return a.Root().Path(), a.Root().LineOf(max(0, a.Root().Len()-1)) + 1
		}
		return f.Path(), f.LineOf(span.Start) + 1
	}
}
