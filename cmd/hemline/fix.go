package main

import (
	"fmt"
	"slices"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// maxFixRounds bounds how often fixes may bring about further ones.
const maxFixRounds = 20

// fixFile applies every fix of a file's findings, round by round, and replaces
// the file at once. It says what it changed. Fixes that would edit another
// file are left alone.
func fixFile(path, today string) (changes []string, err error) {
	f, err := source.Read(path)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	before := f.Text()
	a := lang.Analyze(f, source.Read, nil)
	found := findings(a, today)
	for range maxFixRounds {
		text, said := fixOnce(a, found)
		if len(said) == 0 {
			break
		}
		next := lang.Analyze(source.New(path, text), source.Read, a)
		after := findings(next, today)
		if len(after) >= len(found) {
			break // a round that mends nothing is not kept
		}
		a, found = next, after
		changes = append(changes, said...)
	}
	if a.Root().Text() == before {
		return nil, nil
	}
	return changes, replace(path, a.Root().Text())
}

func findings(a *lang.Analysis, today string) []finding.Located {
	return rules.All().Check(a, checks.Options{Today: today, Later: true}).Findings // no fix hangs on a mode
}

// fixOnce applies the fixes that do not touch each other, last first, so that
// the places before them stay where they are.
func fixOnce(a *lang.Analysis, found []finding.Located) (text string, said []string) {
	root := a.Root()
	text = root.Text()
	limit := len(text) + 1
	for _, f := range slices.Backward(found) {
		edits, ok := rootEdits(a, f, limit)
		if !ok {
			continue
		}
		for _, e := range slices.Backward(edits) {
			text = text[:e.span.Start] + e.text + text[e.span.End:]
			limit = e.span.Start
		}
		said = append(said, fmt.Sprintf("%s: fixed: %s [%s]", spot(f.File, f.Span), f.Fix.Title, f.Rule))
	}
	slices.Reverse(said)
	return text, said
}

type rootEdit struct {
	span source.Span
	text string
}

// rootEdits locates a finding's edits, in order; ok is false where there are
// none that are surely right, one is in another file, or one reaches past limit.
func rootEdits(a *lang.Analysis, f finding.Located, limit int) (edits []rootEdit, ok bool) {
	if f.Fix == nil || f.Fix.Guess {
		return nil, false
	}
	for _, e := range f.Fix.Edits {
		file, span, found := a.Locate(e.Place)
		if !found || file != a.Root() || span.End > limit || span.End == limit && span.Len() == 0 {
			return nil, false
		}
		edits = append(edits, rootEdit{span, e.Text})
	}
	slices.SortFunc(edits, func(x, y rootEdit) int { return x.span.Start - y.span.Start })
	return edits, len(edits) > 0
}
