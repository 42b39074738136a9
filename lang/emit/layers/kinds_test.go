package layers

import (
	"testing"

	"hemline/lang"
	"hemline/lang/langtest"
)

func TestEachKindIsInTheLayers(t *testing.T) {
	langtest.EachKindShows(t, func(a *lang.Analysis) string {
		files, err := Build(a.Board(), usual)
		if err != nil {
			return err.Error()
		}
		out := ""
		for _, f := range files {
			out += f.Name + "\n" + string(f.Data)
		}
		return out
	}, map[string]string{
		"hem": "no thing on the board", "part": "a weight, for the report", "use": "limits are handed in", "tolerance": "no metal and no opening", "typical": "nothing itself; what is like it shows", "criteria": "no metal and no opening", "delivery": "no metal and no opening", "marking": "the shop's own print", "leave": "no metal and no opening", "fabricator": "limits are handed in", "accept": "findings are no layer's",
		"note": "for people",
	})
}
