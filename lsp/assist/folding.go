package assist

import (
	"strings"

	"hemline/lang"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Fold is a run of lines that can be hidden behind its first one.
type Fold struct {
	First, Last int    // lines from 0; First stays in sight
	Kind        string // comment, uses, or "" for the body of a statement
}

// Folds lists what can be folded in the root text: bodies in braces, runs of
// lines that are comments, runs of `use`.
func Folds(a *lang.Analysis) []Fold {
	f := a.Root()
	list := append(commentFolds(f), bodyFolds(a)...)
	first, last := -1, -1
	for _, s := range a.Document().Statements() {
		span, _ := a.Document().Locate(s.Whole())
		line := f.LineOf(span.Start)
		if s.Word() == "use" && (first < 0 || line == last+1) {
			if first < 0 {
				first = line
			}
			last = line
			continue
		}
		if last > first {
			list = append(list, Fold{first, last, "uses"})
		}
		first, last = -1, -1
	}
	if last > first {
		list = append(list, Fold{first, last, "uses"})
	}
	return list
}

// bodyFolds are the bodies in braces, at every depth. The line of the closing
// brace stays in sight where nothing else stands before the brace.
func bodyFolds(a *lang.Analysis) []Fold {
	f := a.Root()
	var list []Fold
	for _, s := range a.Document().Statements() {
		text := s.Text()
		if !strings.ContainsAny(text, "\n\r") {
			continue
		}
		span, _ := a.Document().Locate(s.Whole())
		var open []int
		for _, t := range syntax.Lex(text) {
			switch t.Kind {
			case syntax.OpenBrace:
				open = append(open, span.Start+int(t.Start))
			case syntax.CloseBrace:
				if len(open) == 0 {
					continue
				}
				first, last := f.LineOf(open[len(open)-1]), f.LineOf(span.Start+int(t.Start))
				open = open[:len(open)-1]
				if before := f.Slice(source.Span{Start: f.Line(last).Start, End: span.Start + int(t.Start)}); strings.TrimSpace(before) == "" {
					last--
				}
				if last > first {
					list = append(list, Fold{First: first, Last: last})
				}
			}
		}
	}
	return list
}

// commentFolds are runs of two or more lines that hold nothing but a comment.
func commentFolds(f *source.File) []Fold {
	var list []Fold
	first := -1
	for line := 0; line <= f.Lines(); line++ {
		comment := line < f.Lines() && strings.HasPrefix(strings.TrimLeft(f.Slice(f.Line(line)), " \t"), "//")
		switch {
		case comment && first < 0:
			first = line
		case !comment && first >= 0:
			if line-1 > first {
				list = append(list, Fold{first, line - 1, "comment"})
			}
			first = -1
		}
	}
	return list
}
