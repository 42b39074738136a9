// Package ways looks for ways out of a finding: changes of a text of one value,
// word, clause or statement after which it is gone. Each is tried under all rules
// before it is given, and says what it would bring instead.
package ways

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Way is a change of the root text after which a finding is gone.
type Way struct {
	Title string // what it does: "reach 0.80 mm instead of 0.90 mm, of relief lid"
	Edits []source.Edit
	// Brings names the rules of the findings that the change would bring or make worse, once
	// each; empty where there are none.
	Brings []string
	// Shows tells that the text could not be read in full before: what it brings was there, unseen.
	Shows bool
	own   bool // the finding's own fix
	// cost orders ways that bring alike: how much they change.
	cost float64
}

// Says is the title with what the change would bring.
func (w Way) Says() string {
	switch {
	case len(w.Brings) == 0:
		return w.Title
	case w.Shows:
		return w.Title + ", which shows " + strings.Join(w.Brings, ", ")
	}
	return w.Title + ", which brings or worsens " + strings.Join(w.Brings, ", ")
}

// Answer is what there is to say of the ways out of a finding.
type Answer struct {
	// Fix is the finding's own fix, tried, with what it brings, whatever that weighs; nil where it
	// has none, or where that does not end it.
	Fix *Way
	// Ways are further ones, those first that bring nothing and change least.
	Ways []Way
	// Why says, where there is neither, why none is sure.
	Why string
}

// Options say how ways are looked for.
type Options struct {
	Check checks.Options // with which the findings came; Only and Session are of no account
	Read  lang.Reader    // of the files that the text uses; may be nil
	// Near lists the files beside the text, by their paths from its folder, one of which may be
	// meant by one that is not there; may be nil.
	Near func(path string) []string
	Most int // how many ways are given; 0 for 4
	most int // how many changed texts are looked at, and no pairs of changes; 0 for mostTrials, and pairs
}

// mostTrials is how many changed texts are looked at for one finding.
const mostTrials = 400

func (o *Options) trials() int { return cmp.Or(o.most, mostTrials) }

// Text is an analysed text and what is found in it, which changes of it are held against.
// Several goroutines may use one.
type Text struct {
	a         *lang.Analysis
	root      *source.File
	catalogue checks.Catalogue
	o         Options
	found     []finding.Located // in the text
	before    map[string]int    // how many there are, by key
	worst     map[string]float64
	names     map[string]bool // of the board's items
	rules     map[string]int  // how many findings there are of each rule
	doubts    []source.Span   // of which something else is likely meant
	limits    *checks.Limits  // that the board is held to
}

// Of checks a text once, for the ways out of all its findings.
func Of(a *lang.Analysis, c checks.Catalogue, o Options) *Text {
	// What hangs on modes is not looked at here; nor is what it brings.
	o.Check.Session, o.Check.Only, o.Check.Later = nil, nil, true
	if o.Most == 0 {
		o.Most = 4
	}
	return text(a, c, o, c.Check(a, o.Check).Findings)
}

func text(a *lang.Analysis, c checks.Catalogue, o Options, found []finding.Located) *Text {
	t := &Text{a: a, root: a.Root(), catalogue: c, o: o, found: found, names: map[string]bool{}, rules: byRule(found), limits: o.Check.Limits}
	if t.limits == nil {
		t.limits = checks.LimitsFor(a)
	}
	for _, k := range board.Kinds() {
		for _, i := range k.Items(a.Board()) {
			t.names[i.Name.Text] = true
		}
	}
	t.before, t.worst, t.doubts = t.counted(found), t.worstOf(found), doubtsOf(a, found)
	return t
}

// seeker looks for ways out of one finding of the text.
func (t *Text) seeker(ctx context.Context, f finding.Located) *seeker {
	s := &seeker{Text: t, ctx: ctx, f: f, key: t.key(&f.Finding), about: subject(&f.Finding), texts: map[string]bool{}}
	s.alike, _ = s.like(t.found)
	return s
}

// Out gives the ways out of a finding of the text. It takes a millisecond or so for
// each change that is tried, and ends early with ctx: what it has by then it gives.
func (t *Text) Out(ctx context.Context, f finding.Located) Answer {
	s := t.seeker(ctx, f)
	if t.before[s.key] == 0 {
		return Answer{}
	}
	switch r := t.catalogue.Named(f.Rule); {
	case r == nil:
		s.only = []*checks.Rule{} // the text's own
	case !r.AllRun:
		s.only = []*checks.Rule{r}
	}
	own := s.fixed()
	s.language()
	s.hold()
	for _, x := range s.statements() {
		if !s.enter(x) || x.Word() == "fabricator" || x.Word() == "hem" || x.Word() == "use" || x.Word() == "part" {
			continue // what a shop can build is its own word, and a part is as it is
		}
		s.values()
		if f.Category == finding.Language {
			continue // what is meant is no matter of what would do
		}
		s.words()
		s.clauses()
		s.further()
		s.leaveOut()
	}
	if s.o.most == 0 && own == nil && !slices.ContainsFunc(s.list, func(w Way) bool { return len(w.Brings) == 0 }) {
		s.pairs()
	}
	slices.SortStableFunc(s.list, func(x, y Way) int {
		return cmp.Or(cmp.Compare(len(x.Brings), len(y.Brings)), cmp.Compare(x.cost, y.cost))
	})
	// What brings something, or leaves an item out, is told where little else is.
	few := slices.IndexFunc(s.list, func(w Way) bool { return len(w.Brings) > 0 || w.cost >= costRemove })
	if few >= 2 {
		s.list = s.list[:few]
	}
	answer := Answer{Fix: own, Ways: s.list[:min(len(s.list), t.o.Most)]}
	if len(s.list) == 0 && own == nil {
		answer.Why = s.why()
	}
	return answer
}

// Try is a change that somebody else proposes for a finding, tried under all rules, with what it
// brings; ok is false where the finding is still there.
func (t *Text) Try(ctx context.Context, f finding.Located, title string, edits []source.Edit) (w Way, ok bool) {
	return t.seeker(ctx, f).tried(Way{Title: title, Edits: edits, own: true})
}

// fixed is the finding's own edit, tried; it is no further way.
func (s *seeker) fixed() *Way {
	edits, ok := s.f.Fix.In(s.root, s.a.Locate)
	if !ok || !s.f.Fix.Guess && doubtful(s.doubts, edits) {
		return nil
	}
	w, ok := s.tried(Way{Title: s.f.Fix.Title, Edits: edits, own: true})
	s.texts[spaced(s.root.Make(edits).Text())] = true
	if !ok {
		return nil
	}
	return &w
}

// spaced is a text with one space wherever it has any: what differs in nothing else is the same.
func spaced(text string) string { return strings.Join(strings.Fields(text), " ") }

// seeker looks for the ways out of one finding.
type seeker struct {
	*Text
	ctx    context.Context
	only   []*checks.Rule // the finding's; nil for all
	f      finding.Located
	key    string // of the finding
	about  string // what it speaks of
	alike  int    // how many of the text speak of that, on its items
	trials int
	texts  map[string]bool // that have been offered
	list   []Way
	part   []partly // changes after which the finding is gone, and others are there

	statement *syntax.Statement // whose parts are changed
	reading   *syntax.Reading
	span      source.Span
}

// enter makes a statement the one whose parts are changed; ok is false where it cannot be read.
func (s *seeker) enter(x *syntax.Statement) (ok bool) {
	if s.statement = x; x == nil {
		return false
	}
	s.reading = syntax.Read(x)
	s.span, _ = s.a.Document().Locate(x.Whole())
	return s.reading != nil
}

// statements are those that the finding is about: where it stands, where what it is
// related to does, and those that give the names of its items; in the root text.
func (s *seeker) statements() (list []*syntax.Statement) {
	add := func(x *syntax.Statement, ok bool) {
		if ok && x != nil && !slices.Contains(list, x) {
			list = append(list, x)
		}
	}
	d := s.a.Document()
	if s.f.File == s.root {
		x, ok := d.Holding(s.f.Place)
		if !ok {
			x, _ = d.At(s.f.Span.Start)
			ok = x != nil
		}
		add(x, ok)
	}
	for _, r := range s.f.Related {
		add(d.Holding(r.Place))
	}
	for _, x := range d.Statements() {
		if _, name, ok := x.NamePlace(); ok && slices.ContainsFunc(s.f.Items, func(item string) bool { return board.StandsFor(name, item) }) {
			add(x, true)
		}
	}
	for i := 0; i < len(list); i++ { // and what they are like, in this text
		if t := s.typical(list[i]); t != nil {
			_, here := d.Locate(t.Whole())
			add(t, here)
		}
	}
	// What a value reads may be what is wrong; not what the outline reads, by which all goes.
	var ofOutline []string
	for _, x := range d.Statements() {
		if x.Word() == "outline" {
			ofOutline = append(ofOutline, syntax.Read(x).Names()...)
		}
	}
	for _, x := range slices.Clone(list) {
		r := syntax.Read(x)
		if r == nil {
			continue
		}
		read := r.Names()
		for _, l := range d.Statements() {
			if _, name, ok := l.NamePlace(); ok && l.Word() == "let" && slices.Contains(read, name) && !slices.Contains(ofOutline, name) {
				add(l, true)
			}
		}
	}
	return list
}

// typical is the statement, of whatever file, that another is like, or nil.
func (s *seeker) typical(x *syntax.Statement) *syntax.Statement {
	if x == nil || x.Following() == "" {
		return nil
	}
	for _, d := range s.a.Documents() {
		for _, t := range d.Statements() {
			if _, name, ok := t.NamePlace(); ok && name == x.Following() {
				return t
			}
		}
	}
	return nil
}

// gone tells whether the finding is, in a text with edits made.
func (s *seeker) gone(edits []source.Edit) bool {
	if s.trials++; s.trials > s.o.trials() || s.ctx.Err() != nil {
		return false
	}
	o := s.o.Check
	o.Only = s.only
	after := s.check(s.a, edits, o)
	return s.reads(after) && s.ends(after)
}

// change is one edit.
func change(at source.Span, text string) []source.Edit { return []source.Edit{{Span: at, Text: text}} }

// doubtsOf are the places of which findings say that something else is likely meant: until that is
// settled nothing else is made of them.
func doubtsOf(a *lang.Analysis, found []finding.Located) (list []source.Span) {
	for _, f := range found {
		if f.Fix == nil || !f.Fix.Guess {
			continue
		}
		edits, _ := f.Fix.In(a.Root(), a.Locate)
		for _, e := range edits {
			list = append(list, e.Span)
		}
	}
	return list
}

// doubtful tells whether edits change what is in doubt.
func doubtful(doubts []source.Span, edits []source.Edit) bool {
	return slices.ContainsFunc(doubts, func(at source.Span) bool {
		return slices.ContainsFunc(edits, func(e source.Edit) bool { return at.Start < e.Span.End && e.Span.Start < at.End })
	})
}

// ends tells whether the finding is not among those of a changed text. Of several on the same items
// it is this one that is to go.
func (s *seeker) ends(after outcome) bool {
	language := s.f.Category == finding.Language
	if language && after.rules[s.f.Rule] >= s.rules[s.f.Rule] {
		return false // it is told in other words
	}
	if after.number[s.key] >= s.before[s.key] {
		return false
	}
	left, same := s.like(after.found)
	return left < s.alike && (s.alike == 1 || !same || language)
}

// like counts the findings on this one's items that speak of the same; same tells whether one of
// them says just what it does.
func (s *seeker) like(list []finding.Located) (n int, same bool) {
	for i := range list {
		if f := &list[i].Finding; f.Rule == s.f.Rule && s.Text.key(f) == s.key && subject(f) == s.about {
			n++
			same = same || f.Message == s.f.Message
		}
	}
	return n, same
}

// byRule counts findings by their rules.
func byRule(list []finding.Located) map[string]int {
	n := map[string]int{}
	for i := range list {
		n[list[i].Rule]++
	}
	return n
}

// outcome is what is found in a changed text, and how many by key and by rule.
type outcome struct {
	a      *lang.Analysis
	found  []finding.Located
	number map[string]int
	rules  map[string]int
}

// check finds what there is once edits are made of an analysed text, the text itself or one that came
// of it.
func (t *Text) check(a *lang.Analysis, edits []source.Edit, o checks.Options) (after outcome) {
	after.a = lang.Analyze(a.Root().Make(edits), t.o.Read, a)
	after.found = t.catalogue.Check(after.a, o).Findings
	after.number, after.rules = t.counted(after.found), byRule(after.found)
	return after
}

// onMore tells whether a finding of a changed text is on the text itself, and one more of its
// rule than there were: as many may be said in other words.
func (s *seeker) onMore(f *finding.Located, after outcome) bool {
	return f.Category == finding.Language && after.rules[f.Rule] > s.rules[f.Rule]
}

// reads tells whether nothing of a changed text's language is wrong that was not: but for what
// is only seen once a statement can be read at all.
func (s *seeker) reads(after outcome) bool {
	return s.f.Rule == syntax.RuleSyntax || !slices.ContainsFunc(after.found, func(f finding.Located) bool { return s.onMore(&f, after) })
}

// offer keeps a way if it holds under all rules.
func (s *seeker) offer(w Way) bool {
	w, ok := s.tried(w)
	if ok {
		s.keep(w)
	}
	return ok
}

// try keeps a change if the finding is gone with it.
func (s *seeker) try(title string, at source.Span, text string, cost float64) bool {
	e := change(at, text)
	return s.gone(e) && s.offer(Way{Title: title, Edits: e, cost: cost})
}

func (s *seeker) keep(w Way) {
	s.texts[spaced(s.root.Make(w.Edits).Text())] = true
	w.cost += s.far()
	s.list = append(s.list, w)
}

// tried is a way with what it brings under all rules; ok is false for one after which the
// finding is still there, which brings what weighs as much (what is merely costly may come), or
// which is known.
func (s *seeker) tried(w Way) (_ Way, ok bool) {
	if s.texts[spaced(s.root.Make(w.Edits).Text())] {
		return w, false
	}
	after := s.check(s.a, w.Edits, s.o.Check)
	if !s.reads(after) || !s.ends(after) || !w.own && s.f.Category != finding.Language && !kept(s.a.Board(), after.a.Board()) {
		return w, false
	}
	brings := s.brought(after)
	if len(brings) > 0 {
		s.part = append(s.part, partly{w, after, brings})
	}
	for i := range brings {
		if x := s.catalogue.Named(brings[i].Rule); !w.own && x != nil && x.Category >= s.f.Category && x.Category > finding.Costly {
			return w, false
		}
		if !slices.Contains(w.Brings, brings[i].Rule) {
			w.Brings = append(w.Brings, brings[i].Rule)
		}
	}
	if len(w.Brings) > 0 && w.cost >= costRemove {
		return w, false // what is left out for another finding is no way
	}
	slices.Sort(w.Brings)
	w.Shows = s.f.Category == finding.Language
	return w, true
}

// brought are the findings of a changed text that were not there, or that are worse: one
// for each key.
func (s *seeker) brought(after outcome) (list []finding.Located) {
	more := map[string]bool{}
	for k, n := range after.number {
		more[k] = n > s.before[k]
	}
	for k, v := range s.worstOf(after.found) { // one that stands, and by more
		if before, known := s.worst[k]; known && v < before-1e-9 {
			k, _, _ = strings.Cut(k, unitMark)
			more[k] = true
		}
	}
	for _, f := range after.found {
		if k := s.Text.key(&f.Finding); more[k] && (f.Category != finding.Language || s.onMore(&f, after)) {
			list, more[k] = append(list, f), false
		}
	}
	return list
}

// far is what a change of the statement costs beside its own: what a let or the outline
// says others go by.
func (s *seeker) far() float64 {
	if s.statement == nil {
		return 0 // of the text's form
	}
	switch s.statement.Word() {
	case "let", "typical":
		return costRemove / 2
	case "outline", "stack":
		return costRemove
	}
	return 0
}

// of names the statement that is changed.
func (s *seeker) of() string { return ", of " + s.what() }

func (s *seeker) what() string {
	word := s.statement.Word()
	if _, name, ok := s.statement.NamePlace(); ok {
		return word + " " + syntax.Quote(name)
	}
	if on := s.reading.Get("on"); word == "plane" && on != nil && len(on.Values) > 0 {
		return "the plane on " + on.Values[0].Source()
	}
	return word
}
