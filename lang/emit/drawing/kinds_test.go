package drawing

import (
	"fmt"
	"testing"

	"hemline/lang"
	"hemline/lang/emit/scene"
	"hemline/lang/langtest"
)

func TestEachKindIsDrawn(t *testing.T) {
	langtest.EachKindShows(t, func(a *lang.Analysis) string {
		sheets, err := Make(a.Board(), scene.Build(a.Board(), 0), Options{})
		if err != nil {
			return err.Error()
		}
		out := ""
		for _, s := range sheets {
			out += fmt.Sprintln(s.Title, s.Shapes, s.Texts)
		}
		return out
	}, map[string]string{
		"hem": "no thing on the board", "part": "a weight, for the report", "use": "a shop is none", "fabricator": "a shop is none", "accept": "findings are handed in",
		"note": "the notes are handed in", "tolerance": "in the notes, which are handed in", "typical": "nothing itself; what is like it shows", "criteria": "in the notes, which are handed in", "delivery": "in the notes, which are handed in",
		"leave": "in the notes, which are handed in",
	})
}
