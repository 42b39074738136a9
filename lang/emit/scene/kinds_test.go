package scene

import (
	"fmt"
	"testing"

	"hemline/lang"
	"hemline/lang/langtest"
)

func TestEachKindIsInTheScene(t *testing.T) {
	langtest.EachKindShows(t, func(a *lang.Analysis) string {
		s := Build(a.Board(), 0)
		out := fmt.Sprint(s.Name, s.Thickness, s.Inner, s.Edges)
		for _, i := range s.Items {
			out += fmt.Sprintln(i.ID, i.Of, i.Parts, i.Facts)
		}
		return out
	}, map[string]string{
		"hem": "no thing on the board", "use": "a shop is none", "fabricator": "a shop is none", "tolerance": "no thing on the board", "typical": "nothing itself; what is like it shows", "criteria": "no thing on the board", "delivery": "no thing on the board", "leave": "no thing on the board", "accept": "no thing on the board", "note": "no thing on the board",
	})
}
