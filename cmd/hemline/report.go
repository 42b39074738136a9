package main

import (
	"fmt"

	"hemline/checks/report"
	"hemline/lang"
	"hemline/lang/source"
)

type reportCommand struct {
	File   string `arg:"" help:"The board."`
	Format string `enum:"text,markdown,json" default:"text" help:"How the figures are written: ${enum}."`
}

// Help is shown under `hemline report --help`.
func (reportCommand) Help() string {
	return `What the board asks for and what became of it; what gives first; plated lengths
and shares, openings against the wavelength, the bound on shielding, resonances,
resistances, currents, areas, masses, tabs. Like things are one table, what all
of them have alike under it. A figure that does not apply says why. Figures have
three digits; JSON has all.

Examples:
  hemline report board.hem
  hemline report --format markdown board.hem > figures.md
  hemline report --format json board.hem

Exit codes: 0 written whatever findings stand, 2 could not run.`
}

// Run computes and writes the report.
func (c reportCommand) Run(s *streams) error {
	f, err := source.Read(c.File)
	if err != nil {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	r := report.New(lang.Analyze(f, source.Read, nil), s.today(), nil)
	write := r.Text
	switch c.Format {
	case "json":
		write = r.JSON
	case "markdown":
		write = r.Markdown
	}
	return s.show(c.Format, write)
}
