package lsp

import (
	"hemline/checks"
	"hemline/checks/figures"
	"hemline/checks/rules"
	"hemline/checks/ways"
	"hemline/lang"
	"hemline/lang/source"
	"hemline/lsp/assist"
)

// Engine is what the server asks about texts. It is a value so that a test
// can put another one in place of the language.
type Engine struct {
	Analyze func(root *source.File, read lang.Reader, prev *lang.Analysis) *lang.Analysis
	Files   func(*lang.Analysis) []string
	Locate  func(*lang.Analysis, source.Place) (*source.File, source.Span, bool)
	Check   func(*lang.Analysis, checks.Options) checks.Outcome
	Ways    func(*lang.Analysis, ways.Options) *ways.Text // nil for none
	// Soon is how many lines a text may have for its check to be over sooner than another goroutine
	// for it is worth: a newer version then waits for one rule of it at most.
	Soon       int
	Modes      figures.Solver // nil for that of the checks
	Hover      func(a *lang.Analysis, offset int, kept *assist.Shown, o checks.Options) (assist.Card, bool)
	Definition func(a *lang.Analysis, offset int) (assist.Target, bool)
	Symbols    func(*lang.Analysis) []assist.Symbol
	Format     func(*lang.Analysis) []source.Edit
	Complete   func(a *lang.Analysis, offset int, files assist.Files, o checks.Options) []assist.Candidate
}

// DefaultEngine is the language with all its rules.
func DefaultEngine() Engine {
	return Engine{
		Analyze:    lang.Analyze,
		Files:      (*lang.Analysis).Files,
		Locate:     (*lang.Analysis).Locate,
		Check:      check,
		Ways:       tried,
		Soon:       2000,
		Hover:      assist.Hover,
		Definition: assist.Definition,
		Symbols:    assist.Symbols,
		Format:     assist.Format,
		Complete:   assist.Complete,
	}
}

// tried holds changes of a text against every rule.
func tried(a *lang.Analysis, o ways.Options) *ways.Text { return ways.Of(a, rules.All(), o) }

// check applies every rule.
func check(a *lang.Analysis, o checks.Options) checks.Outcome {
	return rules.All().Check(a, o)
}
