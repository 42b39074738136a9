// Package finding defines what hemline says about a text: a value with a
// name, a consequence, a tight place, a sentence and, where one edit is surely
// right, that edit. It is not a Go error: errors are for what kept hemline
// from doing its work.
package finding

import (
	"cmp"
	"slices"
	"strings"

	"hemline/lang/source"
)

// Category says what follows from a finding, the worst last.
type Category int

const (
	// Tidy: nothing breaks; something in the text has no effect.
	Tidy Category = iota
	// Costly: it can be built, with a query, a delay or a surcharge.
	Costly
	// Risky: it may be built and not work, or work and not last.
	Risky
	// Unbuildable: the shop cannot make it, or it is scrap when made.
	Unbuildable
	// Language: the text itself cannot be read or has no meaning.
	Language
)

var categories = [...]string{"tidy", "costly", "risky", "unbuildable", "language"}

// String is the category's name as users read and write it.
func (c Category) String() string { return categories[c] }

// Categories lists the names in rising order of weight.
func Categories() []string { return slices.Clone(categories[:]) }

// ParseCategory is the inverse of String.
func ParseCategory(name string) (Category, bool) {
	i := slices.Index(categories[:], name)
	return Category(i), i >= 0
}

// Finding is one thing found.
type Finding struct {
	Rule     string // a name such as wrap_land, readable in `accept wrap_land on …`
	Category Category
	Place    source.Place // the tightest range that holds what is wrong
	Message  string       // what was measured, what is needed, where the need comes from
	Related  []Related    // the other party, first the nearest
	Fix      *Fix         // nil unless one edit is right, or likely
	// Items are the names of what it is about: one item, or the two that it is
	// between; none where it is about the text itself.
	Items []string
}

// Parties names the items of a finding as an acceptance does: a, or a with b.
func Parties(items []string) string { return strings.Join(items, " with ") }

// Related points at another place that has part in a finding.
type Related struct {
	Place   source.Place
	Message string
}

// Fix is an edit after which the finding is gone and no other has come.
type Fix struct {
	Title string
	Edits []Edit
	// Guess tells that it writes what is likely meant, and not surely: it is
	// offered, and never made unasked.
	Guess bool
}

// In are the fix's edits as edits of a file, its places being found by locate; ok is false
// for no fix, and for one of which an edit lies in another file.
func (x *Fix) In(file *source.File, locate func(source.Place) (*source.File, source.Span, bool)) (edits []source.Edit, ok bool) {
	if x == nil {
		return nil, false
	}
	for _, e := range x.Edits {
		of, at, found := locate(e.Place)
		if !found || of != file {
			return nil, false
		}
		edits = append(edits, source.Edit{Span: at, Text: e.Text})
	}
	return edits, len(edits) > 0
}

// Edit replaces the text under a place.
type Edit struct {
	Place source.Place
	Text  string
}

// Located is a finding whose places have been turned into the spans they
// cover in one version of the texts.
type Located struct {
	Finding
	File *source.File
	Span source.Span
}

// Sort orders findings by file, start, end, rule and message, so that the
// same text always gives the same list.
func Sort(list []Located) {
	slices.SortStableFunc(list, func(a, b Located) int {
		return cmp.Or(
			cmp.Compare(a.File.Path(), b.File.Path()),
			cmp.Compare(a.Span.Start, b.Span.Start),
			cmp.Compare(a.Span.End, b.Span.End),
			cmp.Compare(a.Rule, b.Rule),
			cmp.Compare(a.Message, b.Message),
		)
	})
}
