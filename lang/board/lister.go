package board

import "slices"

// lister keeps the items of one kind in contents.
type lister interface {
	// mark sets the mark that reading the list leaves.
	mark(c *contents, r Reads)
	// add puts an item at the list's end.
	add(c *contents, item any, geo *geometry)
	// exchange takes out what the statements that are gone had in the list, and
	// puts what those that have come have in its place. Statements before the
	// change tell where that is if none is gone.
	exchange(c *contents, gone, come, before []*decoded)
	// differing is what was marked of the lists in which two contents differ.
	differing(a, b *contents) Reads
	all(c *contents) []any
	// unlikely lists the items that have lengths which are not plausible.
	unlikely(c *contents) []*Item
}

// lists keeps items of one type in the list that it finds in contents.
type lists[T any] func(*contents) *list[*T]

func in[T any](f func(*contents) *list[*T]) lister { return lists[T](f) }

func (f lists[T]) mark(c *contents, r Reads) { f(c).reads = r }

func (f lists[T]) add(c *contents, item any, _ *geometry) { f(c).add(item.(*T)) }

func (f lists[T]) exchange(c *contents, gone, come, before []*decoded) {
	l := f(c)
	l.items = exchange(l.items, gone, come, before, itemsOf[T])
}

func (f lists[T]) differing(a, b *contents) Reads { return differing(f(a), f(b)) }

func (f lists[T]) all(c *contents) []any { return anys(f(c).items) }

func (f lists[T]) unlikely(c *contents) []*Item { return f(c).unlikely() }

func (l *list[T]) unlikely() (list []*Item) {
	for _, x := range l.items {
		if i, ok := any(x).(item); ok && len(i.Base().Unlikely) > 0 {
			list = append(list, i.Base())
		}
	}
	return list
}

func itemsOf[T any](d *decoded) (list []*T) {
	if x, ok := d.item.(*T); ok {
		return []*T{x}
	}
	for _, x := range d.members {
		if x, ok := x.(*T); ok {
			list = append(list, x)
		}
	}
	return list
}

func anys[T any](items []T) []any {
	list := make([]any, len(items))
	for i, x := range items {
		list[i] = x
	}
	return list
}

func (l *list[T]) add(x T) { l.items = append(l.items, x) }

// differing is the list's mark if two versions of it hold other items, which
// are the same if they are identical.
func differing[T comparable](a, b *list[T]) Reads {
	if same(a.items, b.items) {
		return 0
	}
	return a.reads
}

func same[T comparable](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0] || slices.Equal(a, b))
}

// restated are items as they stand on the board, of those that the text states: by
// gives what takes an item's place, and is told what took it in the version before,
// nil where it was not stated there.
func restated[T any](stated, before, stood []*T, by func(item, stood *T) *T) []*T {
	then := make(map[*T]*T, len(before))
	for i, x := range before {
		then[x] = stood[i]
	}
	list := make([]*T, len(stated))
	for i, x := range stated {
		list[i] = by(x, then[x])
	}
	return list
}

// outlines keeps the outline, and the drawn paths that do not close.
type outlines struct{}

func (outlines) mark(c *contents, r Reads) { c.outlines.reads, c.open.reads = r, c.open.reads|r }

func (outlines) add(c *contents, item any, geo *geometry) {
	s := item.(*shape)
	if s.addOpen(c); s.Profile == nil || geo.has(s.Profile) {
		c.outlines.add(s)
	}
}

func (outlines) differing(a, b *contents) Reads {
	return differing(&a.outlines, &b.outlines) | differing(&a.open, &b.open)
}

func (outlines) all(c *contents) []any { return anys(c.outlines.items) }

// cutouts keeps the cutouts that close. A second one of a name, which the
// geometry does not hold, is left out.
type cutouts struct{}

func (cutouts) mark(c *contents, r Reads) { c.cutouts.reads, c.open.reads = r, c.open.reads|r }

func (cutouts) add(c *contents, item any, geo *geometry) {
	s := item.(*shape)
	if s.addOpen(c); s.Profile != nil && geo.has(s.Profile) {
		c.cutouts.add(&s.Cutout)
	}
}

func (cutouts) differing(a, b *contents) Reads {
	return differing(&a.cutouts, &b.cutouts) | differing(&a.open, &b.open)
}

func (cutouts) all(c *contents) []any { return anys(c.cutouts.items) }

func (outlines) unlikely(c *contents) []*Item { return c.outlines.unlikely() }
func (cutouts) unlikely(c *contents) []*Item  { return c.cutouts.unlikely() }

// No shape is exchanged: where one changes, everything is gathered anew.
func (outlines) exchange(*contents, []*decoded, []*decoded, []*decoded) {}
func (cutouts) exchange(*contents, []*decoded, []*decoded, []*decoded)  {}

func (s *shape) addOpen(c *contents) {
	if s.open != nil {
		c.open.add(s.open)
	}
}

// has tells whether a profile is one of the geometry's: a second cutout of a name is not.
func (g *geometry) has(p *Profile) bool {
	return p.Index < len(g.profiles) && g.profiles[p.Index] == p
}
