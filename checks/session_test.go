package checks_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// typed checks the versions of one text, each after the one before, and wants
// of each what a check that knows of no other finds. It returns the messages of
// the last.
func typed(t *testing.T, c checks.Catalogue, versions ...string) []string {
	t.Helper()
	var session checks.Session
	var a *lang.Analysis
	var last []string
	for _, text := range versions {
		a = lang.Analyze(source.New("a.hem", text), nil, a)
		last = messages(c.Check(a, checks.Options{Session: &session}))
		fresh := lang.Analyze(source.New("a.hem", text), nil, nil)
		require.Equal(t, messages(c.Check(fresh, checks.Options{})), last, text)
	}
	return last
}

func messages(o checks.Outcome) []string {
	list := []string{}
	for _, f := range o.Findings {
		list = append(list, f.Message)
	}
	return list
}

const shell = "outline rectangle 20 mm by 10 mm\nplating wall { along west; net GND }\n"

// reader is how a rule may reach notes so that no one who reads its text sees it.
type reader interface{ Notes() []*board.Note }

var throughVariable = func(b *board.Board) reader { return b }

func reporting(name string, run func(*checks.Pass) string) *checks.Rule {
	return &checks.Rule{Name: name, Category: finding.Tidy, Run: func(p *checks.Pass) {
		if says := run(p); says != "" {
			p.Report(p.Board.OutlineItem().Keyword, nil, "%s", says)
		}
	}}
}

// A rule is run again whenever what it read may say something else, however it
// came to read it.
func TestReadsAreRecorded(t *testing.T) {
	hidden := reporting("hidden", func(p *checks.Pass) string {
		var said []string
		for _, n := range throughVariable(p.Board).Notes() {
			said = append(said, n.Text.Text)
		}
		return "notes: " + strings.Join(said, ", ")
	})
	assert.Equal(t, []string{"notes: two"}, typed(t, checks.Catalogue{hidden}, shell+"note \"one\"\n", shell+"note \"two\"\n"))
	assert.Equal(t, []string{"notes: "}, typed(t, checks.Catalogue{hidden}, shell+"note \"one\"\n", shell))
}

// A rule that read nothing of what differs is not run again, and what it found
// moves with its text.
func TestRulesThatReadNothingOfItAreNotRunAgain(t *testing.T) {
	runs := 0
	rule := reporting("of_platings", func(p *checks.Pass) string {
		runs++
		return p.Board.Platings()[0].Name.Text
	})
	c := checks.Catalogue{rule}
	var session checks.Session
	var a *lang.Analysis
	for i, text := range []string{shell, shell + "note \"two\"\n", "// first\n" + shell + "note \"two\"\n", "// first\n" + shell + "tab t on east at middle width 2 mm solid\n"} {
		a = lang.Analyze(source.New("a.hem", text), nil, a)
		found := c.Check(a, checks.Options{Session: &session}).Findings
		require.Len(t, found, 1)
		line := 0
		if i > 1 {
			line = 1
		}
		assert.Equal(t, line, found[0].File.LineOf(found[0].Span.Start))
	}
	assert.Equal(t, 1, runs)
	a = lang.Analyze(source.New("a.hem", strings.Replace(shell, "wall", "shield", 1)), nil, a)
	assert.Equal(t, "shield", c.Check(a, checks.Options{Session: &session}).Findings[0].Message)
	assert.Equal(t, 2, runs)
}

// What is worked out once for several rules counts as read by each of them.
func TestWhatIsWorkedOutOnceIsReadByEach(t *testing.T) {
	type key struct{}
	share := func(p *checks.Pass) string {
		return checks.Once(p, key{}, func() string {
			var names []string
			for _, n := range p.Board.Notes() {
				names = append(names, n.Text.Text)
			}
			return strings.Join(names, " ")
		})
	}
	c := checks.Catalogue{reporting("first", share), reporting("second", func(p *checks.Pass) string { return "again " + share(p) })}
	assert.Equal(t, []string{"two", "again two"}, typed(t, c, shell+"note \"one\"\n", shell+"note \"two\"\n"))
}

// Dates and limits are no part of a board, and a text of another name has other
// items: what a rule found under others is not taken over.
func TestDatesLimitsAndNamesOfFiles(t *testing.T) {
	dated := reporting("dated", func(p *checks.Pass) string { return "today is " + p.Today })
	limited := reporting("limited", func(p *checks.Pass) string { return p.Limits.Minimum("neck").String() })
	named := reporting("named", func(p *checks.Pass) string { return p.Root() })
	c := checks.Catalogue{dated, limited, named}
	var session checks.Session
	o := checks.Options{Session: &session, Today: "2027-01-15"}
	a := lang.Analyze(source.New("a.hem", shell), nil, nil)
	assert.Equal(t, []string{"today is 2027-01-15", "1.00 mm", "a.hem"}, messages(c.Check(a, o)))
	o.Today = "2027-01-16"
	assert.Equal(t, []string{"today is 2027-01-16", "1.00 mm", "a.hem"}, messages(c.Check(a, o)), "midnight")
	o.Limits = checks.LimitsFor(lang.Analyze(source.New("shop.hem", "fabricator shop { limit neck minimum 2 mm }\n"), nil, nil))
	assert.Equal(t, []string{"today is 2027-01-16", "2.00 mm", "a.hem"}, messages(c.Check(a, o)), "another shop")
	assert.Equal(t, []string{"today is 2027-01-16", "2.00 mm", "b.hem"}, messages(c.Check(lang.Analyze(source.New("b.hem", shell), nil, a), o)), "another name")
}

// A rule that looks at what others found reads what they read.
func TestARuleThatLooksAtOthersReadsAll(t *testing.T) {
	wide := &checks.Rule{Name: "wide", Category: finding.Tidy, Run: func(p *checks.Pass) {
		if len(p.Board.Notes()) == 0 {
			p.Report(p.Board.OutlineItem().Keyword, []string{"wall"}, "no note")
		}
	}}
	unused := &checks.Rule{Name: "unused", Category: finding.Tidy, AllRun: true, Run: func(p *checks.Pass) {
		for _, a := range p.Board.Acceptances() {
			if !p.Silences(a, a.On[0]) {
				p.Report(a.Name.At, nil, "nothing to accept")
			}
		}
	}}
	text := shell + "accept wide on wall because \"so\"\n"
	assert.Equal(t, []string{"nothing to accept"}, typed(t, checks.Catalogue{wide, unused}, text, text+"note \"one\"\n"))
	assert.Empty(t, typed(t, checks.Catalogue{wide, unused}, text+"note \"one\"\n", text))
}

// A finding may be completed after another has been reported.
func TestAFindingIsCompletedLater(t *testing.T) {
	rule := &checks.Rule{Name: "two", Category: finding.Tidy, Run: func(p *checks.Pass) {
		first := p.Report(p.Board.OutlineItem().Keyword, nil, "first")
		for range 5 {
			p.Report(p.Board.Platings()[0].Keyword, nil, "another")
		}
		first.Fix = &finding.Fix{Title: "mend the first"}
	}}
	found := checks.Catalogue{rule}.Check(lang.Analyze(source.New("a.hem", shell), nil, nil), checks.Options{}).Findings
	require.NotNil(t, found[0].Fix)
	assert.Equal(t, "mend the first", found[0].Fix.Title)
}

// A view of a view marks in both sets.
func TestAViewOfAViewMarksBoth(t *testing.T) {
	nested := reporting("nested", func(p *checks.Pass) string {
		var own board.Reads
		return strings.Repeat("n", len(p.Board.Recording(&own).Notes()))
	})
	assert.Equal(t, []string{"nn"}, typed(t, checks.Catalogue{nested}, shell+"note \"one\"\n", shell+"note \"one\"\nnote \"two\"\n"))
}

// What another catalogue found is not taken over.
func TestASessionHoldsForItsCatalogue(t *testing.T) {
	one := checks.Catalogue{reporting("one", func(*checks.Pass) string { return "one" })}
	two := checks.Catalogue{reporting("two", func(*checks.Pass) string { return "two" }), reporting("three", func(*checks.Pass) string { return "three" })}
	var session checks.Session
	a := lang.Analyze(source.New("a.hem", shell), nil, nil)
	assert.Equal(t, []string{"one"}, messages(one.Check(a, checks.Options{Session: &session})))
	assert.ElementsMatch(t, []string{"two", "three"}, messages(two.Check(a, checks.Options{Session: &session})))
	assert.Equal(t, []string{"one"}, messages(one.Check(a, checks.Options{Session: &session})))
}

// Rules that did not come to run, since there were too many findings before
// them, have found nothing that may be taken over.
func TestTooManyFindingsAreNotKept(t *testing.T) {
	many := &checks.Rule{Name: "many", Category: finding.Tidy, Run: func(p *checks.Pass) {
		if len(p.Board.Notes()) > 0 {
			for range checks.MaxFindings + 1 {
				p.Report(p.Board.OutlineItem().Keyword, nil, "again")
			}
		}
	}}
	after := reporting("after", func(p *checks.Pass) string { return "after" })
	assert.Equal(t, []string{"after"}, typed(t, checks.Catalogue{many, after}, shell+"note \"one\"\n", shell))
}
