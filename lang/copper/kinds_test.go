package copper_test

import (
	"fmt"
	"testing"

	"hemline/lang"
	"hemline/lang/copper"
	"hemline/lang/langtest"
)

// Every kind of statement is on the map, or it is said why not.
func TestEachKindOnTheMap(t *testing.T) {
	langtest.EachKindShows(t, func(a *lang.Analysis) string {
		m, out := copper.Of(a.Board(), copper.PiecesAlone()), ""
		m.Each(func(p *copper.Piece) {
			out += fmt.Sprintln(p.Kind, p.Name(), p.Member, p.Net().Text, m.Names(p.Layers), p.Box(), p.Stretch().From, p.Stretch().To)
		})
		return out
	}, map[string]string{
		"hem": "no thing on the board", "part": "a weight, for the report", "use": "no thing on the board", "board": "no thing on the board", "note": "no thing on the board",
		"fabricator": "limits are handed in", "tolerance": "no thing on the board", "typical": "nothing itself; what is like it shows", "criteria": "no thing on the board", "delivery": "no thing on the board", "marking": "print, no metal", "leave": "no thing on the board", "accept": "findings are no metal",
	})
}
