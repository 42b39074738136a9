package compare

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hemline/lang"
	"hemline/lang/board"
)

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

// twins are an item before and now; one of them is nil where there is none.
type twins struct{ was, is *entry }

func (t twins) renamed() bool {
	return t.was != nil && t.is != nil && t.was.name != t.is.name && !t.is.unnamed
}

// pair pairs items by kind and name; of those that are left, what is the same in all but its name, then what
// is most alike; what is left then stands alone.
func pair(was, is []entry) (list []twins) {
	old, now := pointers(was), pointers(is)
	together := func(list []twins, by func(*entry) string, fits func(was, is *entry) bool) []twins {
		known := map[string][]*entry{}
		for _, e := range old {
			known[by(e)] = append(known[by(e)], e)
		}
		paired := map[*entry]bool{}
		for _, e := range now {
			if left := known[by(e)]; len(left) > 0 && fits(left[0], e) {
				list, known[by(e)] = append(list, twins{left[0], e}), left[1:]
				paired[left[0]], paired[e] = true, true
			}
		}
		old, now = without(old, paired), without(now, paired)
		return list
	}
	list = together(list, func(e *entry) string { return e.kind + " " + e.name }, func(was, is *entry) bool { return !was.unnamed && !is.unnamed })
	list = together(list, (*entry).all, func(*entry, *entry) bool { return true })
	paired := map[*entry]bool{}
	for _, t := range alike(old, now) {
		list = append(list, t)
		paired[t.was], paired[t.is] = true, true
	}
	for _, e := range without(old, paired) {
		list = append(list, twins{was: e})
	}
	for _, e := range without(now, paired) {
		list = append(list, twins{is: e})
	}
	return list
}

func pointers(list []entry) []*entry {
	out := make([]*entry, len(list))
	for i := range list {
		out[i] = &list[i]
	}
	return out
}

func without(list []*entry, gone map[*entry]bool) []*entry {
	return slices.DeleteFunc(list, func(e *entry) bool { return gone[e] })
}

// all is everything that an item is but its name.
func (e *entry) all() string {
	var b strings.Builder
	b.WriteString(e.kind)
	for _, f := range e.facts {
		b.WriteString("\x00" + f.what + "\x00" + f.key)
	}
	return b.String()
}

// mostPairs is how many pairs of items are held against each other for what they have in common;
// where there are more, what is not the same in all is removed and added.
const mostPairs = 250_000

// leastAlike is the share of facts that two items must have in common to count as one that was renamed.
const leastAlike = 0.5

// alike pairs items of one kind that have most in common, the most alike first.
func alike(old, now []*entry) (list []twins) {
	if len(old)*len(now) > mostPairs {
		return nil
	}
	type candidate struct {
		twins
		share float64
	}
	var all []candidate
	for _, x := range old {
		for _, y := range now {
			if x.kind == y.kind {
				if share := likeness(x.facts, y.facts); share >= leastAlike {
					all = append(all, candidate{twins{x, y}, share})
				}
			}
		}
	}
	slices.SortStableFunc(all, func(x, y candidate) int { return cmp.Compare(y.share, x.share) })
	paired := map[*entry]bool{}
	for _, c := range all {
		if !paired[c.was] && !paired[c.is] {
			paired[c.was], paired[c.is] = true, true
			list = append(list, c.twins)
		}
	}
	return list
}

// changes are the pairs that differ, in the order of kinds and of the text.
func changes(pairs []twins) (list []Change) {
	for _, p := range pairs {
		switch {
		case p.is == nil:
			list = append(list, Change{Kind: p.was.kind, Name: p.was.name, What: Removed, Details: details(p.was.facts, nil), Line: p.was.line})
		case p.was == nil:
			list = append(list, Change{Kind: p.is.kind, Name: p.is.name, What: Added, Details: details(nil, p.is.facts), Line: p.is.line})
		default:
			c := Change{Kind: p.is.kind, Name: p.is.name, What: Changed, Details: details(p.was.facts, p.is.facts), Line: p.is.line}
			if p.renamed() {
				c.What, c.Was = Renamed, p.was.name
			}
			if c.What == Renamed || len(c.Details) > 0 {
				list = append(list, c)
			}
		}
	}
	slices.SortStableFunc(list, func(x, y Change) int {
		return cmp.Or(cmp.Compare(order(x.Kind), order(y.Kind)), cmp.Compare(x.Line, y.Line))
	})
	return list
}

func order(kind string) int {
	if k := board.KindNamed(kind); k != nil {
		return slices.Index(board.Kinds(), k)
	}
	return -1
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
