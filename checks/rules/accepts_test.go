package rules

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/board"
	"hemline/lang/langtest"
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
			for _, name := range f.On {
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
