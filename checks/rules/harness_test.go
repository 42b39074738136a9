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
	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/langtest"
	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

const today = "2027-01-15"

// The rules' tests are texts that say themselves what is found in them:
// testdata/NAME.hem tests the rule NAME, in sections as langtest.Section and its
// Expect describe them.
//
// Only the rule under test runs, so that a section need not be a whole board;
// for one that looks at other rules' findings all run, and its own are looked
// at. Findings of the text itself always count. Today is 2027-01-15. Every fix
// is tried under all rules.
func TestRules(t *testing.T) {
	for _, r := range All() {
		t.Run(r.Name, func(t *testing.T) {
			fires, silent := 0, 0
			var found []finding.Located
			items, related := false, false // stated
			for _, s := range langtest.Sections(t, filepath.Join("testdata", r.Name+".hem")) {
				t.Run(s.Title, func(t *testing.T) {
					own := ofRule(r, s.Expect(t, under(r), underAll))
					if len(own) > 0 {
						fires++
					} else {
						silent++
					}
					found = append(found, own...)
				})
				items, related = items || s.StatesItems(), related || s.StatesRelated()
			}
			assert.Positive(t, fires, "a section on which the rule fires")
			assert.Positive(t, silent, "a near miss on which it is silent")
			assert.True(t, items || !slices.ContainsFunc(found, func(f finding.Located) bool { return len(f.Items) > 0 }), "a section that says what the rule's findings are on")
			assert.True(t, related || !slices.ContainsFunc(found, func(f finding.Located) bool { return len(f.Related) > 0 }), "a section that says what places are related")
		})
	}
	files, err := filepath.Glob("testdata/*.hem")
	require.NoError(t, err)
	for _, f := range files {
		assert.NotNil(t, All().Named(strings.TrimSuffix(filepath.Base(f), ".hem")), "%s tests no rule", f)
	}
}

// underAll finds what the text and all rules say.
func underAll(a *lang.Analysis) []finding.Located {
	return All().Check(a, checks.Options{Today: today, Modes: modes}).Findings
}

// modes are kept from text to text: most mistakes leave the planes as they are.
var modes = figures.NewStore(nil)

// under finds what the text and one rule say.
func under(r *checks.Rule) langtest.Finder {
	return func(a *lang.Analysis) []finding.Located {
		if !r.AllRun {
			return All().Check(a, checks.Options{Today: today, Only: []*checks.Rule{r}}).Findings
		}
		return slices.DeleteFunc(underAll(a), func(f finding.Located) bool { return f.Rule != r.Name && f.Category != finding.Language })
	}
}

// ofRule are a rule's own findings.
func ofRule(r *checks.Rule, found []finding.Located) []finding.Located {
	return slices.DeleteFunc(slices.Clone(found), func(f finding.Located) bool { return f.Rule != r.Name })
}

// unraced leaves a test out that works one board after another and takes long with
// the race detector; .ci/run runs it without.
func unraced(t *testing.T) {
	t.Helper()
	if raced {
		t.Skip("one board after another, which takes ten times as long with the race detector")
	}
}

// passedOver tells which of what is numbered is left out with the race detector: all
// but each tenth.
func passedOver(n int) bool { return raced && n%10 != 0 }

func analyze(text string) *lang.Analysis { return readText(langtest.RootPath, text) }

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
	unraced(t)
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
