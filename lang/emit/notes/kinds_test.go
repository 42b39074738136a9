package notes_test

import (
	"strings"
	"testing"

	"hemline/lang"
	"hemline/lang/emit/notes"
	"hemline/lang/langtest"
)

func TestEachKindIsInTheNotes(t *testing.T) {
	langtest.EachKindShows(t, func(a *lang.Analysis) string {
		return strings.Join(notes.Texts(notes.Make(a.Board(), notes.Figures{})), "\n")
	}, map[string]string{
		"hem": "nothing to build", "typical": "nothing itself; what is like it is noted", "use": "the fabricator's own", "fabricator": "the fabricator's own", "accept": "findings are no notes", "feature": "the artwork's own copper", "part": "a weight, for the report",
		"connector": "the gap for it is noted",
	})
}
