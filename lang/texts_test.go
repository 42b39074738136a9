package lang_test

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// The language's tests are texts that say themselves what they mean and what
// is wrong with them. A file testdata/*.hem holds sections, each a text of its
// own, headed by a line
//
//	// ==== what this section shows
//
// A line `// ---- PATH` begins another file that the section's text may use;
// the text itself is a.hem.
//
// A finding is expected on the line where its place starts, one to one:
//
//	gap g of wal on south at middle width 2 mm // want "did you mean wall?"
//
// and where it matters which characters it covers, carets stand under them on a
// line of their own:
//
//	//       ^^^
//
// A line `//= KIND …` states a fact of the model. Which facts there are and
// how they are written is in facts_test.go; where a section states one fact of
// a kind it states all of them, in order, and `//= KIND none` where there are none.
type section struct {
	file, title string
	texts       map[string]string // by path; a.hem is the root
}

const rootPath = "a.hem"

var (
	wantComment = regexp.MustCompile(`// want((?: "(?:[^"\\]|\\.)*")+)\s*$`)
	wantQuoted  = regexp.MustCompile(`"((?:[^"\\]|\\.)*)"`)
)

// sections reads every section of the files that a pattern matches.
func sections(t testing.TB, pattern string) []section {
	t.Helper()
	files, err := filepath.Glob(pattern)
	require.NoError(t, err)
	require.NotEmpty(t, files, pattern)
	var list []section
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		path := ""
		for line := range strings.Lines(string(data)) {
			if title, ok := strings.CutPrefix(line, "// ==== "); ok {
				path = rootPath
				list = append(list, section{filepath.Base(file), strings.TrimSpace(title), map[string]string{}})
			} else if other, ok := strings.CutPrefix(line, "// ---- "); ok {
				path = strings.TrimSpace(other)
			}
			require.NotEmpty(t, path, "%s starts with a section", file)
			list[len(list)-1].texts[path] += line
		}
	}
	return list
}

// examples are the example boards, each with the shops that they may use.
func examples(t testing.TB) []section {
	t.Helper()
	read := func(pattern string) map[string]string {
		files, err := filepath.Glob("../examples/" + pattern)
		require.NoError(t, err)
		require.NotEmpty(t, files, pattern)
		texts := map[string]string{}
		for _, file := range files {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			texts[strings.TrimPrefix(filepath.ToSlash(file), "../examples/")] = string(data)
		}
		return texts
	}
	shops := read("shops/*.hem")
	var list []section
	for _, pattern := range []string{"*.hem", "broken/*.hem"} {
		for name, text := range read(pattern) {
			texts := map[string]string{rootPath: strings.ReplaceAll(text, "../shops", "shops")}
			maps.Copy(texts, shops)
			list = append(list, section{"examples", name, texts})
		}
	}
	slices.SortFunc(list, func(a, b section) int { return strings.Compare(a.title, b.title) })
	return list
}

// reader reads the section's other files.
func (s section) reader() lang.Reader {
	return func(path string) (*source.File, error) {
		text, ok := s.texts[path]
		if !ok {
			return nil, os.ErrNotExist
		}
		return source.New(path, text), nil
	}
}

func (s section) analyze() *lang.Analysis {
	return lang.Analyze(source.New(rootPath, s.texts[rootPath]), s.reader(), nil)
}

// located turns an analysis's findings into spans, in order of the text.
func located(t require.TestingT, a *lang.Analysis) []finding.Located {
	var list []finding.Located
	for _, f := range a.Findings() {
		file, span, ok := a.Locate(f.Place)
		require.True(t, ok, "%s: %s: its place is in this version", f.Rule, f.Message)
		list = append(list, finding.Located{Finding: f, File: file, Span: span})
	}
	finding.Sort(list)
	return list
}

func TestTexts(t *testing.T) {
	for _, s := range sections(t, "testdata/*.hem") {
		t.Run(s.file+"/"+s.title, func(t *testing.T) {
			a := s.analyze()
			s.expectFindings(t, a)
			s.expectFacts(t, a)
		})
	}
}

type line struct {
	path string
	line int
}

// expectFindings matches what is found with what the text wants, one to one.
func (s section) expectFindings(t *testing.T, a *lang.Analysis) {
	t.Helper()
	wanted := map[line][]string{}
	for path, text := range s.texts {
		for i, l := range strings.Split(text, "\n") {
			if m := wantComment.FindStringSubmatch(l); m != nil {
				for _, q := range wantQuoted.FindAllStringSubmatch(m[1], -1) {
					at := line{path, i}
					wanted[at] = append(wanted[at], strings.ReplaceAll(q[1], `\"`, `"`))
				}
			}
		}
	}
	found := located(t, a)
	for _, f := range found {
		at := line{f.File.Path(), f.File.LineOf(f.Span.Start)}
		i := slices.IndexFunc(wanted[at], func(w string) bool { return strings.Contains(f.Message, w) })
		if assert.GreaterOrEqual(t, i, 0, "unexpected, %s:%d: %s: %s", at.path, at.line+1, f.Rule, f.Message) {
			wanted[at] = slices.Delete(wanted[at], i, i+1)
		}
		s.carets(t, at, f)
		s.tryFix(t, a, f, found)
	}
	for at, list := range wanted {
		for _, w := range list {
			assert.Fail(t, "missing", "%s:%d: %s", at.path, at.line+1, w)
		}
	}
}

// carets compares what a finding covers with the carets under its line, if any.
func (s section) carets(t *testing.T, at line, f finding.Located) {
	t.Helper()
	lines := strings.Split(s.texts[at.path], "\n")
	if at.line+1 == len(lines) || strings.Trim(lines[at.line+1], "/ ^") != "" || !strings.Contains(lines[at.line+1], "^") {
		return
	}
	under := lines[at.line+1]
	from, to := strings.IndexByte(under, '^'), strings.LastIndexByte(under, '^')+1
	assert.Equal(t, lines[at.line][from:to], f.File.Slice(f.Span), f.Message)
}

// tryFix applies a finding's fix: it takes the finding away and brings no other.
func (s section) tryFix(t *testing.T, a *lang.Analysis, f finding.Located, before []finding.Located) {
	t.Helper()
	if f.Fix == nil {
		return
	}
	mended := section{s.file, s.title, map[string]string{}}
	for path, text := range s.texts {
		mended.texts[path] = text
	}
	for _, e := range slices.Backward(f.Fix.Edits) {
		file, span, ok := a.Locate(e.Place)
		require.True(t, ok, f.Fix.Title)
		mended.texts[file.Path()] = file.Edit(span, e.Text).Text()
	}
	after := located(t, mended.analyze())
	assert.Less(t, len(after), len(before), "%q takes its finding away and brings none", f.Fix.Title)
}

// expectFacts compares what the text states of the model with the model.
func (s section) expectFacts(t *testing.T, a *lang.Analysis) {
	t.Helper()
	stated := map[string][]string{}
	for l := range strings.Lines(s.texts[rootPath]) {
		fact, ok := strings.CutPrefix(strings.TrimSpace(l), "//= ")
		if !ok {
			continue
		}
		kind, rest, _ := strings.Cut(fact, " ")
		require.Contains(t, factKinds, kind)
		stated[kind] = append(stated[kind], rest)
	}
	for kind, want := range stated {
		got := factKinds[kind](a.Board())
		if len(got) == 0 {
			got = []string{"none"}
		}
		assert.Equal(t, strings.Join(want, "\n"), strings.Join(got, "\n"), kind)
	}
}

// Every kind of fact is stated somewhere: one that no text states tests nothing.
func TestEveryKindOfFactIsStated(t *testing.T) {
	all := ""
	for _, s := range sections(t, "testdata/*.hem") {
		all += s.texts[rootPath]
	}
	for kind := range factKinds {
		assert.True(t, strings.Contains(all, "//= "+kind+" "), kind)
	}
}
