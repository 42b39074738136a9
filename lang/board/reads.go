package board

import (
	"maps"
	"slices"
	"strings"
	"sync"
)

// Reads is a set of what may be read of a board and may differ between two
// versions of it: the list of each kind of item, and what has no list.
type Reads uint64

// What has no list of its own counts from the top, the lists from the bottom.
const (
	readsOthers Reads = 1 << (63 - iota) // what nothing else tells
	readsCounts                          // of statements
	readsNames                           // that expressions read
	readsOpened                          // gaps that connectors and tabs open

	// Everything is whatever can be read.
	Everything = ^Reads(0)
)

// What is worked out of several lists reads them all. The table of kinds sets these.
var (
	readsShapes Reads // the outline and the cutouts
	readsWalls  Reads // these, the platings and the gaps, stated and opened
	readsValues Reads // of names in expressions
	// and the tabs, of which the premetallised ones leave bare roots
	readsFinished  Reads
	readsFollowers Reads
)

// Recording is a view of the board that adds to a set what is read through it.
// What is taken out of it, an item or a wall, may be read without a mark:
// it never changes, and where another takes its place its list differs.
// A view of a view adds to the sets of both.
func (b *Board) Recording(into *Reads) *Board {
	return &Board{model: b.model, reads: into, outer: b}
}

// Whole is the board without a record: for who has read all that it may ask for.
func (b *Board) Whole() *Board { return &Board{model: b.model} }

// ReadAll marks that everything has been read: for who reads of a text what
// its board does not tell.
func (b *Board) ReadAll() { b.mark(Everything) }

func (b *Board) mark(what Reads) {
	for ; b != nil; b = b.outer {
		if b.reads != nil {
			*b.reads |= what
		}
	}
}

// read is a kind's list, with the mark that it was read.
func read[T any](b *Board, l *list[T]) []T {
	b.mark(l.reads)
	return l.items
}

// first is the first of a kind that a text states once.
func first[T any](b *Board, l *list[*T]) *T {
	if items := read(b, l); len(items) > 0 {
		return items[0]
	}
	return nil
}

// Differing tells in what two versions of a board differ. Items are compared
// by identity: one that says the same and reads the same is the same.
func (b *Board) Differing(old *Board) (differ Reads) {
	if b.model == old.model {
		return 0
	}
	differ = readsOthers
	for _, k := range table {
		if k.lists != nil {
			differ |= k.lists.differing(&b.model.contents, &old.model.contents)
		}
	}
	differ |= differing(&b.model.opened.gaps, &old.model.opened.gaps)
	if !maps.Equal(b.model.counts, old.model.counts) {
		differ |= readsCounts
	}
	if b.model.names != old.model.names {
		differ |= readsNames
	}
	return differ
}

// String lists the keywords of the kinds in the set, and what else is in it.
func (r Reads) String() string {
	if r == Everything {
		return "everything"
	}
	var words []string
	for _, k := range table {
		if k.lists != nil && r&k.reads == k.reads {
			words = append(words, k.Word)
			r &^= k.reads
		}
	}
	for _, x := range []struct {
		bit  Reads
		word string
	}{{readsCounts, "counts"}, {readsNames, "names"}, {readsOpened, "opened"}, {readsOthers, "others"}} {
		if r&x.bit != 0 {
			words = append(words, x.word)
			r &^= x.bit
		}
	}
	if r != 0 {
		words = append(words, "unknown")
	}
	slices.Sort(words)
	return strings.Join(words, " ")
}

// nameSet is the set of names that expressions read, made by whoever asks first.
type nameSet struct {
	once  sync.Once
	names map[string]bool
}

func (s *nameSet) of(m *model) map[string]bool {
	if s == nil {
		return nil
	}
	s.once.Do(func() {
		s.names = make(map[string]bool, len(m.lets.items))
		last := ""
		for _, d := range m.decoded {
			for _, r := range d.reads.names {
				if r.name != last { // neighbours often read the same
					last = r.name
					s.names[last] = true
				}
			}
		}
	})
	return s.names
}
