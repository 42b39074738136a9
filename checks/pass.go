package checks

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"hemline/checks/asked"
	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Pass is one run of rules over one board. A rule reads it and reports.
type Pass struct {
	// Board notes what is read of it.
	Board  *board.Board
	Limits *Limits
	Today  string // as in Options

	catalogue Catalogue
	analysis  *lang.Analysis
	rule      *Rule       // that is running
	reads     board.Reads // of the rule so far
	full      bool        // there were more findings than are kept
	found     []*finding.Finding
	asked     []asked.Answer
	modes     *figures.Store
	later     bool // see Options.Later
	stale     func() bool
	stopped   bool // see Outcome.Stopped
	once      map[any]worked
	measures  bool // see Measures
	weighs    bool // see Weighs
	margins   []Margin
	enough    bool // one finding is: it is asked only whether the rule finds any

	resonances []figures.Resonance
	waits      []*figures.Cavity
	awaits     map[string]bool // the rules that did without modes which are still to be worked out
	undecided  bool            // what the rule that runs has to say hangs on one of those

	// What the last check of the text found, nil where that is of no use, what the
	// board differs in since, and the record for the next one.
	before  *record
	differs board.Reads
	note    *record
}

// MaxFindings bounds what one board's check reports: no one reads more, and
// no text can exhaust memory with them.
const MaxFindings = 20_000

func (c Catalogue) pass(a *lang.Analysis, o Options) *Pass {
	p := &Pass{Limits: o.Limits, Today: o.Today, catalogue: c, analysis: a, modes: o.Modes, later: o.Later, stale: o.Stale, once: map[any]worked{}}
	p.Board = a.Board().Recording(&p.reads)
	return p
}

// Report adds a finding of the rule that is running, on the one item or the two
// items named. The finding is returned so that related places and a fix can be added, before the
// rule ends.
func (p *Pass) Report(at source.Place, items []string, format string, args ...any) *finding.Finding {
	f := &finding.Finding{Rule: p.rule.Name, Category: p.rule.Category, Place: at, Items: items, Message: fmt.Sprintf(format, args...)}
	p.add(f)
	return f
}

// add adds a finding if there is room for it.
func (p *Pass) add(f *finding.Finding) {
	if p.enough {
		p.found = append(p.found, f)
		panic(stopped{})
	}
	if len(p.found) >= MaxFindings {
		p.full = true
		return
	}
	p.found = append(p.found, f)
}

// stopped ends a rule that is asked only whether it finds anything.
type stopped struct{}

// finds tells whether a rule finds anything. The rule runs as far as its first
// finding, not on to others that may be many.
func (p *Pass) finds(r *Rule) (does bool) {
	p.rule, p.enough, p.found = r, true, nil
	defer func() {
		if p.enough, does = false, len(p.found) > 0; does {
			recover() // of stopped; anything else that a rule panics with goes on
		}
	}()
	r.Run(p)
	return false
}

// language adds a finding on the text itself.
func (p *Pass) language(f finding.Finding) {
	f.Category = finding.Language
	p.found = append(p.found, &f)
}

// Awaits tells whether a rule that has run did without modes which are still to be worked out, so
// that what it finds is not known yet. Whoever asks is asked anew once they are.
func (p *Pass) Awaits(rule string) bool {
	p.undecided = p.undecided || p.awaits[rule]
	return p.awaits[rule]
}

// Edit is a fix of one replacement; nil where what is replaced reads a let:
// then the let's value may be what is wrong, and nothing else may read it.
func (p *Pass) Edit(title string, at source.Place, text string) *finding.Fix {
	file, span, ok := p.analysis.Locate(at)
	if !ok {
		return nil
	}
	words := strings.FieldsFunc(file.Slice(span), func(r rune) bool { return r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	for _, l := range p.Board.Lets() {
		if slices.Contains(words, l.Name.Text) {
			return nil
		}
	}
	return edit(title, at, text)
}

// edit is a fix of one replacement.
func edit(title string, at source.Place, text string) *finding.Fix {
	return &finding.Fix{Title: title, Edits: []finding.Edit{{Place: at, Text: text}}}
}

// Keep hands a value on to the check of the text's next version, under a key of
// a type of the caller's own. What is made of it there must not depend on it.
func (p *Pass) Keep(key, value any) {
	if p.note != nil {
		p.note.handed[key] = value
	}
}

// Kept is what a check of an earlier version handed on, or nil.
func (p *Pass) Kept(key any) any {
	if p.before == nil {
		return nil
	}
	return p.before.handed[key]
}

// Root is the path of the text that is checked, as its own items' places have
// it. It leaves no mark: in a text of another path every item is another.
func (p *Pass) Root() string { return p.analysis.Root().Path() }

// Knows tells whether there is a rule of a name.
func (p *Pass) Knows(rule string) bool { return p.catalogue.Named(rule) != nil }

// Silences tells whether an acceptance, by one of the names that it is on,
// accepts any finding so far, of the rules before the one that is running.
func (p *Pass) Silences(a *board.Acceptance, on board.Name) bool {
	p.Board.ReadAll() // as those rules may have
	return slices.ContainsFunc(p.found, func(f *finding.Finding) bool { return speaks(a, f) && a.Accepts(on, f.Items) })
}

// Found names the rules of the findings so far of some rules, which come before
// the one that is running: those that stand, and those that are accepted.
func (p *Pass) Found(of []*Rule) (stand, agreed []string) {
	p.Board.ReadAll() // as those rules may have
	acceptances := p.Board.Acceptances()
	for _, f := range p.found {
		switch {
		case !slices.ContainsFunc(of, func(r *Rule) bool { return r.Name == f.Rule }):
		case p.acceptedBy(acceptances, f) != nil:
			agreed = append(agreed, f.Rule)
		default:
			stand = append(stand, f.Rule)
		}
	}
	return stand, agreed
}

// Answer keeps what the board asks for with what became of it, for the outcome.
func (p *Pass) Answer(list []asked.Answer) { p.asked = append(p.asked, list...) }

// accepts tells whether a finding is what an acceptance speaks of.
func accepts(a *board.Acceptance, f *finding.Finding) bool {
	return speaks(a, f) && slices.ContainsFunc(a.On, func(on board.Name) bool { return a.Accepts(on, f.Items) })
}

// speaks tells whether a finding is of the rule that an acceptance names.
func speaks(a *board.Acceptance, f *finding.Finding) bool {
	return f.Category != finding.Language && a.Name.Text == f.Rule
}

// Acceptance is the statement that would silence a finding and those that are as
// it is, with a reason still to be given; "" for one that none can.
func Acceptance(f *finding.Finding) string {
	if f.Category == finding.Language || len(f.Items) == 0 {
		return ""
	}
	spec := syntax.StatementNamed("accept")
	s := "accept " + f.Rule + " on " + syntax.ReferItem(spec, f.Items[0])
	if len(f.Items) > 1 {
		s += " with " + syntax.ReferItem(spec, f.Items[1])
	}
	return s + ` because "` + syntax.AsksWhy("accept") + `"`
}

// Measures tells that a rule is run for how far the board goes towards a limit,
// and that pairs held by a distance have been asked for by Rule.Least.
func (p *Pass) Measures() bool { return p.measures }

// Resonances are cavities with their modes; ok is false while any is still to be
// worked out, and the rule is then run again.
func (p *Pass) Resonances(cavities []*figures.Cavity) (list []figures.Resonance, ok bool) {
	if p.modes == nil {
		p.modes = figures.NewStore(nil)
	}
	if !p.later {
		_ = p.modes.WorkOut(context.Background(), cavities) // which never ends first
	}
	list, waits := p.modes.Resonances(cavities)
	p.waits = append(p.waits, waits...)
	if len(waits) > 0 {
		return nil, false
	}
	p.resonances = append(p.resonances, list...)
	return list, true
}

// Expired tells whether an acceptance's last day is past.
func (p *Pass) Expired(a *board.Acceptance) bool {
	return p.Past(a.Until)
}

// Past tells whether a last day that is stated is past.
func (p *Pass) Past(until board.Name) bool {
	return p.Today != "" && until.Given() && until.Text < p.Today
}

// worked is what was worked out once for all rules of a pass, and what it read.
type worked struct {
	value any
	reads board.Reads
}

// Once keeps what work makes, under a key of a type of the caller's own, for all
// rules of a pass. What it read of the board counts as read by each rule that
// asks; so nothing of it may be read later, by a function that it gives back.
func Once[T any](p *Pass, key any, work func() T) T {
	w, ok := p.once[key]
	if !ok {
		before := p.reads
		p.reads = 0
		w = worked{work(), 0}
		w.reads, p.reads = p.reads, before
		p.once[key] = w
	}
	p.reads |= w.reads
	return w.value.(T)
}
