package board

import (
	"cmp"
	"maps"
	"slices"
)

// gathered is what the meanings of all statements come to together: lists that
// a keystroke patches where it would take long to make them again.
type gathered struct {
	contents contents
	faulty   []*decoded         // those that have findings or miss a name
	stated   map[string]*stated // by keyword, of the kinds that others refer to
	loose    []loose
	counts   map[string]int // of what statements state, by keyword
	names    *nameSet
	items    int  // in all rows, see MaxAllItems
	dropped  bool // a row was too much
}

// stated are the statements with one keyword, and the names that they give, also
// those without a meaning.
type stated struct {
	by    []*decoded
	names map[string]bool
	rows  map[string]bool // those of them that are rows
}

// give takes in the names that a statement gives: of a row its members' too.
func (s *stated) give(d *decoded) {
	s.names[d.name.Text] = true
	if d.rowed > 1 {
		s.rows[d.name.Text] = true
	}
	for _, x := range d.members {
		if x, ok := x.(item); ok {
			s.names[x.Base().Name.Text] = true
		}
	}
}

// only is a list of a statement, or of none.
func only(d *decoded, ok bool) []*decoded {
	if !ok {
		return nil
	}
	return []*decoded{d}
}

// loose is a reference to something that no statement gives.
type loose struct {
	missing
	kind  int    // of the statement that refers, by the order of the table
	order uint64 // of the statement
}

// gatherAll gathers from every statement.
func (out *Built) gatherAll() {
	g := &out.gathered
	g.contents, g.stated = newContents(), map[string]*stated{}
	for _, k := range table {
		if k.referred {
			g.stated[k.Word] = &stated{names: map[string]bool{}, rows: map[string]bool{}}
		}
	}
	g.counts, g.names = map[string]int{}, new(nameSet)
	for _, d := range out.decoded {
		for _, x := range d.all() {
			d.kind.lists.add(&g.contents, x, out.env.geo)
		}
		g.counts[d.word] += d.states()
		if d.isFaulty() {
			g.faulty = append(g.faulty, d)
		}
		if s := g.stated[d.word]; s != nil {
			s.by = append(s.by, d)
			s.give(d)
		}
	}
	g.tie(out.decoded)
	g.sortLoose()
}

// patch takes over what the version before gathered, and exchanges in it the
// statements that changed. It tells whether it could: not where an expression's
// values or a shape may have changed, which any statement may read.
func (out *Built) patch(prev *Built, front, back int) bool {
	if prev.env != out.env || prev.dropped || prev.decoded == nil {
		return false
	}
	gone := prev.decoded[front : len(prev.decoded)-back]
	before := prev.decoded[:front]
	come := make([]*decoded, len(out.statements)-front-back)
	g := prev.gathered
	for i := range come {
		come[i] = decode(out.env, out.statements[front+i])
		n, _ := come[i].items()
		g.items += n
	}
	for _, d := range gone {
		n, _ := d.items()
		g.items -= n
	}
	if g.items > MaxAllItems {
		return false
	}
	out.decoded = append(make([]*decoded, 0, len(out.statements)), before...)
	out.decoded = append(append(out.decoded, come...), prev.decoded[len(prev.decoded)-back:]...)
	for _, k := range table {
		if k.lists != nil {
			k.lists.exchange(&g.contents, gone, come, before)
		}
	}
	g.count(gone, come)
	g.faulty = exchange(g.faulty, gone, come, before, func(d *decoded) []*decoded { return only(d, d.isFaulty()) })
	if !g.restate(gone, come, before) {
		g.loose = slices.DeleteFunc(slices.Clone(g.loose), func(l loose) bool {
			return slices.ContainsFunc(gone, func(d *decoded) bool { return d.stmt.Anchor() == l.at.Anchor })
		})
		g.tie(come)
	} else {
		g.loose = nil
		g.tie(out.decoded)
	}
	g.sortLoose()
	out.gathered = g
	return true
}

// exchange is a list of the version before with what the statements that are
// gone had in it taken out, and what those that have come have put in its place.
// Statements before the change tell where that is if none is gone.
func exchange[T comparable](old []T, gone, come, before []*decoded, get func(*decoded) []T) []T {
	pick := func(from []*decoded) (list []T) {
		for _, d := range from {
			list = append(list, get(d)...)
		}
		return list
	}
	out, in := pick(gone), pick(come)
	if len(out) == 0 && len(in) == 0 {
		return old
	}
	at := 0
	if len(out) > 0 {
		at = slices.Index(old, out[0])
	} else if len(old) > 0 {
		for _, d := range slices.Backward(before) {
			if x := get(d); len(x) > 0 {
				at = slices.Index(old, x[len(x)-1]) + 1
				break
			}
		}
	}
	return slices.Concat(old[:at], in, old[at+len(out):])
}

// count counts the statements that are gone out and those that have come in.
func (g *gathered) count(gone, come []*decoded) {
	counts := maps.Clone(g.counts)
	var less, more []string // the names that they read
	for _, d := range gone {
		counts[d.word] -= d.states()
		for _, r := range d.reads.names {
			less = append(less, r.name)
		}
	}
	for _, d := range come {
		counts[d.word] += d.states()
		for _, r := range d.reads.names {
			more = append(more, r.name)
		}
	}
	maps.DeleteFunc(counts, func(_ string, n int) bool { return n == 0 })
	if !maps.Equal(counts, g.counts) {
		g.counts = counts
	}
	slices.Sort(less)
	slices.Sort(more)
	if !slices.Equal(slices.Compact(less), slices.Compact(more)) {
		g.names = new(nameSet)
	}
}

// restate exchanges the statements that others refer to by name, and tells
// whether there was one among those that changed.
func (g *gathered) restate(gone, come, before []*decoded) bool {
	changed := map[string]bool{}
	for _, list := range [...][]*decoded{gone, come} {
		for _, d := range list {
			if g.stated[d.word] != nil {
				changed[d.word] = true
			}
		}
	}
	if len(changed) == 0 {
		return false
	}
	g.stated = maps.Clone(g.stated)
	for word := range changed {
		is := func(d *decoded) []*decoded { return only(d, d.word == word) }
		s := &stated{by: exchange(g.stated[word].by, gone, come, before, is), names: map[string]bool{}, rows: map[string]bool{}}
		for _, d := range s.by {
			s.give(d)
		}
		g.stated[word] = s
	}
	return true
}

// tie notes what statements refer to that no other gives.
func (g *gathered) tie(list []*decoded) {
	t := tying{in: g}
	for _, d := range list {
		if d.kind == nil || d.kind.refers == nil {
			continue
		}
		t.from = d
		for _, x := range d.all() {
			d.kind.refers(x, &t)
		}
	}
}

// tying ties the names that one statement refers to.
type tying struct {
	in   *gathered
	from *decoded
}

func (t *tying) to(n Name, of *origin) {
	for _, word := range of.words {
		if t.in.stated[word].names[n.Text] && !(of.one && t.in.stated[word].rows[n.Text]) {
			return
		}
	}
	t.in.loose = append(t.in.loose, loose{missing{n.At, of, n.Text}, t.from.kind.order, t.from.stmt.Anchor().Order})
}

// sortLoose puts the references of one kind after those of another, each in
// the order of the text: all stand in the root text alone.
func (g *gathered) sortLoose() {
	slices.SortStableFunc(g.loose, func(a, b loose) int {
		return cmp.Or(cmp.Compare(a.kind, b.kind), cmp.Compare(a.order, b.order))
	})
}
