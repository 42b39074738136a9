package main

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/emit/wording"
	"hemline/lang/finding"
	"hemline/lang/source"
)

type checkCommand struct {
	Files   []string `arg:"" name:"file" help:"Files, folders (every .hem file below) or patterns; - for standard input."`
	With    string   `placeholder:"SHOP" help:"Hold the boards to the fabricator of this file, whichever theirs is."`
	Format  string   `enum:"text,json" default:"text" help:"How findings are written: ${enum}."`
	Fix     bool     `help:"Apply every fix that is surely right, replacing the files, and say what was changed; then check."`
	Ways    bool     `help:"Look for ways out of each finding: changes of one value, word or clause, each tried under all rules."`
	Picture string   `placeholder:"FILE" help:"Draw the board, the findings marked where they are: .svg, .png or .pdf. For one file."`
	FailOn  string   `enum:"tidy,costly,risky,unbuildable,language" default:"tidy" help:"The lightest finding that makes the exit code 1: ${enum}."`
}

// Help is shown under `hemline check --help`.
func (checkCommand) Help() string {
	return `Examples:
  hemline check board.hem
  hemline check boards/ "proto/*.hem"
  hemline check --fail-on unbuildable board.hem
  hemline check --fix board.hem
  hemline check --ways board.hem
  hemline check --with shops/conservative.hem board.hem
  hemline check - < board.hem
  hemline check --picture findings.svg board.hem
  hemline check --format json board.hem > findings.json

A last line names what the board asks for (shielding, class, current, voltage)
and could not be verified, accepted or not.

Exit codes: 0 clean, 1 findings at or above --fail-on, 2 could not run.`
}

// result is what became of one file.
type result struct {
	path string
	checks.Outcome
	analysis *lang.Analysis
	today    string // the day on which acceptances were to hold
	modes    *figures.Store
	limits   *checks.Limits // that it was held to; nil for those of its own fabricator
	err      error
}

// Run checks the files, several at a time, and reports in the order they were named.
func (c checkCommand) Run(s *streams) error {
	files, failed := hemFiles(c.Files)
	text, err := c.standard(s, files)
	if err != nil {
		return err
	}
	limits, err := limitsOf(c.With)
	if err != nil {
		return err
	}
	if c.Fix {
		for _, path := range files {
			changes, err := fixFile(path, s.today(), limits)
			if err != nil {
				failed = errors.Join(failed, err)
			}
			for _, line := range changes {
				fmt.Fprintln(s.err, source.Visible(line))
			}
		}
	}
	results := checkAll(s, files, limits, text)
	for _, r := range results {
		if r.err != nil {
			failed = errors.Join(failed, r.err)
		}
	}
	if c.Picture != "" {
		switch {
		case len(results) != 1:
			failed = errors.Join(failed, fmt.Errorf("--picture shows one board; %d files are named", len(results)))
		case results[0].err == nil:
			failed = errors.Join(failed, pictured(s, c.Picture, results[0]))
		}
	}
	rep := newListing(results)
	if c.Ways {
		rep.look(context.Background(), s)
	}
	if c.Format == "json" {
		err = rep.json(s.out)
	} else {
		err = rep.text(s.out, s.colour)
	}
	if err != nil {
		return err
	}
	if failed != nil {
		s.fail("%s", failed)
		return exitCode(exitFailed)
	}
	floor, _ := finding.ParseCategory(c.FailOn)
	for _, f := range rep.findings {
		if f.Category >= floor {
			return exitCode(exitFindings)
		}
	}
	return nil
}

// standardInput is the name by which a text on standard input is asked for and reported.
const standardInput = "-"

// standard reads the text on standard input, where it is asked for; nil else. What it uses
// is found from the working folder.
func (c checkCommand) standard(s *streams, files []string) (*source.File, error) {
	if !slices.Contains(files, standardInput) {
		return nil, nil
	}
	if c.Fix {
		return nil, errors.New("standard input cannot be written back; leave out --fix")
	}
	data, err := readAll(s.in)
	if err != nil {
		return nil, err
	}
	return source.New(standardInput, string(data)), nil
}

// limitsOf are those of the fabricator of a file; nil for "".
func limitsOf(path string) (*checks.Limits, error) {
	if path == "" {
		return nil, nil
	}
	a, err := analyzed(path)
	if err != nil {
		return nil, err
	}
	if wrong := a.Findings(); len(wrong) > 0 {
		return nil, fmt.Errorf("%s: %s", path, wrong[0].Message)
	}
	if err := statesShop(path, a); err != nil {
		return nil, err
	}
	return checks.LimitsFor(a), nil
}

// checkAll checks files in parallel, no more at once than there are processors. text is
// that on standard input.
func checkAll(s *streams, files []string, limits *checks.Limits, text *source.File) []result {
	results := make([]result, len(files))
	modes := figures.NewStore(nil) // boards alike have the same
	done, stop := s.progress("checked", len(files))
	defer stop()
	read := func(path string) (*source.File, error) {
		if path == standardInput && text != nil {
			return text, nil
		}
		return source.Read(path)
	}
	each(len(files), func(i int) {
		results[i] = checkAs(files[i], files[i], s.today(), read, limits, modes)
		done()
	})
	return results
}

func checkFile(path, today string) result {
	return checkAs(path, path, today, source.Read, nil, figures.NewStore(nil))
}

// checkAs checks a file under a name, which read finds it by, against limits; nil for those
// of its own fabricator.
func checkAs(path, name, today string, read lang.Reader, limits *checks.Limits, modes *figures.Store) result {
	f, err := read(name)
	if err != nil {
		return result{path: path, err: fmt.Errorf("%s: %w", path, err)}
	}
	a := lang.Analyze(f, read, nil)
	o := checks.Options{Today: today, Modes: modes, Limits: limits}
	return result{path: path, analysis: a, today: today, modes: modes, limits: limits, Outcome: rules.All().Check(a, o)}
}

// inFull refuses a text of which a part cannot be read: what is made of the
// rest would pass for all of it. An error of reading the file is handed on.
func (r result) inFull(s *streams) error {
	if r.err != nil {
		return r.err
	}
	for _, x := range r.Findings {
		if x.Category == finding.Language {
			s.fail("%s: %s: the text cannot be read in full, so nothing was written; `hemline check` lists what is wrong", r.path, x.Rule)
			return exitCode(exitFindings)
		}
	}
	return nil
}

// stands says how many findings stand, and what is made of the board all the
// same; it says nothing where there are none.
func (r result) stands(s *streams, allTheSame string) {
	if n := len(r.Findings); n > 0 {
		s.fail("%s has %s; %s", r.path, wording.Plural(n, "finding"), allTheSame)
	}
}
