// Package lang is the front door of the language: text in, tree, model and
// findings about the text itself out.
package lang

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Bounds on what one text may bring in. MaxLines counts line ends and
// semicolons, each of which may end a statement, and like source.MaxBytes it
// bounds the files together.
const (
	MaxUseDepth = 32
	MaxFiles    = 256
	MaxLines    = 250_000
)

// Names of the findings about files.
const (
	RuleUse      = "use"
	RuleTooLarge = "too_large"
	RuleEmpty    = "empty"
	RuleEncoding = "encoding"
	RuleHidden   = "text_hidden"
)

// Reader brings the text of a file that a `use` statement names. The path is
// as Analyze resolved it: relative to the folder of the file that uses it. An
// editor's reader hands out unsaved text before what is on disk. Its error is
// shown to the user.
type Reader func(path string) (*source.File, error)

// Analysis is everything known of one version of one root text and the files
// it uses. It is immutable and safe for concurrent reading.
type Analysis struct {
	docs     []*syntax.Document // in order of use: what is used before its user, the root last
	byPath   map[string]*syntax.Document
	built    *board.Built
	findings []finding.Finding
}

// Analyze reads a text. What it can reuse of prev (the analysis of an earlier
// version of the same root, or nil) it reuses; the result is the same as without.
func Analyze(root *source.File, read Reader, prev *Analysis) *Analysis {
	a := &Analysis{byPath: map[string]*syntax.Document{}}
	l := loader{a: a, read: read, prev: prev}
	l.loadRoot(root)
	units := make([]board.Unit, len(a.docs))
	for i, d := range a.docs {
		units[i] = board.Unit{Statements: d.Statements(), Root: i == len(a.docs)-1}
	}
	units[len(units)-1].Fabricators = l.fabricators()
	var before *board.Built
	if prev != nil {
		before = prev.built
	}
	a.built = board.Build(units, before)
	a.findings = append(l.findings, a.built.Findings...)
	return a
}

// loader follows `use` from file to file.
type loader struct {
	a        *Analysis
	read     Reader
	prev     *Analysis
	open     []string // the files being read, the root first
	bytes    int      // of the files read
	lines    int
	leads    []lead
	findings []finding.Finding
}

// lead is a `use` statement, and the text that it brings in.
type lead struct {
	by *syntax.Statement
	to *syntax.Document
}

// fabricators lists the statements of fabricators in the order in which they
// stand, those of a used file where it is used; nil where nothing is used.
func (l *loader) fabricators() []*syntax.Statement {
	var list []*syntax.Statement
	var visit func(d *syntax.Document)
	visit = func(d *syntax.Document) {
		for _, s := range d.Statements() {
			switch s.Word() {
			case "fabricator":
				list = append(list, s)
			case "use":
				if i := slices.IndexFunc(l.leads, func(x lead) bool { return x.by == s }); i >= 0 {
					visit(l.leads[i].to)
				}
			}
		}
	}
	if len(l.leads) > 0 {
		visit(l.a.rootDocument())
	}
	return list
}

func (l *loader) loadRoot(f *source.File) {
	tooLong := l.count(f)
	if tooLong != "" {
		f = source.New(f.Path(), "")
	}
	l.load(f)
	d := l.a.rootDocument()
	switch {
	case tooLong != "":
		l.whole(d, RuleTooLarge, source.Span{}, "the file is too long: %s", tooLong)
	case len(d.Statements()) == 0:
		l.whole(d, RuleEmpty, source.Span{}, "the file states nothing; `hemline new FILE` writes a board to start from")
	}
}

func (l *loader) load(f *source.File) {
	var before *syntax.Document
	if l.prev != nil {
		before = l.prev.byPath[f.Path()]
	}
	d := syntax.Parse(f, before)
	l.a.byPath[f.Path()] = d
	l.open = append(l.open, f.Path())
	l.checkText(d)
	l.checkHidden(d)
	for _, s := range d.Using() {
		l.use(f, s)
	}
	l.open = l.open[:len(l.open)-1]
	l.a.docs = append(l.a.docs, d)
}

// count adds a file to what has been read, or says why it is too long for that.
func (l *loader) count(f *source.File) string {
	bytes, lines := f.Len(), 0
	if bytes <= source.MaxBytes {
		lines = f.Lines() + f.Semicolons()
	}
	together := ""
	if len(l.a.byPath) > 0 {
		together = ", all files together"
	}
	switch {
	case l.bytes+bytes > source.MaxBytes:
		return fmt.Sprintf("it has %d bytes; at most %d are read%s", bytes, source.MaxBytes, together)
	case l.lines+lines > MaxLines:
		return fmt.Sprintf("it has %d lines and semicolons; at most %d are read%s", lines, MaxLines, together)
	}
	l.bytes += bytes
	l.lines += lines
	return ""
}

// whole reports what is wrong with a text as a whole, or at a place of it that
// is no statement's.
func (l *loader) whole(d *syntax.Document, rule string, at source.Span, format string, args ...any) {
	l.findings = append(l.findings, finding.Finding{
		Rule: rule, Category: finding.Language, Place: d.Place(at), Message: fmt.Sprintf(format, args...),
	})
}

// checkText reports a text that is no UTF-8.
func (l *loader) checkText(d *syntax.Document) {
	if d.File().Valid() {
		return
	}
	text := d.File().Text()
	at, bad := 0, 0
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if r == utf8.RuneError && size == 1 {
			if bad++; bad == 1 {
				at = i
			}
		}
		i += size
	}
	l.whole(d, RuleEncoding, source.Span{Start: at, End: at + 1}, "the file is not UTF-8: byte 0x%02X is part of no character (%d such bytes)", text[at], bad)
}

// used is the path that a `use` statement names, as it is written; ok is false
// where it names none.
func used(s *syntax.Statement) (text string, r *syntax.Reading, ok bool) {
	if r = syntax.Read(s); r == nil || len(r.Values) == 0 {
		return "", nil, false
	}
	text, ok = r.Values[0].Text()
	return text, r, ok
}

// leftOut says once of a file what of it `use` does not bring in.
func (l *loader) leftOut(d *syntax.Document, at source.Place) {
	var words []string
	n := 0
	for _, s := range d.Statements() {
		k := board.KindNamed(s.Word())
		if k == nil || k.Carried || k.Word == "use" || k.Word == "hem" {
			continue
		}
		if n++; !slices.Contains(words, k.Word) {
			words = append(words, k.Word)
		}
	}
	if n == 0 {
		return
	}
	var carried []string
	for _, k := range board.Kinds() {
		if k.Carried {
			carried = append(carried, k.Word)
		}
	}
	what := "its " + words[0] + " is"
	if n > 1 {
		what = fmt.Sprintf("%d of its statements (%s) are", n, strings.Join(words, ", "))
	}
	l.findings = append(l.findings, finding.Finding{Rule: RuleUse, Category: finding.Tidy, Place: at,
		Message: fmt.Sprintf("%s left out: use brings in %s; keep what is shared in a file of its own", what, strings.Join(carried, ", "))})
}

// Used lists the paths that a text's `use` statements name, resolved as for a
// Reader, also those of files that cannot be read.
func Used(d *syntax.Document) []string {
	var list []string
	for _, s := range d.Using() {
		if text, _, ok := used(s); ok && text != "" {
			list = append(list, Resolve(d.File().Path(), text))
		}
	}
	return list
}

func (l *loader) use(f *source.File, s *syntax.Statement) {
	text, r, ok := used(s)
	if !ok {
		return
	}
	report := func(format string, args ...any) {
		l.findings = append(l.findings, finding.Finding{
			Rule: RuleUse, Category: finding.Language, Place: r.Values[0].Place(), Message: fmt.Sprintf(format, args...),
		})
	}
	target := Resolve(f.Path(), text)
	if i := slices.Index(l.open, target); i >= 0 {
		report("goes round in a circle: %s", strings.Join(append(slices.Clone(l.open[i:]), target), " → "))
		return
	}
	switch {
	case text == "":
		report("expected the path of a file, found an empty text")
	case l.a.byPath[target] != nil:
		// Used twice by different files: it counts once.
	case len(l.open) > MaxUseDepth:
		report("use is nested deeper than %d files", MaxUseDepth)
	case len(l.a.byPath) >= MaxFiles:
		report("more than %d files are used", MaxFiles)
	case l.read == nil:
		report("cannot read %s: there is no place to read it from", target)
	default:
		used, err := l.read(target)
		if err != nil {
			report("cannot read %s: %s", target, err)
			return
		}
		if tooLong := l.count(used); tooLong != "" {
			report("cannot read %s: %s", target, tooLong)
			return
		}
		l.load(used)
		l.leftOut(l.a.byPath[target], r.Values[0].Place())
		l.leads = append(l.leads, lead{s, l.a.byPath[target]})
	}
}

// Resolve turns the path in a `use` into one that a Reader is asked for: it
// is relative to the folder of the file that it stands in, and may be written
// with slashes on every system.
func Resolve(from, use string) string {
	use = strings.ReplaceAll(use, `\`, "/")
	from = strings.ReplaceAll(from, `\`, "/")
	if strings.HasPrefix(use, "/") || len(use) > 1 && use[1] == ':' {
		return path.Clean(use)
	}
	return path.Join(path.Dir(from), use)
}

func (a *Analysis) rootDocument() *syntax.Document { return a.docs[len(a.docs)-1] }

// Root is the text that was analysed.
func (a *Analysis) Root() *source.File { return a.rootDocument().File() }

// Document is the root text's list of statements.
func (a *Analysis) Document() *syntax.Document { return a.rootDocument() }

// Documents lists every file's, what is used before its user, the root last.
func (a *Analysis) Documents() []*syntax.Document { return a.docs }

// Board is the model of the root text.
func (a *Analysis) Board() *board.Board { return a.built.Board }

// Files lists the paths of every file that took part, the root first.
func (a *Analysis) Files() []string {
	list := make([]string, 0, len(a.docs))
	for _, d := range slices.Backward(a.docs) {
		list = append(list, d.File().Path())
	}
	return list
}

// Findings are the syntax and meaning findings of the text.
func (a *Analysis) Findings() []finding.Finding { return a.findings }

// Locate tells where a place stands in this version; ok is false for a place
// that is nowhere or belongs to another version.
func (a *Analysis) Locate(p source.Place) (file *source.File, span source.Span, ok bool) {
	if p.Anchor == nil {
		return nil, source.Span{}, false
	}
	d := a.byPath[p.Anchor.Path]
	if d == nil {
		return nil, source.Span{}, false
	}
	span, ok = d.Locate(p)
	return d.File(), span, ok
}
