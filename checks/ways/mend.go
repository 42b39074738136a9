package ways

import (
	"context"
	"slices"
	"strings"

	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// mostRounds bounds how often fixes may bring about further ones.
const mostRounds = 20

// Mended is a text with the fixes of its findings made.
type Mended struct {
	Analysis *lang.Analysis // of the text as it is now; the one that was given where nothing is changed
	Edits    []source.Edit  // of the text as it was given, which all that was made comes to
	Made     []Made         // in the order in which they were made
	Left     []finding.Located

	by *mender
}

// Refused is a fix that was not made, in the text as it is in the end, and why.
type Refused struct {
	finding.Located
	Why string
}

// Made is a fix that was made, and where its finding stood at the time.
type Made struct {
	finding.Located
	edits []source.Edit
}

// Mend makes the fixes of a text that are surely right, those of the root text that which
// picks; nil for all. They are made rule by rule in the order of the catalogue, each time in the
// text as it is by then, so that one which goes by what another changes fits to that. A fix is kept where its
// finding is gone and nothing else has come but what further fixes end.
func (t *Text) Mend(ctx context.Context, which func(*finding.Located) bool) Mended {
	m := &mender{Text: t, ctx: ctx, which: which}
	if m.run(); len(more(m.now.number, t.before)) > 0 {
		m = &mender{Text: t, ctx: ctx, which: which, strict: true} // what came could not all be ended
		m.run()
	}
	return Mended{Analysis: m.now.a, Edits: m.edits, Made: m.made, Left: m.now.found, by: m}
}

// more are the keys of the findings that are there oftener than before.
func more(number, before map[string]int) (keys []string) {
	for k, n := range number {
		if n > before[k] {
			keys = append(keys, k)
		}
	}
	return keys
}

// mender makes fixes one rule after another.
type mender struct {
	*Text
	ctx    context.Context
	which  func(*finding.Located) bool
	strict bool // nothing may come, not even for a moment
	now    outcome
	made   []Made
	edits  []source.Edit // of the text as it was given, so far
}

func (m *mender) run() {
	m.now = outcome{m.a, m.found, m.before, m.Text.rules}
	for range mostRounds {
		before := len(m.made)
		for _, rule := range m.due() {
			m.rule(rule)
		}
		if len(m.made) == before || m.ctx.Err() != nil {
			return
		}
	}
}

// due are the rules that have fixes to make: the text's own first, then in the order of the catalogue.
func (m *mender) due() (list []string) {
	for i := range m.now.found {
		if f := &m.now.found[i]; m.sure(f) && m.catalogue.Named(f.Rule) == nil && !slices.Contains(list, f.Rule) {
			list = append(list, f.Rule)
		}
	}
	for _, r := range m.catalogue {
		if slices.ContainsFunc(m.now.found, func(f finding.Located) bool { return f.Rule == r.Name && m.sure(&f) }) {
			list = append(list, r.Name)
		}
	}
	return list
}

func (m *mender) sure(f *finding.Located) bool {
	return f.Fix != nil && !f.Fix.Guess && (m.which == nil || m.which(f))
}

// rule makes the fixes of a rule: all that lie apart at once, and where that is more than is
// right, one by one.
func (m *mender) rule(rule string) {
	var all []Made
	var edits []source.Edit
	doubts := doubtsOf(m.now.a, m.now.found)
	for i := range m.now.found {
		f := &m.now.found[i]
		if f.Rule != rule || !m.sure(f) {
			continue
		}
		if its, ok := f.Fix.In(m.now.a.Root(), m.now.a.Locate); ok && source.Apart(its) && source.Clear(its, edits) && !doubtful(doubts, its) {
			edits, all = append(edits, its...), append(all, Made{*f, its})
		}
	}
	if len(all) == 0 || m.make(all, edits) || len(all) == 1 {
		return
	}
	for _, one := range slices.Backward(all) { // the last first: those before it stay where they are
		if m.ctx.Err() != nil {
			return
		}
		m.make([]Made{one}, one.edits)
	}
}

// make makes some fixes of the text as it is, if that is right.
func (m *mender) make(some []Made, edits []source.Edit) bool {
	after := m.check(m.now.a, edits, m.o.Check)
	for _, k := range more(after.number, m.now.number) {
		if m.strict || !slices.ContainsFunc(after.found, func(f finding.Located) bool { return m.key(&f.Finding) == k && m.sure(&f) }) {
			return false
		}
	}
	gone := map[string]int{}
	for i := range some {
		gone[m.key(&some[i].Finding)]++
	}
	for k, n := range gone {
		if after.number[k] > m.now.number[k]-n {
			return false
		}
	}
	if all, ok := source.Then(m.edits, edits); ok {
		m.edits = all
	} else {
		m.edits = []source.Edit{source.Difference(m.root.Text(), after.a.Root().Text())}
	}
	m.now, m.made = after, append(m.made, some...)
	return true
}

// Refused are the sure fixes that were not made and why, each tried once more: what would have brought
// something else, or goes by what is likely a slip.
func (m Mended) Refused() (list []Refused) {
	text := m.Analysis
	doubts := doubtsOf(text, m.Left)
	for i := range m.Left {
		f := &m.Left[i]
		edits, ok := f.Fix.In(text.Root(), text.Locate)
		if !ok || !m.by.sure(f) || m.by.ctx.Err() != nil {
			continue
		}
		if doubtful(doubts, edits) {
			list = append(list, Refused{*f, meantOtherwise})
			continue
		}
		var brings []string
		for _, k := range more(m.by.check(text, edits, m.by.o.Check).number, m.by.now.number) {
			if rule, _, _ := strings.Cut(k, " "); !slices.Contains(brings, rule) {
				brings = append(brings, rule)
			}
		}
		slices.Sort(brings)
		why := "it would not end the finding"
		if len(brings) > 0 {
			why = "it would bring " + strings.Join(brings, ", ")
		}
		list = append(list, Refused{*f, why})
	}
	return list
}

// meantOtherwise is why what a value would do is not made of it.
const meantOtherwise = "another value is likely meant there"
