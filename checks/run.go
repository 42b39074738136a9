// Package checks holds a board to rules: what a rule is, the limits that
// fabricators set, and how a check is run. The rules themselves are in
// checks/rules.
package checks

import (
	"fmt"
	"maps"
	"slices"

	"hemline/checks/asked"
	"hemline/checks/figures"
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
	// Only are those of the catalogue's rules that run; nil for all.
	Only []*Rule
	// Limits are those the board is held to; nil for those of the fabricator
	// that its text has in use.
	Limits *Limits
	// Modes keeps the modes of cavities; nil for a store of this check's own.
	Modes *figures.Store
	// Later tells that modes which the store has not are worked out by whoever
	// checks, Outcome.Waits; the rules do without them. Else they are worked out at once.
	Later bool
	// Stale, where it is not nil, is asked before each rule whether anybody still wants
	// the outcome; once nobody does the check ends, see Outcome.Stopped.
	Stale func() bool
	// Session is that of the text, for checks of one version after another by
	// all rules; nil for a check that stands alone.
	Session *Session
}

// Outcome is what came of checking a board.
type Outcome struct {
	// Findings are those of the text and of the rules, located and sorted.
	Findings []finding.Located
	// Accepted are the findings that acceptances silence, in the same order.
	Accepted []Accepted
	// Asked are the answers to what the board asks for, where the rule that
	// reports those that are not verified has run.
	Asked []asked.Answer
	// Resonances are the cavities that were looked at, with their modes, and Waits
	// those of which the modes are still to be worked out; see Options.Later.
	Resonances []figures.Resonance
	Waits      []*figures.Cavity
	// Stopped tells that the check was ended early: the outcome is none.
	Stopped bool
}

// Accepted is a finding that is agreed, and by which statement.
type Accepted struct {
	finding.Located
	By *board.Acceptance
}

// Agreed is the acceptance of a request's not being verified, nil for none.
func (o Outcome) Agreed(a asked.Answer) *board.Acceptance {
	for _, x := range o.Accepted {
		if slices.Contains(x.Items, a.Item()) {
			return x.By
		}
	}
	return nil
}

// NotVerified are the answers to what could not be worked out.
func (o Outcome) NotVerified() []asked.Answer {
	var list []asked.Answer
	for _, a := range o.Asked {
		if a.Verdict == asked.NotVerified {
			list = append(list, a)
		}
	}
	return list
}

// Check applies the rules to an analysed board.
func (c Catalogue) Check(a *lang.Analysis, o Options) Outcome {
	p := c.pass(a, o)
	if o.Session != nil && o.Only == nil {
		p.runSince(o.Session)
	} else {
		if p.Limits == nil {
			p.Limits = LimitsFor(a)
		}
		list := o.Only
		if list == nil {
			list = c
		}
		p.run(list)
	}
	if p.stopped {
		return Outcome{Stopped: true}
	}
	if p.full {
		p.language(finding.Finding{Rule: board.RuleTooMany, Place: a.Document().Place(source.Span{}),
			Message: fmt.Sprintf("there are more findings than the %d that are reported; mend these first", MaxFindings)})
	}
	if len(a.Board().Acceptances()) == 0 {
		return p.outcome(locate(a, a.Findings(), p.found))
	}
	return p.accept()
}

func (p *Pass) outcome(found []finding.Located) Outcome {
	return Outcome{Findings: found, Asked: p.asked, Resonances: p.resonances, Waits: p.waits}
}

// runSince applies every rule; what the last check of the same text found is
// taken over where it cannot have changed.
func (p *Pass) runSince(s *Session) {
	last := s.latest()
	next := &record{board: p.analysis.Board(), checked: p.catalogue, stated: shopPlace(p.analysis), today: p.Today,
		rules: make([]ruleRecord, len(p.catalogue)), handed: map[any]any{}}
	if p.Limits == nil {
		p.Limits = limitsSince(p.analysis, last, next.stated)
	}
	next.limits, p.note = p.Limits, next
	p.since(last)
	if p.before != nil {
		maps.Copy(next.handed, p.before.handed) // for what is not asked for this time
	}
	p.run(p.catalogue)
	if p.stopped {
		return // what the last check found is still good for the next
	}
	if p.full {
		next = nil // not every rule has found what it could
	}
	s.keep(next)
}

// run applies rules and notes, if that is asked for, what each has found.
func (p *Pass) run(list []*Rule) {
	p.checkLimits()
	for i, r := range list {
		if p.full {
			return
		}
		if p.stopped = p.stale != nil && p.stale(); p.stopped {
			return
		}
		p.rule, p.reads, p.undecided = r, 0, false
		n, asked, resonances, waits := len(p.found), len(p.asked), len(p.resonances), len(p.waits)
		if known, ok := p.kept(i); ok {
			for _, f := range known.found {
				p.add(f)
			}
			p.reads = known.reads
			p.asked = append(p.asked, known.asked...)
			p.resonances = append(p.resonances, known.resonances...)
		} else {
			r.Run(p)
		}
		if len(p.waits) > waits {
			if p.awaits == nil {
				p.awaits = map[string]bool{}
			}
			p.awaits[r.Name] = true
		}
		if p.note != nil {
			p.note.rules[i] = ruleRecord{p.found[n:len(p.found):len(p.found)], p.reads, p.asked[asked:len(p.asked):len(p.asked)],
				p.resonances[resonances:len(p.resonances):len(p.resonances)], len(p.waits) > waits || p.undecided}
		}
	}
}

// accept parts the findings that acceptances silence from the others.
func (p *Pass) accept() Outcome {
	acceptances := p.analysis.Board().Acceptances()
	var open, agreed []*finding.Finding
	for _, f := range p.found {
		if p.acceptedBy(acceptances, f) != nil {
			agreed = append(agreed, f)
		} else {
			open = append(open, f)
		}
	}
	out := p.outcome(locate(p.analysis, p.analysis.Findings(), open))
	for _, f := range locate(p.analysis, nil, agreed) {
		out.Accepted = append(out.Accepted, Accepted{f, p.acceptedBy(acceptances, &f.Finding)})
	}
	return out
}

// acceptedBy is the acceptance that silences a finding today, nil for none.
func (p *Pass) acceptedBy(list []*board.Acceptance, f *finding.Finding) *board.Acceptance {
	for _, a := range list {
		if accepts(a, f) && !p.Expired(a) {
			return a
		}
	}
	return nil
}

// locate turns places into spans of this version and puts the findings in
// order. Every place is an item's of this version; one that is not would be a
// fault of the program, and is shown at the top of the text rather than lost.
func locate(a *lang.Analysis, text []finding.Finding, found []*finding.Finding) []finding.Located {
	out := make([]finding.Located, 0, len(text)+len(found))
	hides := a.Hides()
	add := func(f *finding.Finding) {
		file, span, ok := a.Locate(f.Place)
		if !ok {
			file, span = a.Root(), source.Span{}
		}
		told := takenOver(a.Board(), *f)
		if hides {
			told = visible(told)
		}
		out = append(out, finding.Located{Finding: told, File: file, Span: span})
	}
	for i := range text {
		add(&text[i])
	}
	for _, f := range found {
		add(f)
	}
	finding.Sort(out)
	return slices.CompactFunc(out, func(a, b finding.Located) bool {
		return a.File == b.File && a.Span == b.Span && a.Rule == b.Rule && a.Message == b.Message
	})
}

// visible is a finding that shows what nobody sees in the names that it speaks of.
func visible(f finding.Finding) finding.Finding {
	f.Message = source.Visible(f.Message)
	f.Related = slices.Clone(f.Related)
	for i := range f.Related {
		f.Related[i].Message = source.Visible(f.Related[i].Message)
	}
	if f.Fix != nil {
		fix := *f.Fix
		fix.Title = source.Visible(fix.Title)
		f.Fix = &fix
	}
	return f
}

// takenOver says of a finding on what was taken over by `like` whom from. A fix
// that would write over that `like` is left out: what it mends is stated elsewhere,
// for others too.
func takenOver(b *board.Board, f finding.Finding) finding.Finding {
	if by := b.Followed(f.Place); by != nil {
		f.Related = append(slices.Clip(f.Related), finding.Related{Place: by.Model.At, Message: by.Title})
	}
	if f.Fix != nil && slices.ContainsFunc(f.Fix.Edits, func(e finding.Edit) bool { return b.Followed(e.Place) != nil }) {
		f.Fix = nil
	}
	return f
}
