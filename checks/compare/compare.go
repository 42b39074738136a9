// Package compare says what differs between two versions of a board, in the board's own terms:
// items, figures, findings, notes and queries. How the texts write the same thing is of no account.
package compare

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"hemline/checks"
	"hemline/checks/asked"
	"hemline/checks/figures"
	"hemline/checks/report"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/queries"
	"hemline/lang/finding"
)

// Side is one of the two versions.
type Side struct {
	Name     string // as it was asked for
	Analysis *lang.Analysis
	Today    string // as in checks.Options
}

// What a change of an item is.
const (
	Added   = "added"
	Removed = "removed"
	Renamed = "renamed" // and what else of it changed
	Changed = "changed"
)

// Change is one item that is not the same in both.
type Change struct {
	Kind    string   `json:"kind"` // the statement's keyword
	Name    string   `json:"name"` // now; of one that is removed, as it was
	Was     string   `json:"was,omitempty"`
	What    string   `json:"what"`
	Details []Detail `json:"details"`
	// Line is that of its statement in the new text, from 1; of one that is removed, in the old.
	Line int `json:"line"`
}

// Detail is one thing of an item, or a figure, before and after; empty where it is not stated.
type Detail struct {
	What   string `json:"what"`
	Before string `json:"before"`
	After  string `json:"after"`
}

// Figure is one of the report's, of an item or of the board.
type Figure struct {
	Of string `json:"of"` // "board", or kind and name
	Detail
	// Share is by how much of itself it changed; absent where that cannot be said.
	Share *float64 `json:"share,omitempty"`
}

// Finding is one that is in one version alone.
type Finding struct {
	Rule     string   `json:"rule"`
	Category string   `json:"category"`
	Items    []string `json:"items"`
	Message  string   `json:"message"`
	File     string   `json:"file"`
	Line     int      `json:"line"`
}

// ChangedFinding is one that stands in both versions, with another measure.
type ChangedFinding struct {
	Finding
	Before string `json:"before"` // what was said
}

// Comparison is all that differs.
type Comparison struct {
	Old string `json:"old"`
	New string `json:"new"`

	Changes []Change `json:"changes"`
	Figures []Figure `json:"figures"`

	FindingsNew  []Finding `json:"findingsNew"`
	FindingsGone []Finding `json:"findingsGone"`
	// FindingsChanged are those that stand with another measure.
	FindingsChanged []ChangedFinding `json:"findingsChanged"`
	FindingsKept    int              `json:"findingsKept"`
	// Accepted are findings that are accepted in one version alone.
	AcceptedNew  []Finding `json:"acceptedNew"`
	AcceptedGone []Finding `json:"acceptedGone"`

	NotesNew  []string `json:"notesNew"`
	NotesGone []string `json:"notesGone"`
	Queries   []Detail `json:"queries"` // whose state or answer changed
	Asked     []Detail `json:"asked"`   // what the board asks for, and whether it is met
}

// Same tells whether nothing differs.
func (c *Comparison) Same() bool {
	return len(c.Changes)+len(c.Figures)+len(c.FindingsNew)+len(c.FindingsGone)+len(c.FindingsChanged)+len(c.AcceptedNew)+len(c.AcceptedGone)+
		len(c.NotesNew)+len(c.NotesGone)+len(c.Queries)+len(c.Asked) == 0
}

// looked is a version with all that is compared.
type looked struct {
	Side
	out     checks.Outcome
	report  *report.Report
	notes   []string
	queries []queries.Result
	items   []entry
}

func look(s Side) *looked {
	modes := figures.NewStore(nil)
	x := &looked{Side: s, out: rules.All().Check(s.Analysis, checks.Options{Today: s.Today, Modes: modes})}
	x.report = report.Of(s.Analysis, x.out, modes)
	x.notes = notes.Texts(notes.Make(s.Analysis.Board(), report.NoteFigures(s.Analysis, modes)))
	x.queries = queries.AskWith(s.Analysis.Board(), modes)
	x.items = entries(s.Analysis)
	return x
}

// Of compares two versions of a board.
func Of(was, is Side) *Comparison {
	a, b := look(was), look(is)
	c := &Comparison{Old: was.Name, New: is.Name}
	pairs := pair(a.items, b.items)
	names := map[string]string{} // of renamed items, kind and name before and now
	for _, p := range pairs {
		if p.renamed() {
			names[p.was.kind+" "+p.was.name] = p.is.kind + " " + p.is.name
		}
	}
	now := renaming(names)
	for i, e := range a.items { // what speaks of a renamed item speaks of the same
		for j, f := range e.facts {
			a.items[i].facts[j].shown, a.items[i].facts[j].key = now(f.shown), now(f.key)
		}
	}
	c.Changes = changes(pairs)
	c.Figures = figuresOf(a.report, b.report, names)
	c.FindingsNew, c.FindingsGone, c.FindingsChanged, c.FindingsKept = findings(a.out.Findings, b.out.Findings, now)
	c.AcceptedNew, c.AcceptedGone, _, _ = findings(agreed(a.out.Accepted), agreed(b.out.Accepted), now)
	c.NotesGone, c.NotesNew = lines(a.notes, b.notes, now)
	c.Queries = queriesOf(a.queries, b.queries, now)
	c.Asked = askedOf(a.out.Asked, b.out.Asked)
	return c
}

func agreed(list []checks.Accepted) (found []finding.Located) {
	for _, x := range list {
		found = append(found, x.Located)
	}
	return found
}

// findings are told apart by rule, items and sentence; one on the same items with another sentence
// stands as before, but for its measure.
func findings(was, is []finding.Located, now func(string) string) (fresh, gone []Finding, changed []ChangedFinding, kept int) {
	items := func(f finding.Located, as func(string) string) string {
		k := f.Rule
		for _, n := range f.Items {
			k += "\x00" + as(n)
		}
		return k
	}
	itself := func(s string) string { return s }
	before := map[string][]finding.Located{}
	for _, f := range was {
		k := items(f, now)
		before[k] = append(before[k], f)
	}
	take := func(k string, like func(finding.Located) bool) (f finding.Located, ok bool) {
		i := slices.IndexFunc(before[k], like)
		if i < 0 {
			return f, false
		}
		f = before[k][i]
		before[k] = slices.Delete(before[k], i, i+1)
		return f, true
	}
	var left []finding.Located
	for _, f := range is {
		said := placeless(f.Message)
		if _, ok := take(items(f, itself), func(x finding.Located) bool { return placeless(now(x.Message)) == said || placeless(x.Message) == said }); ok {
			kept++
			continue
		}
		left = append(left, f)
	}
	for _, f := range left {
		if x, ok := take(items(f, itself), func(finding.Located) bool { return true }); ok && len(f.Items) > 0 {
			changed = append(changed, ChangedFinding{told(f), x.Message})
			continue
		}
		fresh = append(fresh, told(f))
	}
	for _, f := range was {
		if _, ok := take(items(f, now), func(x finding.Located) bool { return x.Span == f.Span && x.File == f.File && x.Message == f.Message }); ok {
			gone = append(gone, told(f))
		}
	}
	return fresh, gone, changed, kept
}

// placeless is a message without the file and line of the limit it speaks of: those move.
func placeless(message string) string {
	i := strings.LastIndex(message, ", ")
	if j := strings.LastIndexByte(message, ')'); i > 0 && j == len(message)-1 && strings.Contains(message[i:], ".hem:") {
		return message[:i] + ")"
	}
	return message
}

func told(f finding.Located) Finding {
	return Finding{f.Rule, f.Category.String(), append([]string{}, f.Items...), f.Message, f.File.Path(), f.File.LineOf(f.Span.Start) + 1}
}

// lines are those that only one of two lists has, each as often as it has it oftener. One that
// differs in the names of renamed items alone is the same.
func lines(was, is []string, now func(string) string) (gone, fresh []string) {
	n := map[string]int{}
	for _, s := range is {
		n[s]++
	}
	for _, s := range was {
		switch renamed := now(s); {
		case n[s] > 0:
			n[s]--
		case n[renamed] > 0:
			n[renamed]--
		default:
			gone = append(gone, s)
		}
	}
	for _, s := range slices.Backward(is) {
		if n[s] > 0 {
			n[s]--
			fresh = append(fresh, s)
		}
	}
	slices.Reverse(fresh)
	return gone, fresh
}

// renaming puts the names that items have now in the place of those that they had.
func renaming(names map[string]string) func(string) string {
	if len(names) == 0 {
		return func(s string) string { return s }
	}
	now := map[string]string{}
	var words []string
	for k, v := range names {
		_, old, _ := strings.Cut(k, " ")
		_, now[old], _ = strings.Cut(v, " ")
		words = append(words, regexp.QuoteMeta(old))
	}
	slices.SortFunc(words, func(x, y string) int { return cmp.Or(cmp.Compare(len(y), len(x)), cmp.Compare(x, y)) })
	whole := regexp.MustCompile(`(^|[^\pL\pN_.])(` + strings.Join(words, "|") + `)([^\pL\pN_]|$)`)
	return func(s string) string {
		for range 2 { // one that ends where the next begins
			s = whole.ReplaceAllStringFunc(s, func(m string) string {
				p := whole.FindStringSubmatch(m)
				return p[1] + now[p[2]] + p[3]
			})
		}
		return s
	}
}

func queriesOf(was, is []queries.Result, now func(string) string) (list []Detail) {
	return differing(was, is, func(r queries.Result) string { return r.Name }, stateOf, now)
}

// stateOf is how a text stands to a question, and what it answers.
func stateOf(r queries.Result) string {
	switch {
	case r.State == queries.Left:
		return string(r.State) + ": " + r.Reasons()
	case r.Texts() == "":
		return string(r.State)
	}
	return string(r.State) + ": " + r.Texts()
}

func askedOf(was, is []asked.Answer) []Detail {
	state := func(a asked.Answer) string { return a.Says + ": " + a.Verdict.String() }
	return differing(was, is, func(a asked.Answer) string { return a.Clause }, state, func(s string) string { return s })
}

// differing are the things of two lists, by their names, that are not told alike, whatever
// renamed items are called.
func differing[T any](was, is []T, name, state func(T) string, now func(string) string) (list []Detail) {
	before := map[string]string{}
	for _, x := range was {
		before[name(x)] = state(x)
	}
	for _, x := range is {
		if old, told := before[name(x)], state(x); told != old && told != now(old) {
			list = append(list, Detail{name(x), old, told})
		}
		delete(before, name(x))
	}
	for _, x := range was {
		if s, gone := before[name(x)]; gone {
			list = append(list, Detail{name(x), s, ""})
		}
	}
	return list
}
