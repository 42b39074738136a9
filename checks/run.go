// Package checks holds the rules: what a fabricator cannot build, what is
// risky, costly or untidy in a board, each with its document and its limits.
package checks

import (
	"fmt"
	"slices"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// Options say how a board is checked.
type Options struct {
	// Today, "YYYY-MM-DD", is the day on which acceptances must still hold; ""
	// leaves dates out of account.
	Today string
	// Rules are those that run; nil for all.
	Rules []*Rule
	// Limits are those the board is held to; nil for those of the fabricator
	// that its text has in use.
	Limits *Limits
}

// Outcome is what came of checking a board.
type Outcome struct {
	// Findings are those of the text and of the rules, located and sorted.
	Findings []finding.Located
	// Accepted are the findings that acceptances silence, in the same order.
	Accepted []Accepted
}

// Accepted is a finding that is agreed, and by which statement.
type Accepted struct {
	finding.Located
	By *board.Acceptance
}

// Run applies every rule to an analysed board and returns its findings
// together with those of the text itself, located and sorted. Dates are left
// out of account.
func Run(a *lang.Analysis) []finding.Located { return Check(a, Options{}).Findings }

// Check applies rules to an analysed board.
func Check(a *lang.Analysis, o Options) Outcome {
	p := &Pass{Board: a.Board(), Limits: o.Limits, analysis: a, today: o.Today, known: func(rule string) bool { return Named(rule) != nil }}
	if o.Rules != nil {
		if p.Limits == nil {
			p.Limits = LimitsFor(a)
		}
		p.run(o.Rules, nil)
	} else {
		p.runAll(o.Limits)
	}
	if p.full {
		p.language(finding.Finding{Rule: board.RuleTooMany, Place: a.Document().Place(source.Span{}),
			Message: fmt.Sprintf("there are more findings than the %d that are reported; mend these first", MaxFindings)})
	}
	if len(p.Board.Acceptances) == 0 {
		return Outcome{Findings: locate(a, slices.Concat(a.Findings(), p.found))}
	}
	return p.accept()
}

// runAll applies every rule; what the last check of the same text found is
// taken over where it cannot have changed.
func (p *Pass) runAll(limits *Limits) {
	h, last := historyOf(p.Board)
	next := &record{board: p.Board, stated: shopPlace(p.analysis), today: p.today, found: make([][]finding.Finding, len(rules)), features: map[*Rule]map[*board.Feature][]finding.Finding{}}
	if p.Limits = limits; limits == nil {
		p.Limits = limitsSince(p.analysis, last, next.stated)
	}
	next.limits, p.features = p.Limits, next.features
	p.since(last)
	p.run(rules, next)
	if p.full {
		next = nil // not every rule has found what it could
	}
	h.keep(next)
}

// run applies rules and notes, if asked to, what each has found.
func (p *Pass) run(list []*Rule, note *record) {
	checkLimits(p)
	for i, r := range list {
		if p.full {
			return
		}
		p.rule = r
		n := len(p.found)
		if found, ok := p.kept(r, i); ok {
			for _, f := range found {
				p.add(f)
			}
			if note != nil && p.before.features[r] != nil {
				note.features[r] = p.before.features[r]
			}
		} else {
			r.run(p)
		}
		if note != nil {
			note.found[i] = p.found[n:len(p.found):len(p.found)]
		}
	}
}

// accept parts the findings that acceptances silence from the others.
func (p *Pass) accept() Outcome {
	by := func(f finding.Finding) *board.Acceptance {
		for _, a := range p.Board.Acceptances {
			if accepts(a, f) && !p.expired(a) {
				return a
			}
		}
		return nil
	}
	var open, agreed []finding.Finding
	for _, f := range p.found {
		if by(f) != nil {
			agreed = append(agreed, f)
		} else {
			open = append(open, f)
		}
	}
	out := Outcome{Findings: locate(p.analysis, slices.Concat(p.analysis.Findings(), open))}
	for _, f := range locate(p.analysis, agreed) {
		out.Accepted = append(out.Accepted, Accepted{f, by(f.Finding)})
	}
	return out
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
