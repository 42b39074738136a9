package langtest_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

// toy finds each statement `let bad = …`: it says how many lets there are,
// mends it as the note of the text says, and points at the board statement.
func toy(a *lang.Analysis) (list []finding.Located) {
	b := a.Board()
	for _, l := range b.Lets() {
		if !strings.HasPrefix(l.Name.Text, "bad") {
			continue
		}
		f := finding.Finding{Rule: "toy", Message: l.Name.Text + " is bad; there are " + strings.Repeat("1", len(b.Lets())), Place: l.Name.At, Items: []string{l.Name.Text}}
		if len(b.Notes()) > 0 {
			f.Fix = &finding.Fix{Title: "call it another name", Edits: []finding.Edit{{Place: l.Name.At, Text: b.Notes()[0].Text.Text}}}
		}
		if i := b.Info(); i != nil {
			f.Related = []finding.Related{{Place: i.Name.At, Message: "the board b"}}
		}
		file, span, _ := a.Locate(l.Name.At)
		list = append(list, finding.Located{Finding: f, File: file, Span: span})
	}
	return append(list, langtest.OfText(a)...)
}

func TestExpectationsThatAreNotMetAreSaid(t *testing.T) {
	const mendable = "\nnote \"good\"\n"
	for _, c := range []struct {
		name, text, wrong string // wrong is part of the one complaint, "" for none
	}{
		{"as expected", `let bad = 1 // want "bad is bad"`, ""},
		{"nothing at all", `let fine = 1`, ""},
		{"not expected", `let bad = 1`, "unexpected, a.hem:1: toy: bad is bad"},
		{"missing", `let fine = 1 // want "is bad"`, "missing, a.hem:1: is bad"},
		{"twice, found once", `let bad = 1 // want "is bad" "is bad"`, "missing, a.hem:1: is bad"},
		{"with quotes in it", `let a = "b" // want "found \"b\""`, ""},
		{"a fix as expected", `let bad = 1 // want "is bad" fix "another name"` + mendable, ""},
		{"two on one line, one with a fix", `let bad = "c" // want "found \"c\"" "is bad" fix "another name"` + mendable, ""},
		{"on the item", `let bad = 1 // want "is bad" on "bad"`, ""},
		{"on the item, with a fix", `let bad = 1 // want "is bad" on "bad" fix "another name"` + mendable, ""},
		{"related", "board b // related \"the board\"\nlet bad = 1 // want \"is bad\"", ""},
		{"related, behind a finding", `board b; let bad = 1 // want "is bad" related "the board"`, ""},
		{"related nowhere", `let fine = 1 // related "the board"`, "missing, a.hem:1: a related place: the board"},
		{"related elsewhere than expected", "board b // related \"the board\"\nlet bad = 1 // want \"is bad\"\nlet bad_too = 2 // want \"is bad\"", "unexpected, a.hem:1: a related place of toy: the board"},
		{"no quotes", "let fine = 1 // want is bad", "a.hem:1: this expectation cannot be read"},
		{"a fix of nothing", `let fine = 1 // fix "another name"`, "a.hem:1: this expectation cannot be read"},
		{"a fix of no title", `let fine = 1 // want "is bad" fix ""`, "a.hem:1: this expectation cannot be read"},
		{"carets under it", "let bad = 1 // want \"is bad\"\n//  ^^^", ""},
		{"carets beside it", "let bad = 1 // want \"is bad\"\n//  ^^^^^", `a.hem:1: toy covers "bad", not "bad ="`},
		{"carets under nothing", "let fine = 1\n//  ^^^^", "a.hem:2: the carets stand under no finding"},
		{"a fix that leaves it", `let bad = 1 // want "is bad" fix "another name"` + "\nnote \"bad\"\n", `the fix "call it another name" leaves its finding, toy: bad is bad`},
		{"a fix that brings another", `let bad = 1 // want "is bad" fix "another name"` + "\nnote \"bad_too\"\n", "brings toy on [\"bad_too\"]: bad_too is bad"},
		{"a fix that breaks the text", `let bad = 1 // want "is bad" fix "another name"` + "\nlet good = 1" + mendable, "brings duplicate_name on []: there is a let named good already"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := langtest.Section{File: "made.hem", Title: c.name, Texts: map[string]string{langtest.RootPath: c.text}}
			_, wrong := s.Compare(toy, toy)
			if c.wrong == "" {
				assert.Empty(t, wrong)
				return
			}
			if assert.Len(t, wrong, 1) {
				assert.Contains(t, wrong[0], c.wrong)
			}
		})
	}
}

// A fix that is not expected, one that is not offered and another item than is
// expected cost the finding its match.
func TestFixesAndItemsAreExpected(t *testing.T) {
	for name, text := range map[string]string{
		"not expected": `let bad = 1 // want "is bad"` + "\nnote \"good\"\n",
		"another item": `let bad = 1 // want "is bad" on "good"`,
		"not offered":  `let bad = 1 // want "is bad" fix "another name"`,
		"another":      `let bad = 1 // want "is bad" fix "the same name"` + "\nnote \"good\"\n",
	} {
		t.Run(name, func(t *testing.T) {
			s := langtest.Section{File: "made.hem", Title: name, Texts: map[string]string{langtest.RootPath: text}}
			found, wrong := s.Compare(toy, toy)
			assert.Len(t, found, 1)
			if assert.Len(t, wrong, 2) {
				assert.Contains(t, wrong[0], "unexpected, a.hem:1")
				assert.Contains(t, wrong[1], "missing, a.hem:1")
			}
		})
	}
}

// Figures that a fix changes make no new finding; rules count for a fix of the
// text only once it is read.
func TestWhatAFixBrings(t *testing.T) {
	of := func(rule, message string, category finding.Category, on ...string) finding.Located {
		return finding.Located{Finding: finding.Finding{Rule: rule, Message: message, Category: category, Items: on, Fix: &finding.Fix{Title: "mend"}}}
	}
	narrow, wide := of("gap", "3 mm of 4 mm", finding.Costly, "a"), of("gap", "3.5 mm of 4 mm", finding.Costly, "a")
	other, typo := of("wall", "none", finding.Tidy, "b"), of("syntax", "nothing", finding.Language)
	for _, c := range []struct {
		name          string
		f             finding.Located
		before, after []finding.Located
		wrong         int
	}{
		{"gone", narrow, []finding.Located{narrow}, nil, 0},
		{"one of two alike gone", narrow, []finding.Located{narrow, wide}, []finding.Located{wide}, 0},
		{"there with another figure", narrow, []finding.Located{narrow}, []finding.Located{wide}, 1},
		{"another with another figure", other, []finding.Located{other, narrow}, []finding.Located{wide}, 0},
		{"a new one", narrow, []finding.Located{narrow}, []finding.Located{other}, 1},
		{"of the same rule on another item", narrow, []finding.Located{narrow}, []finding.Located{of("gap", "3 mm of 4 mm", finding.Costly, "b")}, 1},
		{"a new one for another", narrow, []finding.Located{narrow, other}, []finding.Located{typo}, 1},
		{"of a rule, once the text is read", typo, []finding.Located{typo}, []finding.Located{other}, 0},
		{"of the text", typo, []finding.Located{typo}, []finding.Located{of("use", "none", finding.Language)}, 1},
	} {
		assert.Len(t, langtest.Mended(c.f, c.before, c.after), c.wrong, c.name)
	}
}

// Edits are made wherever they stand, in whatever order a fix names them.
func TestApplyMakesEveryEdit(t *testing.T) {
	a := lang.Analyze(source.New("a.hem", "let a = 1 mm\nlet b = 2 mm\n"), nil, nil)
	lets := a.Board().Lets()
	edits := []finding.Edit{{Place: lets[0].Name.At, Text: "first"}, {Place: lets[1].Name.At, Text: "second"}}
	for range 2 {
		edits[0], edits[1] = edits[1], edits[0]
		files := langtest.Apply(a, finding.Fix{Edits: edits})
		assert.Equal(t, "let first = 1 mm\nlet second = 2 mm\n", files["a.hem"].Text())
	}
}
