package lang

import (
	"fmt"
	"slices"
	"unicode"
	"unicode/utf8"

	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Bounds on what is told of hidden characters: lines of a text, and edits of a fix.
const (
	maxHiddenLines = 1000
	maxHiddenEdits = 1000
)

// checkHidden reports each line with characters that nobody sees. Those of
// comments are surely taken out; one in a statement may be part of a name that
// stands elsewhere too, so that all are taken out at once, where that is wanted.
func (l *loader) checkHidden(d *syntax.Document) {
	offsets := d.Hidden()
	if len(offsets) == 0 {
		return
	}
	f, commented := d.File(), d.Commented(offsets)
	var stated []int32
	for i, at := range offsets {
		if !commented[i] {
			stated = append(stated, at)
		}
	}
	ofStatements := takeOut(d, finding.Fix{Title: "take out the hidden characters of all statements", Guess: true}, stated)
	for lines := 0; lines < maxHiddenLines && len(offsets) > 0; lines++ {
		line, n := f.Line(f.LineOf(int(offsets[0]))), 1
		for n < len(offsets) && int(offsets[n]) < line.End {
			n++
		}
		fix := ofStatements
		if !slices.Contains(commented[:n], false) {
			fix = takeOut(d, finding.Fix{Title: "take out what is hidden"}, offsets[:n])
		}
		l.findings = append(l.findings, finding.Finding{Rule: RuleHidden, Category: finding.Risky, Message: hiddenMessage(f.Text(), offsets[:n]), Fix: fix,
			Place: d.Place(source.Span{Start: int(offsets[0]), End: endOf(f.Text(), offsets[n-1])})})
		offsets, commented = offsets[n:], commented[n:]
	}
}

// takeOut is a fix with the edits that take characters out; nil where they are too many.
func takeOut(d *syntax.Document, fix finding.Fix, offsets []int32) *finding.Fix {
	if len(offsets) > maxHiddenEdits {
		return nil
	}
	for _, at := range offsets {
		fix.Edits = append(fix.Edits, finding.Edit{Place: d.Place(source.Span{Start: int(at), End: endOf(d.File().Text(), at)})})
	}
	return &fix
}

// Hides tells whether any file holds characters that nobody sees, so that what is
// shown of it is to be made visible.
func (a *Analysis) Hides() bool {
	return slices.ContainsFunc(a.docs, func(d *syntax.Document) bool { return len(d.Hidden()) > 0 })
}

func endOf(text string, at int32) int {
	_, size := utf8.DecodeRuneInString(text[at:])
	return int(at) + size
}

func hiddenMessage(text string, offsets []int32) string {
	r, _ := utf8.DecodeRuneInString(text[offsets[0]:])
	what := "a hidden character, " + source.Code(r)
	if n := len(offsets); n > 1 {
		what = fmt.Sprintf("%d hidden characters, %s the first", n, source.Code(r))
	}
	return fmt.Sprintf("the line holds %s (%s): it may read otherwise than it shows", what, effect(r))
}

// effect says what a hidden character does to what is shown.
func effect(r rune) string {
	switch {
	case unicode.Is(unicode.Bidi_Control, r):
		return "it turns the direction of what is written"
	case unicode.In(r, unicode.Zl, unicode.Zp):
		return "it breaks a line for some readers alone"
	case unicode.Is(unicode.Cc, r):
		return "a control character"
	}
	return "it takes no room"
}
