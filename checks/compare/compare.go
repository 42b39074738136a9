// Package compare says what differs between two versions of a board, in the board's own terms:
// items, figures, findings, notes and queries. How the texts write the same thing is of no account.
package compare

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"hemline/checks"
	"hemline/checks/asked"
	"hemline/checks/figures"
	"hemline/checks/report"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/board"
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
	x := &looked{Side: s, out: rules.All().Check(s.Analysis, checks.Options{Today: s.Today, Modes: modes}), report: report.New(s.Analysis, s.Today, modes)}
	x.notes = notes.Texts(notes.Make(s.Analysis.Board(), report.NoteFigures(s.Analysis, modes)))
	x.queries = queries.AskWith(s.Analysis.Board(), modes)
	x.items = entries(s.Analysis)
	return x
}

// Of compares two versions of a board.
func Of(was, is Side) *Comparison {
	a, b := look(was), look(is)
	c := &Comparison{Old: was.Name, New: is.Name}
	c.Changes = changes(a.items, b.items)
	names := map[string]string{} // of renamed items, kind and name before and now
	for _, x := range c.Changes {
		if x.What == Renamed {
			names[x.Kind+" "+x.Was] = x.Kind + " " + x.Name
		}
	}
	now := renaming(names)
	for i, e := range a.items { // what speaks of a renamed item speaks of the same
		for j, f := range e.facts {
			a.items[i].facts[j].shown, a.items[i].facts[j].key = now(f.shown), now(f.key)
		}
	}
	c.Changes = changes(a.items, b.items)
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

// leastShare is by how much of itself a figure must change to be told: what is less is rounding.
const leastShare = 1e-6

func figuresOf(was, is *report.Report, names map[string]string) (list []Figure) {
	type key struct{ of, name string }
	before := map[key]report.Figure{}
	each := func(r *report.Report, visit func(key, report.Figure)) {
		for _, f := range r.Board.Figures {
			visit(key{"board", f.Name}, f)
		}
		for _, i := range r.Items {
			for _, f := range i.Figures {
				visit(key{i.Kind + " " + i.Name, f.Name}, f)
			}
		}
	}
	each(was, func(k key, f report.Figure) {
		if now := names[k.of]; now != "" {
			k.of = now
		}
		before[k] = f
	})
	each(is, func(k key, f report.Figure) {
		old, there := before[k]
		delete(before, k)
		if !there && k.of != "board" {
			return // of an item that is new, which says so
		}
		d := Figure{Of: k.of, Detail: Detail{k.name, figureText(old), figureText(f)}}
		if old.Value != nil && f.Value != nil {
			if math.Abs(*f.Value-*old.Value) <= leastShare*math.Max(math.Abs(*f.Value), math.Abs(*old.Value)) {
				return
			}
			if *old.Value != 0 {
				share := (*f.Value - *old.Value) / math.Abs(*old.Value)
				d.Share = &share
			}
		}
		if d.Before != d.After {
			list = append(list, d)
		}
	})
	return list
}

// figureText is a figure's value with its unit, "" for none.
func figureText(f report.Figure) string {
	if f.Value == nil {
		return ""
	}
	text := fmt.Sprintf("%.4g %s", *f.Value, f.Unit)
	if f.Bound != "" {
		text = f.Bound + " " + text
	}
	return strings.TrimSpace(text)
}

// entry is one item with its facts.
type entry struct {
	kind, name string
	line       int
	facts      []fact
	unnamed    bool // its name is made up: its number among its kind
}

// entries are the items of a board, but for what only other statements read, and the profiles.
func entries(a *lang.Analysis) (list []entry) {
	b := a.Board()
	for _, p := range b.Profiles() {
		e := entry{kind: "outline", name: "outline", facts: []fact{{"shape", loopText(p.Path), loopKey(p.Path), true}}}
		if p.Cutout {
			e.kind, e.name = "cutout", p.Name
		}
		if file, at, ok := a.Locate(p.At); ok {
			e.line = file.LineOf(at.Start) + 1
		}
		list = append(list, e)
	}
	for _, g := range b.Gaps() {
		list = append(list, gapEntry(a, g))
	}
	for _, k := range board.Kinds() {
		if slices.Contains(unread, k.Word) {
			continue
		}
		for i, x := range k.All(b) {
			item, ok := x.(interface{ Base() *board.Item })
			if !ok {
				continue
			}
			base := item.Base()
			e := entry{kind: k.Word, name: base.Name.Text, facts: factsOf(x)}
			if e.name == "" {
				e.name, e.unnamed = fmt.Sprint(i+1), true
				if k.Once {
					e.name = k.Word
				}
			}
			if file, at, ok := a.Locate(base.Whole); ok {
				e.line = file.LineOf(at.Start) + 1
			}
			list = append(list, e)
		}
	}
	return list
}

// gapEntry is a gap, stated or opened by what stands in it: where the plating stops is the same.
func gapEntry(a *lang.Analysis, g *board.Gap) entry {
	e := entry{kind: "gap", name: g.Name.Text, unnamed: true}
	switch {
	case g.Tab != nil:
		e.name = "of tab " + g.Tab.Name.Text
	case g.Connector != nil:
		e.name = "of connector " + g.Connector.Name.Text
	}
	e.facts = []fact{{"of", g.Of.Text, g.Of.Text, false}, {"on", g.Edge.Name, g.Edge.Name, true},
		{"from", lengthText(g.From), lengthKey(g.From), true}, {"to", lengthText(g.To), lengthKey(g.To), true}}
	if g.Bridged {
		e.facts = append(e.facts, fact{"bridged", "yes", "yes", false})
	}
	if file, at, ok := a.Locate(g.Whole); ok {
		e.line = file.LineOf(at.Start) + 1
	}
	return e
}

// unread are kinds that say nothing of the board themselves: what reads them does; outline and cutouts
// are compared as profiles, acceptances by what they accept.
var unread = []string{"let", "typical", "use", "hem", "outline", "cutout", "accept", "gap"}

// changes pairs items by kind and name; those that are left, where all or most of them is
// the same.
func changes(was, is []entry) (list []Change) {
	old, now := rest(was, is)
	for _, pair := range shared(was, is) {
		if d := details(pair[0].facts, pair[1].facts); len(d) > 0 {
			list = append(list, Change{Kind: pair[1].kind, Name: pair[1].name, What: Changed, Details: d, Line: pair[1].line})
		}
	}
	old, now, list = identical(old, now, list)
	for len(old) > 0 && len(now) > 0 && len(old)*len(now) <= mostPairs {
		i, j, alike := best(old, now)
		if alike < leastAlike {
			break
		}
		c := Change{Kind: now[j].kind, Name: now[j].name, Was: old[i].name, What: Renamed, Details: details(old[i].facts, now[j].facts), Line: now[j].line}
		if now[j].unnamed {
			c.What, c.Was = Changed, ""
		}
		if !now[j].unnamed || len(c.Details) > 0 {
			list = append(list, c)
		}
		old, now = slices.Delete(old, i, i+1), slices.Delete(now, j, j+1)
	}
	for _, e := range old {
		list = append(list, Change{Kind: e.kind, Name: e.name, What: Removed, Details: details(e.facts, nil), Line: e.line})
	}
	for _, e := range now {
		list = append(list, Change{Kind: e.kind, Name: e.name, What: Added, Details: details(nil, e.facts), Line: e.line})
	}
	slices.SortStableFunc(list, func(x, y Change) int {
		return cmp.Or(cmp.Compare(order(x.Kind), order(y.Kind)), cmp.Compare(x.Line, y.Line))
	})
	return list
}

// mostPairs is how many pairs of items are held against each other for what they have in common;
// where there are more, what is not the same in all is removed and added.
const mostPairs = 250_000

// identical pairs items that are the same in all but their names.
func identical(was, is []entry, changes []Change) (old, now []entry, _ []Change) {
	key := func(e entry) string {
		var b strings.Builder
		b.WriteString(e.kind)
		for _, f := range e.facts {
			b.WriteString("\x00" + f.what + "\x00" + f.key)
		}
		return b.String()
	}
	by := map[string][]entry{}
	for _, e := range was {
		by[key(e)] = append(by[key(e)], e)
	}
	for _, e := range is {
		k := key(e)
		if len(by[k]) == 0 {
			now = append(now, e)
			continue
		}
		if !e.unnamed {
			changes = append(changes, Change{Kind: e.kind, Name: e.name, Was: by[k][0].name, What: Renamed, Details: []Detail{}, Line: e.line})
		}
		by[k] = by[k][1:]
	}
	for _, e := range was { // those that are left, in their order
		if left := by[key(e)]; len(left) > 0 && left[0].name == e.name {
			old, by[key(e)] = append(old, e), left[1:]
		}
	}
	return old, now, changes
}

// leastAlike is the share of facts that two items must have in common to count as one that was renamed.
const leastAlike = 0.5

func order(kind string) int {
	if k := board.KindNamed(kind); k != nil {
		return slices.Index(board.Kinds(), k)
	}
	return -1
}

func named(list []entry) map[string]int {
	at := map[string]int{}
	for i, e := range list {
		if !e.unnamed {
			at[e.kind+" "+e.name] = i
		}
	}
	return at
}

// shared are the items of one kind and name in both.
func shared(was, is []entry) (pairs [][2]entry) {
	old := named(was)
	for _, e := range is {
		if i, ok := old[e.kind+" "+e.name]; ok && !e.unnamed {
			pairs = append(pairs, [2]entry{was[i], e})
		}
	}
	return pairs
}

// rest are those that the other has not by name.
func rest(was, is []entry) (old, now []entry) {
	a, b := named(was), named(is)
	for _, e := range was {
		if _, ok := b[e.kind+" "+e.name]; !ok || e.unnamed {
			old = append(old, e)
		}
	}
	for _, e := range is {
		if _, ok := a[e.kind+" "+e.name]; !ok || e.unnamed {
			now = append(now, e)
		}
	}
	return old, now
}

// best are the two of one kind that are most alike.
func best(old, now []entry) (i, j int, alike float64) {
	for x := range old {
		for y := range now {
			if old[x].kind == now[y].kind {
				if s := likeness(old[x].facts, now[y].facts); s > alike {
					i, j, alike = x, y, s
				}
			}
		}
	}
	return i, j, alike
}

// likeness is the share of facts that two items have in common, where they are counting half as
// much again as what else they are.
func likeness(a, b []fact) float64 {
	keys := map[string]fact{}
	for _, f := range a {
		keys[f.what] = f
	}
	weight := func(f fact) float64 {
		if f.place {
			return 1.5
		}
		return 1
	}
	same, all := 0.0, 0.0
	for _, f := range b {
		all += weight(f)
		if g, ok := keys[f.what]; ok {
			if g.key == f.key {
				same += weight(f)
			}
			delete(keys, f.what)
		}
	}
	for _, f := range keys {
		all += weight(f)
	}
	if all == 0 {
		return 1
	}
	return same / all
}

// details are the facts that differ, in the order of the new one, then those that are gone.
func details(was, is []fact) (list []Detail) {
	list = []Detail{}
	old := map[string]fact{}
	for _, f := range was {
		old[f.what] = f
	}
	for _, f := range is {
		if g, ok := old[f.what]; !ok || g.key != f.key {
			list = append(list, Detail{f.what, g.shown, f.shown})
		}
		delete(old, f.what)
	}
	for _, f := range was {
		if _, gone := old[f.what]; gone {
			list = append(list, Detail{f.what, f.shown, ""})
		}
	}
	return list
}
