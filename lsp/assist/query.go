// Package query answers questions about a place in an analysed text, in byte
// offsets and plain values: what a hover shows, where a name is stated, what
// the outline of the text is. It knows no protocol.
package assist

import (
	"slices"
	"strings"

	"github.com/aymanbagabas/go-udiff"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// at finds what stands at an offset of the root text.
func at(a *lang.Analysis, offset int) (syntax.Spot, *syntax.Reading, bool) {
	s, rel := a.Document().At(offset)
	if s == nil {
		return syntax.Spot{}, nil, false
	}
	r := syntax.Read(s)
	if r == nil {
		return syntax.Spot{}, nil, false
	}
	spot, ok := r.Find(rel)
	return spot, r, ok
}

// Target is where something is stated.
type Target struct {
	File *source.File
	Span source.Span // the name
	Full source.Span // the whole statement
}

// Definition finds the statement behind the name at an offset of the root text.
func Definition(a *lang.Analysis, offset int) (Target, bool) {
	spot, _, ok := at(a, offset)
	if !ok || spot.Value == nil {
		return Target{}, false
	}
	if spot.Arg != nil && spot.Arg.Kind == syntax.VText && spot.Clause().Spec.Word == "use" {
		path := lang.Resolve(a.Root().Path(), syntax.Unquote(spot.Text))
		for _, d := range a.Documents() {
			if d.File().Path() == path {
				return Target{File: d.File()}, true
			}
		}
		return Target{}, false
	}
	p, ok := boardValue(a.Board(), spot.Text)
	if name, named := NameAt(a, offset); named {
		p, ok = statedAt(a.Board(), name.Name)
	}
	if !ok {
		return Target{}, false
	}
	file, span, ok := a.Locate(p)
	if !ok {
		return Target{}, false
	}
	_, full, _ := a.Locate(wholeOf(a, p))
	return Target{file, span, full}, true
}

// wholeOf is the place of the statement that a place lies in.
func wholeOf(a *lang.Analysis, p source.Place) source.Place {
	for _, d := range a.Documents() {
		if s, ok := d.Holding(p); ok {
			return s.Whole()
		}
	}
	return p
}

// boardValue is where what an expression reads of the board is given.
func boardValue(b *board.Board, name string) (source.Place, bool) {
	if name == "board.thickness" {
		t, ok := b.Thickness()
		return t.At, ok
	}
	if strings.HasPrefix(name, "board.") && b.OutlineItem() != nil {
		return b.OutlineItem().Keyword, true
	}
	return source.Place{}, false
}

// Symbol is one entry of a text's outline.
type Symbol struct {
	Name, Kind, Detail string // Kind is the statement's keyword, or the clause's
	Symbol             board.Symbol
	Named              bool // the statement gives the name; else it is the text itself
	NameSpan           source.Span
	Full               source.Span
	Children           []Symbol
}

// Symbols is the outline of the root text in order: its statements, and the
// layers, pieces and limits inside them.
func Symbols(a *lang.Analysis) []Symbol {
	statements := a.Document().Statements()
	list := make([]Symbol, 0, len(statements))
	for _, s := range statements {
		word := s.Word()
		kind := board.KindNamed(word)
		if kind == nil {
			continue
		}
		full, _ := a.Document().Locate(s.Whole())
		symbol := Symbol{Kind: word, Symbol: kind.Symbol, Full: full, NameSpan: source.Span{Start: full.Start, End: full.Start + len(word)}}
		if p, name, ok := s.NamePlace(); ok {
			symbol.Name, symbol.Detail, symbol.Named = name, word, true
			symbol.NameSpan, _ = a.Document().Locate(p)
		} else {
			symbol.Name = firstLine(s.Text())
		}
		if spec := s.Spec(); slices.ContainsFunc(spec.Clauses, names) {
			symbol.Children = children(a, s)
		} else if _, value, ok := strings.Cut(s.Text(), "="); ok && spec.Assign {
			symbol.Detail = strings.TrimSpace(value)
		}
		list = append(list, symbol)
	}
	return list
}

// names tells whether a clause gives a name of its own, or is about one: a layer,
// a piece of a path, a limit.
func names(clause *syntax.Spec) bool {
	return len(clause.Args) > 0 && (clause.Args[0].Kind == syntax.VNew || clause.Args[0].Kind == syntax.VParameter)
}

func firstLine(text string) string {
	line, _, _ := strings.Cut(text, "\n")
	line = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(line), "{"))
	if runes := []rune(line); len(runes) > 60 {
		line = string(runes[:60]) + "…"
	}
	return line
}

func children(a *lang.Analysis, s *syntax.Statement) []Symbol {
	r := syntax.Read(s)
	var list []Symbol
	for _, c := range r.Clauses {
		if len(c.Values) == 0 || !names(c.Spec) {
			continue
		}
		name, ok := c.Values[0].Word()
		if !ok {
			continue
		}
		full, _ := a.Document().Locate(c.Place())
		span, _ := a.Document().Locate(c.Values[0].Place())
		detail := strings.TrimSpace(a.Root().Slice(source.Span{Start: span.End, End: full.End}))
		looks := board.SymbolObject
		if c.Spec.Args[0].Kind == syntax.VParameter {
			looks = board.SymbolNumber
		}
		list = append(list, Symbol{Name: name, Kind: c.Spec.Word, Symbol: looks, Detail: firstLine(detail), NameSpan: span, Full: full, Named: true})
	}
	return list
}

// Format returns the edits that bring the root text into canonical form,
// in order, none where it already is; they are as small as a line each.
func Format(a *lang.Analysis) []source.Edit {
	before, after := a.Root().Text(), syntax.Format(a.Document())
	if before == after {
		return nil
	}
	var edits []source.Edit
	for _, e := range udiff.Lines(before, after) {
		edits = append(edits, source.Edit{Span: source.Span{Start: e.Start, End: e.End}, Text: e.New})
	}
	return edits
}
