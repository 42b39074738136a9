package main

import (
	"context"
	"fmt"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/checks/ways"
	"hemline/lang"
	"hemline/lang/source"
)

// fixFile makes every fix of a file's findings that is surely right, one after another, and
// replaces the file at once. It says what it changed, and where that stood by then. Fixes that would edit another
// file are left alone.
func fixFile(path, today string, limits *checks.Limits) (changes []string, err error) {
	f, err := source.Read(path)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	a := lang.Analyze(f, source.Read, nil)
	o := ways.Options{Check: checks.Options{Today: today, Limits: limits}, Read: source.Read}
	done := ways.Of(a, rules.All(), o).Mend(context.Background(), nil)
	for _, x := range done.Made {
		changes = append(changes, fmt.Sprintf("%s: fixed: %s [%s]", spot(x.File, x.Span), x.Fix.Title, x.Rule))
	}
	for _, x := range done.Refused() {
		changes = append(changes, fmt.Sprintf("%s: not fixed: %s: %s [%s]", spot(x.File, x.Span), x.Fix.Title, x.Why, x.Rule))
	}
	if text := done.Analysis.Root().Text(); text != f.Text() {
		return changes, replace(path, text)
	}
	return changes, nil
}
