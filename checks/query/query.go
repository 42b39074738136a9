// Package query answers questions about a place in an analysed text, in byte
// offsets and plain values: what a hover shows, where a name is stated, what
// the outline of the text is. It knows no protocol.
package query

import (
	"hemline/lang"
	"hemline/lang/source"
)

// Card is what is known of the thing at a place, as Markdown.
type Card struct {
	Span     source.Span // the range that the card speaks of
	Markdown string
}

// Hover is the card for what stands at an offset of the root text.
func Hover(a *lang.Analysis, offset int) (Card, bool) { return Card{}, false }

// Target is where something is stated.
type Target struct {
	File *source.File
	Span source.Span // the name
	Full source.Span // the whole statement
}

// Definition finds the statement behind the name at an offset of the root text.
func Definition(a *lang.Analysis, offset int) (Target, bool) { return Target{}, false }

// Symbol is one entry of a text's outline.
type Symbol struct {
	Name, Kind, Detail string // Kind is the statement's keyword
	NameSpan           source.Span
	Full               source.Span
	Children           []Symbol
}

// Symbols is the outline of the root text in order.
func Symbols(a *lang.Analysis) []Symbol { return nil }

// TextEdit replaces a span of the root text.
type TextEdit struct {
	Span source.Span
	Text string
}

// Format returns the edits that bring the root text into canonical form,
// in order, none where it already is; they are as small as a line each.
func Format(a *lang.Analysis) []TextEdit { return nil }
