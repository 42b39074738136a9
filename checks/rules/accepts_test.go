package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/langtest"
	"hemline/lang/syntax"
)

// The table of kinds says which items a finding may be on, so that an
// acceptance may name them: those that a rule's texts show, and no other.
func TestAcceptancesMayBeOnWhatFindingsAreOn(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range langtest.Sections(t, "testdata/*.hem") {
		a := s.Analyze()
		for _, f := range underAll(a) {
			if f.Rule == acceptanceUnused.Name || f.Rule == outlineOpen.Name {
				continue // on what an acceptance says, and on what is no item since it does not close
			}
			for _, name := range f.Items {
				of := kindsNamed(a.Board(), name)
				if slices.ContainsFunc(a.Board().Requests(), func(r board.Request) bool { return r.Item() == name }) {
					continue // what the board asks for goes by its clause
				}
				if name == "outline" && len(of) == 0 {
					continue // the outline has no name; it goes by its keyword
				}
				accepts := false
				for _, k := range of {
					accepts = accepts || k.Accepts
					seen[k.Word] = true
				}
				assert.True(t, accepts, "%s is on %s, which no acceptance may name:\n%s", f.Rule, name, s.Text())
			}
		}
	}
	for _, k := range board.Kinds() {
		if k.Accepts {
			assert.True(t, seen[k.Word], "no finding is on a %s", k.Word)
		}
	}
}

func kindsNamed(b *board.Board, name string) (list []*board.Kind) {
	for _, k := range board.Kinds() {
		if k.Find(b, name) != nil {
			list = append(list, k)
		}
	}
	return list
}

// Every finding is on one item or on two, and the statement that is offered to
// accept it silences it and those of its rule on the same items, and no other.
func TestWhatIsOfferedSilencesJustThatFinding(t *testing.T) {
	unraced(t)
	tried := 0
	for _, s := range append(langtest.Sections(t, "testdata/*.hem"), langtest.Examples(t, "../..")...) {
		found := underAll(s.Analyze())
		offered := map[string]bool{}
		for _, f := range found {
			if f.Category == finding.Language {
				assert.Empty(t, checks.Acceptance(&f.Finding), "%s is of the text", f.Rule)
				continue
			}
			if !assert.Contains(t, []int{1, 2}, len(f.Items), "%s: %s: %s is on %q", s.Name(), f.Rule, f.Message, f.Items) {
				continue
			}
			statement := strings.Replace(checks.Acceptance(&f.Finding), syntax.AsksWhy("accept"), "agreed with the shop", 1)
			if offered[statement] {
				continue
			}
			offered[statement] = true
			accepted := s.Each(func(path, text string) string {
				if path == langtest.RootPath {
					text += "\n" + statement + "\n"
				}
				return text
			})
			var want []string
			for _, x := range found {
				if x.Rule != f.Rule || parties(x.Items) != parties(f.Items) {
					want = append(want, told(x))
				}
			}
			var left []string
			for _, x := range underAll(accepted.Analyze()) {
				if x.Rule == notVerified.Name && f.Rule != x.Rule && !slices.ContainsFunc(found, func(y finding.Located) bool { return told(x) == told(y) }) {
					continue // a request that is not met since a pair is only accepted
				}
				left = append(left, told(x))
			}
			assert.ElementsMatch(t, want, left, "%s: %s", s.Name(), statement)
			tried++
		}
	}
	assert.Greater(t, tried, 300)
}

func told(f finding.Located) string {
	return fmt.Sprintf("%s %s: %s at %d", f.Rule, parties(f.Items), f.Message, f.Span.Start)
}

// parties are the items of a finding whichever is named first.
func parties(items []string) string {
	items = slices.Clone(items)
	slices.Sort(items)
	return strings.Join(items, " with ")
}

// The board, the outline and a gap's plating are no second item: beside one of
// them there is the item that the finding is about.
func TestWhatIsNoSecondItem(t *testing.T) {
	for _, s := range append(langtest.Sections(t, "testdata/*.hem"), langtest.Examples(t, "../..")...) {
		b := s.Analyze().Board()
		for _, f := range underAll(s.Analyze()) {
			if len(f.Items) != 2 || f.Rule == acceptanceUnused.Name || f.Rule == acceptanceExpired.Name {
				continue
			}
			for i, name := range f.Items {
				assert.NotEqual(t, "outline", name, "%s: %s", f.Rule, f.Message)
				assert.False(t, b.Info() != nil && b.Info().Name.Text == name && len(kindsNamed(b, name)) == 1, "%s: %s", f.Rule, f.Message)
				for _, g := range b.StatedGaps() {
					alone := len(kindsNamed(b, name)) == 1 && len(kindsNamed(b, f.Items[1-i])) == 1
					assert.False(t, alone && g.Name.Text == name && g.Of.Text == f.Items[1-i], "%s: %s", f.Rule, f.Message)
				}
			}
		}
	}
}
