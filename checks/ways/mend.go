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
	Refused  []Refused      // what would have brought something else, or goes by what is likely a slip
	Left     []finding.Located
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
	m := mender{Text: t, ctx: ctx, which: which}
	if m.run(); t.more(m.now.number) {
		m = mender{Text: t, ctx: ctx, which: which, strict: true} // what came could not all be ended
		m.run()
	}
	return Mended{Analysis: m.now.a, Edits: m.edits, Made: m.made, Refused: m.refused(), Left: m.now.found}
}

// more tells whether any finding is there oftener than in the text as it was given.
func (t *Text) more(number map[string]int) bool {
	for k, n := range number {
		if n > t.before[k] {
			return true
		}
	}
	return false
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
	m.now = outcome{m.a, m.found, m.before}
	for range mostRounds {
		before := len(m.made)
		for _, rule := range m.rules() {
			m.rule(rule)
		}
		if len(m.made) == before || m.ctx.Err() != nil {
			return
		}
	}
}

// rules are those that have fixes to make: the text's own first, then in the order of the catalogue.
func (m *mender) rules() (list []string) {
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
	text := m.text()
	for i := range m.now.found {
		f := &m.now.found[i]
		if f.Rule != rule || !m.sure(f) {
			continue
		}
		if its, ok := text.fixOf(f); ok && source.Apart(its) && source.Clear(its, edits) && !slices.ContainsFunc(its, func(e source.Edit) bool { return text.doubtful(e.Span) }) {
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
	a := lang.Analyze(m.now.a.Root().Make(edits), m.o.Read, m.now.a)
	found := m.catalogue.Check(a, m.o.Check).Findings
	after := outcome{a, found, m.counted(found)}
	for k, n := range after.number {
		if n > m.now.number[k] && (m.strict || !slices.ContainsFunc(found, func(f finding.Located) bool { return m.key(&f.Finding) == k && m.sure(&f) })) {
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
		m.edits = []source.Edit{source.Difference(m.root.Text(), a.Root().Text())}
	}
	m.now, m.made = after, append(m.made, some...)
	return true
}

// text is the text as it is by now.
func (m *mender) text() *Text {
	return &Text{a: m.now.a, root: m.now.a.Root(), found: m.now.found}
}

// refused are the sure fixes that are left, and why each is.
func (m *mender) refused() (list []Refused) {
	text := m.text()
	for i := range m.now.found {
		f := &m.now.found[i]
		edits, ok := text.fixOf(f)
		if !ok || !m.sure(f) || m.ctx.Err() != nil {
			continue
		}
		if slices.ContainsFunc(edits, func(e source.Edit) bool { return text.doubtful(e.Span) }) {
			list = append(list, Refused{*f, "another value is likely meant there"})
			continue
		}
		found := m.catalogue.Check(lang.Analyze(text.root.Make(edits), m.o.Read, m.now.a), m.o.Check).Findings
		var brings []string
		for k, n := range m.counted(found) {
			if rule, _, _ := strings.Cut(k, " "); n > m.now.number[k] && !slices.Contains(brings, rule) {
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
