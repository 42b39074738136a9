package main

import (
	"fmt"

	"hemline/checks/report"
	"hemline/lang"
	"hemline/lang/source"
)

type shopsCommand struct {
	File   string   `arg:"" help:"The board."`
	With   []string `required:"" sep:"," placeholder:"SHOP" help:"Files that each state a fabricator."`
	Format string   `enum:"text,markdown,json" default:"text" help:"How the table is written: ${enum}."`
}

// Help is shown under `hemline shops --help`.
func (shopsCommand) Help() string {
	return `One table: a row a limit that the board touches, a column a fabricator, and
whether each builds it. The limits in the board's own file are left aside.

Examples:
  hemline shops board.hem --with shops/conservative.hem,shops/standard.hem
  hemline shops --format markdown board.hem --with shops/advanced.hem

Exit codes: 0 every fabricator builds it, 1 one does not, 2 could not run.`
}

// Run compares the shops.
func (c shopsCommand) Run(s *streams) error {
	a, err := analyzed(c.File)
	if err != nil {
		return err
	}
	var shops []*lang.Analysis
	for _, path := range c.With {
		shop, err := analyzed(path)
		if err != nil {
			return err
		}
		if err := statesShop(path, shop); err != nil {
			return err
		}
		shops = append(shops, shop)
	}
	table := report.Compare(a, source.Read, shops, s.today())
	write := table.Text
	switch c.Format {
	case "json":
		write = table.JSON
	case "markdown":
		write = table.Markdown
	}
	if err := s.show(c.Format, write); err != nil {
		return err
	}
	for _, shop := range table.Shops {
		if !shop.Builds {
			return exitCode(exitFindings)
		}
	}
	return nil
}

// analyzed is a file's analysis.
func analyzed(path string) (*lang.Analysis, error) {
	f, err := source.Read(path)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return lang.Analyze(f, source.Read, nil), nil
}

// statesShop refuses a file that states no fabricator.
func statesShop(path string, a *lang.Analysis) error {
	if a.Board().Fabricator() == nil {
		return fmt.Errorf("%s: the file states no fabricator", path)
	}
	return nil
}
