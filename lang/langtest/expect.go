package langtest

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// Finder finds what is wrong with a text, in the order of finding.Sort.
type Finder func(*lang.Analysis) []finding.Located

// OfText finds what is wrong with a text as a text; it knows no rules.
func OfText(a *lang.Analysis) []finding.Located {
	var list []finding.Located
	for _, f := range a.Findings() {
		file, span, ok := a.Locate(f.Place)
		if !ok {
			panic(fmt.Sprintf("%s: %s: its place is not in this version", f.Rule, f.Message))
		}
		list = append(list, finding.Located{Finding: f, File: file, Span: span})
	}
	finding.Sort(list)
	return list
}

// Expect matches what is found in a section with what its texts expect, one to
// one, and returns it. A finding is expected on the line where its place
// starts, by a part of its message, and with a fix by a part of the fix's title:
//
//	wrap top 0.3 mm // want "wrap on top is 0.30 mm" on "wall" fix "widen the wrap"
//
// Several on one line follow one another. A fix that is not expected is as
// wrong as one that is missing; the items that a finding is on may be left out.
// Where it matters which characters a finding covers, carets stand under them on
// a line of their own:
//
//	// ^^^^^^^^^^^^
//
// A related place is expected where it starts, by a part of its message, behind
// what is wanted on that line or alone; a section that expects one expects all:
//
//	limit wrap_land minimum 0.4 mm // related "shop sets wrap_land"
//
// Every fix is tried, and all says what is found before and after: see Mended.
func (s Section) Expect(t *testing.T, find, all Finder) []finding.Located {
	t.Helper()
	found, wrong := s.Compare(find, all)
	for _, w := range wrong {
		assert.Fail(t, w)
	}
	return found
}

// expectation is a finding that a line expects: part of its message, the items
// that it is on, and part of its fix's title; "" for what is not stated.
type expectation struct{ message, on, fix string }

func (e expectation) String() string { return said(e.message, e.on, e.fix) }

func said(message, on, fix string) string {
	if on != "" {
		message += ", on: " + on
	}
	if fix != "" {
		message += ", with a fix: " + fix
	}
	return message
}

// meets tells whether a finding is as expected, its fix too.
func (e expectation) meets(f finding.Located) bool {
	switch {
	case !strings.Contains(f.Message, e.message), e.on != "" && e.on != strings.Join(f.Items, " "):
		return false
	case f.Fix == nil || e.fix == "":
		return f.Fix == nil && e.fix == ""
	}
	return strings.Contains(f.Fix.Title, e.fix)
}

const (
	quotedText = `"(?:[^"\\]|\\.)+"`
	oneWant    = ` (` + quotedText + `)(?: on (` + quotedText + `))?(?: fix (` + quotedText + `))?`
	allRelated = `related((?: ` + quotedText + `)+)`
)

var (
	quoted = regexp.MustCompile(quotedText)
	wants  = regexp.MustCompile(`// want((?:` + oneWant + `)+)(?: ` + allRelated + `)?\s*$`)
	want   = regexp.MustCompile(oneWant)
	alone  = regexp.MustCompile(`// ` + allRelated + `\s*$`)
	// meant is a line that looks as if it expected something.
	meant = regexp.MustCompile(`// *(want|fix|related)\b`)
)

func unquoted(s string) string {
	if s == "" {
		return ""
	}
	return strings.ReplaceAll(s[1:len(s)-1], `\"`, `"`)
}

// line is a line of one of a section's texts, counted from 0.
type line struct {
	path string
	n    int
}

func (l line) String() string { return fmt.Sprintf("%s:%d", l.path, l.n+1) }

// expected is what a section's texts expect, line by line.
type expected struct {
	findings map[line][]expectation
	related  map[line][]string
}

// expected reads what a section's texts expect, and what of that cannot be read.
func (s Section) expected() (e expected, wrong []string) {
	e = expected{map[line][]expectation{}, map[line][]string{}}
	for path, text := range s.Texts {
		lines := strings.Split(text, "\n")
		for i, l := range lines {
			at := line{path, i}
			if m := wants.FindStringSubmatch(l); m != nil {
				for _, w := range want.FindAllStringSubmatch(m[1], -1) {
					e.findings[at] = append(e.findings[at], expectation{unquoted(w[1]), unquoted(w[2]), unquoted(w[3])})
				}
				e.relate(at, m[len(m)-1])
			} else if m := alone.FindStringSubmatch(l); m != nil {
				e.relate(at, m[1])
			} else if meant.MatchString(l) {
				wrong = append(wrong, fmt.Sprintf("%s: this expectation cannot be read", at))
			}
			if carets(l) != "" && (i == 0 || !wants.MatchString(lines[i-1])) {
				wrong = append(wrong, fmt.Sprintf("%s: the carets stand under no finding", at))
			}
		}
	}
	return e, wrong
}

func (e expected) relate(at line, texts string) {
	for _, q := range quoted.FindAllString(texts, -1) {
		e.related[at] = append(e.related[at], unquoted(q))
	}
}

// StatesItems tells whether a section says of any finding which items it is on.
func (s Section) StatesItems() bool {
	e, _ := s.expected()
	for _, list := range e.findings {
		if slices.ContainsFunc(list, func(x expectation) bool { return x.on != "" }) {
			return true
		}
	}
	return false
}

// StatesRelated tells whether a section expects related places.
func (s Section) StatesRelated() bool {
	e, _ := s.expected()
	return len(e.related) > 0
}

// carets is a line of carets, "" for any other line.
func carets(line string) string {
	if strings.Trim(line, "/ ^\r") != "" || !strings.Contains(line, "^") {
		return ""
	}
	return line
}

// Compare is Expect, with a sentence for each thing that is not as expected.
func (s Section) Compare(find, all Finder) (found []finding.Located, wrong []string) {
	e, wrong := s.expected()
	a := s.Analyze()
	found = find(a)
	before := all(a)
	related := len(e.related) > 0
	for _, f := range found {
		at := line{f.File.Path(), f.File.LineOf(f.Span.Start)}
		i := slices.IndexFunc(e.findings[at], func(x expectation) bool { return x.meets(f) })
		if i < 0 {
			wrong = append(wrong, fmt.Sprintf("unexpected, %s: %s: %s", at, f.Rule, saying(f)))
		} else {
			e.findings[at] = slices.Delete(e.findings[at], i, i+1)
		}
		wrong = append(wrong, s.covers(at, f)...)
		if related {
			wrong = append(wrong, e.relates(a, f)...)
		}
		if f.Fix != nil {
			mended := s.mended(a, *f.Fix).Analyze()
			wrong = append(wrong, Mended(f, before, all(mended))...)
		}
	}
	for at, rest := range e.findings {
		for _, x := range rest {
			wrong = append(wrong, fmt.Sprintf("missing, %s: %s", at, x))
		}
	}
	for at, rest := range e.related {
		for _, x := range rest {
			wrong = append(wrong, fmt.Sprintf("missing, %s: a related place: %s", at, x))
		}
	}
	return found, wrong
}

// relates takes what a finding's related places meet out of what is expected.
func (e expected) relates(a *lang.Analysis, f finding.Located) (wrong []string) {
	for _, r := range f.Related {
		file, span, ok := a.Locate(r.Place)
		if !ok {
			wrong = append(wrong, fmt.Sprintf("%s: %s: no place", f.Rule, r.Message))
			continue
		}
		at := line{file.Path(), file.LineOf(span.Start)}
		i := slices.IndexFunc(e.related[at], func(x string) bool { return strings.Contains(r.Message, x) })
		if i < 0 {
			wrong = append(wrong, fmt.Sprintf("unexpected, %s: a related place of %s: %s", at, f.Rule, r.Message))
			continue
		}
		e.related[at] = slices.Delete(e.related[at], i, i+1)
	}
	return wrong
}

func saying(f finding.Located) string {
	title := ""
	if f.Fix != nil {
		title = f.Fix.Title
	}
	return said(f.Message, strings.Join(f.Items, " "), title)
}

// covers compares what a finding covers with the carets under its line, if any.
func (s Section) covers(at line, f finding.Located) []string {
	lines := strings.Split(s.Texts[at.path], "\n")
	if at.n+1 >= len(lines) || carets(lines[at.n+1]) == "" {
		return nil
	}
	under := lines[at.n+1]
	from, to := strings.IndexByte(under, '^'), strings.LastIndexByte(under, '^')+1
	if marked := lines[at.n][from:min(to, len(lines[at.n]))]; marked != f.File.Slice(f.Span) {
		return []string{fmt.Sprintf("%s: %s covers %q, not %q", at, f.Rule, f.File.Slice(f.Span), marked)}
	}
	return nil
}

// mended is the section with a fix made.
func (s Section) mended(a *lang.Analysis, fix finding.Fix) Section {
	files := Apply(a, fix)
	return s.Each(func(path, text string) string {
		if f := files[path]; f != nil {
			return f.Text()
		}
		return text
	})
}

// Apply makes the edits of a fix and returns the files that they change, by path.
func Apply(a *lang.Analysis, fix finding.Fix) map[string]*source.File {
	type edit struct {
		path string
		span source.Span
		text string
	}
	var edits []edit
	files := map[string]*source.File{}
	for _, e := range fix.Edits {
		file, span, ok := a.Locate(e.Place)
		if !ok {
			panic(fmt.Sprintf("%s: its place is not in this version", fix.Title))
		}
		files[file.Path()] = file
		edits = append(edits, edit{file.Path(), span, e.Text})
	}
	// From the end to the start, so that no edit moves what another one replaces.
	slices.SortStableFunc(edits, func(a, b edit) int { return cmp.Compare(b.span.Start, a.span.Start) })
	for _, e := range edits {
		files[e.path] = files[e.path].Edit(e.span, e.text)
	}
	return files
}

// Mended compares what is found before and after a finding's fix is made, with
// a sentence for each thing that is wrong: the finding must be gone and none may
// have come. A finding is known by its rule and the items that it is on, for a
// fix may change the figures of another, or which of two wraps it names; one
// that is on no item is known by its message. What is wrong with a text as a text
// is held against its like alone: rules have not yet seen what could not be read. A fix that is
// no sure one may leave a reason to its author, which is then asked for.
func Mended(f finding.Located, before, after []finding.Located) (wrong []string) {
	count := func(list []finding.Located) map[string]int {
		n := map[string]int{}
		for _, x := range list {
			if f.Category != finding.Language || x.Category == finding.Language {
				n[kindOf(x)]++
			}
		}
		return n
	}
	was, is := count(before), count(after)
	if is[kindOf(f)] >= was[kindOf(f)] {
		wrong = append(wrong, fmt.Sprintf("the fix %q leaves its finding, %s: %s", f.Fix.Title, f.Rule, f.Message))
	}
	for _, x := range after {
		if f.Fix.Guess && strings.HasPrefix(x.Message, "because gives no reason") {
			continue
		}
		if what := kindOf(x); is[what] > was[what] {
			wrong = append(wrong, fmt.Sprintf("the fix %q of %s: %s: brings %s on %q: %s", f.Fix.Title, f.Rule, f.Message, x.Rule, x.Items, x.Message))
		}
	}
	return wrong
}

// kindOf is what a finding is known by.
func kindOf(f finding.Located) string {
	if len(f.Items) == 0 {
		return f.Rule + ": " + f.Message
	}
	return fmt.Sprintf("%s on %q", f.Rule, f.Items)
}
