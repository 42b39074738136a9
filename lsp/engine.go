package lsp

import (
	"hemline/checks"
	"hemline/checks/query"
	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// Engine is what the server asks about texts. It is a value so that a test
// can put another one in place of the language.
type Engine struct {
	Analyze    func(root *source.File, read lang.Reader, prev *lang.Analysis) *lang.Analysis
	Files      func(*lang.Analysis) []string
	Locate     func(*lang.Analysis, source.Place) (*source.File, source.Span, bool)
	Check      func(a *lang.Analysis, limits *checks.Limits, today string) []finding.Located // limits is nil for those of the text
	Hover      func(a *lang.Analysis, offset int) (query.Card, bool)
	Definition func(a *lang.Analysis, offset int) (query.Target, bool)
	Symbols    func(*lang.Analysis) []query.Symbol
	Format     func(*lang.Analysis) []query.TextEdit
	Complete   func(a *lang.Analysis, offset int, files query.Files) []query.Candidate
}

// DefaultEngine is the language with all its rules.
func DefaultEngine() Engine {
	return Engine{
		Analyze:    lang.Analyze,
		Files:      (*lang.Analysis).Files,
		Locate:     (*lang.Analysis).Locate,
		Check:      check,
		Hover:      query.Hover,
		Definition: query.Definition,
		Symbols:    query.Symbols,
		Format:     query.Format,
		Complete:   query.Complete,
	}
}

// check applies every rule, acceptances holding as of a day.
func check(a *lang.Analysis, limits *checks.Limits, today string) []finding.Located {
	return checks.Check(a, checks.Options{Today: today, Limits: limits}).Findings
}
