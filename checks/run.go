// Package checks holds the rules: what a fabricator cannot build, what is
// risky, costly or untidy in a board, each with its document and its limits.
package checks

import (
	"slices"

	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// Run applies every rule to an analysed board and returns its findings
// together with those of the text itself, located and sorted.
func Run(a *lang.Analysis) []finding.Located { return RunRules(a, rules) }

// RunRules applies some of the rules.
func RunRules(a *lang.Analysis, rules []*Rule) []finding.Located {
	p := &Pass{Board: a.Board(), Limits: LimitsFor(a), analysis: a}
	checkLimits(p)
	for _, r := range rules {
		p.rule = r
		r.run(p)
	}
	return locate(a, slices.Concat(a.Findings(), p.accepted()))
}

// accepted leaves out what an acceptance silences.
func (p *Pass) accepted() []finding.Finding {
	if len(p.Board.Acceptances) == 0 {
		return p.found
	}
	return slices.DeleteFunc(slices.Clone(p.found), func(f finding.Finding) bool {
		for _, a := range p.Board.Acceptances {
			if a.Name.Text == f.Rule && f.Category != finding.Language && slices.Contains(f.On, a.On.Text) {
				return true
			}
		}
		return false
	})
}

// locate turns places into spans of this version and puts the findings in
// order. Every place is an item's of this version; one that is not would be a
// fault of the program, and is shown at the top of the text rather than lost.
func locate(a *lang.Analysis, list []finding.Finding) []finding.Located {
	out := make([]finding.Located, 0, len(list))
	for _, f := range list {
		file, span, ok := a.Locate(f.Place)
		if !ok {
			file, span = a.Root(), source.Span{}
		}
		out = append(out, finding.Located{Finding: f, File: file, Span: span})
	}
	finding.Sort(out)
	return slices.CompactFunc(out, func(a, b finding.Located) bool {
		return a.File == b.File && a.Span == b.Span && a.Rule == b.Rule && a.Message == b.Message
	})
}
