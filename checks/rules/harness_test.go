package rules

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// The rules' tests are texts that say themselves what is found in them.
// testdata/NAME.hem tests the rule NAME; it holds sections, each a text of its
// own, headed by a line
//
//	// ==== what this section shows
//
// A finding is expected on the line where its place starts, one to one:
//
//	wrap top 0.3 mm // want "wrap on top is 0.30 mm"
//
// with a part of its message for each finding, and where it matters exactly
// which characters it covers, carets under them on a line of their own:
//
//	// ^^^^^^^^^^^^^
//
// Only the rule under test runs, so that a section need not be a whole board;
// for one that looks at other rules' findings all run, and its own are looked
// at. Findings of the text itself always count. Today is 2027-01-15. Every fix is tried: it must take
// its finding away and bring no other.
type section struct {
	title string
	text  string
}

var want = regexp.MustCompile(`// want((?: "(?:[^"\\]|\\.)*")+)\s*$`)
var quoted = regexp.MustCompile(`"((?:[^"\\]|\\.)*)"`)

func sections(t *testing.T, path string) []section {
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	var list []section
	for line := range strings.Lines(string(data)) {
		if title, ok := strings.CutPrefix(line, "// ==== "); ok {
			list = append(list, section{title: strings.TrimSpace(title)})
		}
		require.NotEmpty(t, list, "%s: the file starts with a section", path)
		list[len(list)-1].text += line
	}
	return list
}

func TestRules(t *testing.T) {
	for _, r := range All() {
		t.Run(r.Name, func(t *testing.T) {
			fires, silent := 0, 0
			for _, s := range sections(t, filepath.Join("testdata", r.Name+".hem")) {
				t.Run(s.title, func(t *testing.T) {
					if expect(t, s.text, []*checks.Rule{r}) > 0 {
						fires++
					} else {
						silent++
					}
				})
			}
			assert.Positive(t, fires, "a section on which the rule fires")
			assert.Positive(t, silent, "a near miss on which it is silent")
		})
	}
	files, err := filepath.Glob("testdata/*.hem")
	require.NoError(t, err)
	for _, f := range files {
		assert.NotNil(t, All().Named(strings.TrimSuffix(filepath.Base(f), ".hem")), "%s tests no rule", f)
	}
}

func analyze(text string) *lang.Analysis {
	return lang.Analyze(source.New("a.hem", text), func(path string) (*source.File, error) {
		data, err := os.ReadFile(filepath.Join("../..", path))
		return source.New(path, string(data)), err
	}, nil)
}

// expect runs rules over a text and matches the findings with what the text
// wants. It returns how many there were.
func expect(t *testing.T, text string, rules []*checks.Rule) int {
	t.Helper()
	found := checked(text, rules)
	wanted := map[int][]string{}
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if m := want.FindStringSubmatch(line); m != nil {
			for _, q := range quoted.FindAllStringSubmatch(m[1], -1) {
				wanted[i] = append(wanted[i], strings.ReplaceAll(q[1], `\"`, `"`))
			}
		}
	}
	for _, f := range found {
		at := f.File.Position(f.Span.Start, source.Bytes)
		i := slices.IndexFunc(wanted[at.Line], func(w string) bool { return strings.Contains(f.Message, w) })
		if !assert.GreaterOrEqual(t, i, 0, "unexpected, line %d: %s: %s", at.Line+1, f.Rule, f.Message) {
			continue
		}
		wanted[at.Line] = slices.Delete(wanted[at.Line], i, i+1)
		carets(t, lines, at.Line, f)
		tryFix(t, text, f, len(found), rules)
	}
	for line, list := range wanted {
		for _, w := range list {
			assert.Fail(t, "missing", "line %d: %s", line+1, w)
		}
	}
	return len(found)
}

const today = "2027-01-15"

func checked(text string, under []*checks.Rule) []finding.Located {
	if !under[0].AllRun {
		return All().Check(analyze(text), checks.Options{Today: today, Only: under}).Findings
	}
	return slices.DeleteFunc(All().Check(analyze(text), checks.Options{Today: today}).Findings, func(f finding.Located) bool {
		return f.Rule != under[0].Name && f.Category != finding.Language
	})
}

func carets(t *testing.T, lines []string, line int, f finding.Located) {
	t.Helper()
	if line+1 >= len(lines) {
		return
	}
	under := lines[line+1]
	if trimmed := strings.TrimLeft(strings.TrimPrefix(strings.TrimSpace(under), "//"), " "); trimmed == "" || strings.Trim(trimmed, "^ ") != "" {
		return
	}
	from, to := strings.IndexByte(under, '^'), strings.LastIndexByte(under, '^')+1
	assert.Equal(t, lines[line][from:min(to, len(lines[line]))], f.File.Slice(f.Span), "what %s covers", f.Rule)
}

// tryFix applies a finding's fix and runs the rules again.
func tryFix(t *testing.T, text string, f finding.Located, before int, rules []*checks.Rule) {
	t.Helper()
	if f.Fix == nil {
		return
	}
	mended := checked(applyFix(analyze(text), *f.Fix), rules)
	assert.Less(t, len(mended), before, "the fix %q takes its finding away", f.Fix.Title)
	for _, m := range mended {
		assert.NotEqual(t, f.Message, m.Message, "the fix %q takes its finding away", f.Fix.Title)
	}
}

// applyFix edits the text; the places of a fix are found by their offsets in
// the statement, which another analysis of the same text shares.
func applyFix(a *lang.Analysis, fix finding.Fix) string {
	text := a.Root().Text()
	for _, e := range slices.Backward(fix.Edits) {
		for _, s := range a.Document().Statements() {
			if s.Anchor().Order != e.Place.Anchor.Order {
				continue
			}
			p := e.Place
			p.Anchor = s.Anchor()
			if _, span, ok := a.Locate(p); ok {
				text = text[:span.Start] + e.Text + text[span.End:]
			}
		}
	}
	return text
}

func TestEveryRuleIsDocumented(t *testing.T) {
	name := regexp.MustCompile(`^[a-z]+(_[a-z]+)*$`)
	for i, r := range All() {
		t.Run(r.Name, func(t *testing.T) {
			assert.Regexp(t, name, r.Name)
			assert.Equal(t, i, slices.IndexFunc(All(), func(x *checks.Rule) bool { return x.Name == r.Name }), "the name is used once")
			for what, text := range map[string]string{"Finds": r.Finds, "Why": r.Why, "Source": r.Source, "Group": r.Group} {
				assert.NotEmpty(t, text, what)
			}
			for _, l := range r.Limits {
				_, ok := checks.ParameterNamed(l)
				assert.True(t, ok, "limit %s", l)
			}
			var bad []string
			for _, f := range All().Check(analyze(r.Bad), checks.Options{Today: today}).Findings {
				bad = append(bad, f.Rule)
				assert.Equal(t, r.Name, f.Rule, "the bad example fires this rule and no other: %s", f.Message)
			}
			assert.NotEmpty(t, bad, "the bad example fires")
			for _, f := range All().Check(analyze(r.Good), checks.Options{Today: today}).Findings {
				assert.Fail(t, "the good example is clean", "%s: %s\n%s", f.Rule, f.Message, r.Good)
			}
			if r.Category == finding.Language {
				assert.Fail(t, "a rule has a consequence")
			}
		})
	}
}

// Every rule that the package declares is in the list, in its own file.
func TestEveryRuleIsListed(t *testing.T) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	declared := regexp.MustCompile(`(?m)^var \w+ = &checks\.Rule\{\s*Name:\s*"(\w+)"`)
	count := 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, m := range declared.FindAllStringSubmatch(string(data), -1) {
			count++
			assert.NotNil(t, All().Named(m[1]), "%s is not in the list", m[1])
			assert.Equal(t, m[1]+".go", file, "a rule's file has its name")
		}
	}
	assert.Equal(t, len(All()), count, "each rule is declared with its name first")
}

func TestParametersAreGood(t *testing.T) {
	read := map[string]bool{}
	for _, r := range All() {
		for _, l := range r.Limits {
			read[l] = true
		}
	}
	for _, p := range checks.Parameters() {
		assert.NotEmpty(t, p.Means, p.Name)
		assert.NotEmpty(t, p.Source, p.Name)
		assert.True(t, p.Minimum != "" || p.Maximum != "", p.Name)
		for _, v := range []string{p.Minimum, p.Maximum} {
			if v != "" {
				assert.Equal(t, p.Dim, asWritten(t, v).Dim, "%s %s", p.Name, v)
				assert.Positive(t, asWritten(t, v).Value, fmt.Sprint(p.Name, " ", v))
			}
		}
	}
}

// An acceptance silences exactly the findings of its rule on its name, and
// they are listed; past its date they come back.
func TestAcceptances(t *testing.T) {
	text := plated("wrap top 0.3 mm", "wrap bottom 0.2 mm") + "accept wrap_land on wall because \"agreed\" until \"2027-01-15\"\n"
	out := All().Check(analyze(text), checks.Options{Today: "2027-01-15"})
	assert.Empty(t, out.Findings)
	require.Len(t, out.Accepted, 2)
	assert.Equal(t, "agreed", out.Accepted[0].By.Because.Text)
	out = All().Check(analyze(text), checks.Options{Today: "2027-01-16"})
	assert.Empty(t, out.Accepted)
	var got []string
	for _, f := range out.Findings {
		got = append(got, f.Rule)
	}
	assert.Equal(t, []string{"wrap_land", "wrap_land", "acceptance_expired"}, got)
}

// No text can exhaust memory with findings: the first are reported, and that
// there are more.
func TestFindingsAreBounded(t *testing.T) {
	text := "outline rectangle 60 mm by 40 mm\n" +
		strings.Repeat("tab t on south at 20 mm width 0.1 mm perforated hole 0.01 mm pitch 0.02 mm inset 1 mm\n", 6000)
	found := All().Check(analyze(text), checks.Options{}).Findings
	var more int
	rules := 0
	for _, f := range found {
		if f.Category != finding.Language {
			rules++
		}
		if strings.Contains(f.Message, "more findings than the 20000") {
			more++
		}
	}
	assert.LessOrEqual(t, rules, checks.MaxFindings)
	assert.Equal(t, 1, more)
}

// asWritten is a quantity as the language writes it.
func asWritten(t testing.TB, text string) quantity.Quantity {
	t.Helper()
	q, ok := syntax.Quantity(text)
	require.True(t, ok, text)
	return q
}
