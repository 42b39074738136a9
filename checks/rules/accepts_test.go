package rules

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang/board"
)

// The table of kinds says which items a finding may be on, so that an
// acceptance may name them: those that a rule's texts show, and no other.
func TestAcceptancesMayBeOnWhatFindingsAreOn(t *testing.T) {
	files, err := filepath.Glob("testdata/*.hem")
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, file := range files {
		for _, s := range sections(t, file) {
			a := analyze(s.text)
			for _, f := range All().Check(a, checks.Options{Today: today}).Findings {
				if f.Rule == acceptanceUnused.Name || f.Rule == outlineOpen.Name {
					continue // on what an acceptance says, and on what is no item since it does not close
				}
				for _, name := range f.On {
					of := kindsNamed(a.Board(), name)
					if name == "outline" && len(of) == 0 {
						continue // the outline has no name; it goes by its keyword
					}
					accepts := false
					for _, k := range of {
						accepts = accepts || k.Accepts
						seen[k.Word] = true
					}
					assert.True(t, accepts, "%s is on %s, which no acceptance may name:\n%s", f.Rule, name, s.text)
				}
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
