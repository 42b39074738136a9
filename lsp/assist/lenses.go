package assist

import (
	"fmt"
	"slices"
	"strings"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/checks/report"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Lens is a line about a statement, to be shown above it.
type Lens struct {
	Span source.Span // the statement's keyword and name
	Text string
	Does string // what a click on it does: one of the words below
}

// What a lens leads to: the findings of the text, the live picture with the lens's statement
// marked, the answers to open queries, the texts that use this one.
const (
	DoesFindings = "findings"
	DoesPicture  = "picture"
	DoesQueries  = "queries"
	DoesUsers    = "users"
)

// Lenses lists what is worth knowing at a glance: over each plating how much of
// the outline or of a cutout it covers and its openings, over each `use` of a fabricator what
// has been found for it, over the board its lowest mode. The outcome is that of the same text.
func Lenses(a *lang.Analysis, out checks.Outcome) []Lens {
	var list []Lens
	b := a.Board()
	openings := figures.Openings(b, checks.TolerancesOf(b))
	for _, p := range b.Platings() {
		if file, span, ok := a.Locate(p.Keyword.Cover(p.Name.At)); ok && file == a.Root() {
			list = append(list, Lens{span, platingLine(b, p, openings), DoesPicture})
		}
	}
	if i := b.Info(); i != nil {
		if file, span, ok := a.Locate(i.Keyword.Cover(i.Name.At)); ok && file == a.Root() {
			if text := modeLine(out); text != "" {
				list = append(list, Lens{span, text, DoesPicture})
			}
		}
	}
	for _, s := range a.Document().Using() {
		span, ok := a.Document().Locate(s.Whole())
		if text := shopLine(a, s, out.Findings); ok && text != "" {
			list = append(list, Lens{span, text, DoesFindings})
		}
	}
	list = append(list, whole(a, out)...)
	slices.SortStableFunc(list, func(x, y Lens) int { return x.Span.Start - y.Span.Start })
	return list
}

// whole lists the lenses of the text as a whole: over the outline the picture, over the board,
// or where none is stated the outline, its findings and open queries, over what others use who does.
func whole(a *lang.Analysis, out checks.Outcome) (list []Lens) {
	at := func(s *syntax.Statement) source.Span {
		span, _ := a.Document().Locate(s.Whole())
		return source.Span{Start: span.Start, End: span.Start + len(s.Word())}
	}
	var board, outline *syntax.Statement
	for _, s := range a.Document().Statements() {
		switch s.Word() {
		case "board":
			board = s
		case "outline":
			outline = s
		}
	}
	if outline != nil {
		list = append(list, Lens{at(outline), "picture", DoesPicture})
	}
	on := board
	if on == nil {
		on = outline
	}
	if on == nil {
		if IsLibrary(a) {
			list = append(list, Lens{at(a.Document().Statements()[0]), "who uses this file", DoesUsers})
		}
		return list
	}
	if shop := a.Board().Fabricator(); shop == nil || shop.Whole.Anchor.Path == a.Root().Path() {
		list = append(list, Lens{at(on), categoriesLine(out.Findings), DoesFindings})
	}
	if open := OpenQueries(a); board != nil && len(open) > 0 {
		const most = 4
		var names []string
		for _, q := range open[:min(most, len(open))] {
			names = append(names, q.Name)
		}
		if len(open) > most {
			names = append(names, "…")
		}
		list = append(list, Lens{at(board), fmt.Sprintf("%d open %s: %s", len(open), queryOr(len(open)), strings.Join(names, ", ")), DoesQueries})
	}
	return list
}

// queryOr is the word for one or for many.
func queryOr(n int) string {
	if n == 1 {
		return "query"
	}
	return "queries"
}

// modeLine tells of the lowest mode that is known; "" where there is none.
func modeLine(out checks.Outcome) string {
	if len(out.Waits) > 0 {
		return waiting
	}
	lowest := -1
	for i, r := range out.Resonances {
		if len(r.Modes) > 0 && (lowest < 0 || r.Modes[0].F < out.Resonances[lowest].Modes[0].F) {
			lowest = i
		}
	}
	if lowest < 0 {
		return ""
	}
	return report.FirstMode(out.Resonances[lowest]).Line()
}

func platingLine(b *board.Board, p *board.Plating, openings []figures.Opening) string {
	return fmt.Sprintf("plated %.1f mm%s; ", quantity.InMillimetres(b.PlatedLength(p)), report.PlatedOf(b, p)) + openingsLine(b, openings, p)
}

// shopLine tells what was found for the fabricator of a used file; "" for a
// file that states none.
func shopLine(a *lang.Analysis, use *syntax.Statement, found []finding.Located) string {
	path, ok := usedPath(a, use)
	if !ok {
		return ""
	}
	for _, f := range a.Board().Fabricators() {
		if f.Whole.Anchor.Path != path {
			continue
		}
		name := syntax.Quote(f.Name.Text)
		if f != a.Board().Fabricator() {
			return name + ": not in use, a later fabricator holds"
		}
		return name + ": " + categoriesLine(found)
	}
	return ""
}

// categoriesLine counts findings by category, the gravest first.
func categoriesLine(found []finding.Located) string {
	var parts []string
	for i, category := range slices.Backward(finding.Categories()) {
		n := 0
		for _, x := range found {
			if int(x.Category) == i {
				n++
			}
		}
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, category))
		}
	}
	if len(parts) == 0 {
		return "no findings"
	}
	return strings.Join(parts, ", ")
}

// usedPath is the path of the file that a `use` statement names.
func usedPath(a *lang.Analysis, use *syntax.Statement) (string, bool) {
	r := syntax.Read(use)
	if r == nil || len(r.Values) == 0 {
		return "", false
	}
	text, ok := r.Values[0].Text()
	return lang.Resolve(a.Root().Path(), text), ok && text != ""
}

// Link is a place of the root text that names a file.
type Link struct {
	Span source.Span // between the quotes
	Path string      // as Analyze asks for it
}

// Links lists the files that the root text uses.
func Links(a *lang.Analysis) []Link {
	var list []Link
	for _, s := range a.Document().Using() {
		path, ok := usedPath(a, s)
		if !ok {
			continue
		}
		span, ok := a.Document().Locate(syntax.Read(s).Values[0].Place())
		if ok {
			list = append(list, Link{source.Span{Start: span.Start + 1, End: span.End - 1}, path})
		}
	}
	return list
}

// Linked lists the places of the root text that an editor may change together
// while one of them is typed: those of a name that is stated and mentioned in
// this text alone, written without quotes.
func Linked(a *lang.Analysis, offset int) []source.Span {
	m, err := Renameable(a, offset)
	if err != nil || m.Kind == kindNet {
		return nil
	}
	var list []source.Span
	for _, x := range Mentions(a, m.Name) {
		if x.File != a.Root() || x.File.Text()[x.Span.Start] == '"' || x.Member != "" && x.File.Text()[x.Word.Start] == '"' {
			return nil
		}
		list = append(list, x.Span)
	}
	return list
}
