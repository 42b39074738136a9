package copper_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/board"
	"hemline/lang/copper"
)

// A layer that a wall does not join keeps others' copper as far away as a shop
// asks, and a plane of the wall's net as far as that says, if less; on one that it
// joins, or that its wrap lies on, nothing is kept.
func TestOffWall(t *testing.T) {
	const text = `stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper two 35 um; dielectric c 0.5 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
plating w { along south; net G; wrap top 0.5 mm; layers one }
plane on two net G pullback `
	for _, c := range []struct {
		pullback, layer string
		planes          float64
		ok              bool
	}{
		{"0.3 mm", "top", 0, false}, {"0.3 mm", "one", 0, false}, {"0.3 mm", "two", 0.3e6, true}, {"0.7 mm", "two", 0.5e6, true}, {"0.3 mm", "bottom", 0.5e6, true},
	} {
		b := boardOf(t, text+c.pullback)
		need := copper.Distance{By: 0.5e6, Who: "shop"}
		others, planes, ok := copper.Of(b, copper.PiecesAlone()).OffWall(b.Platings()[0], c.layer, copper.Room{WallInner: need})
		assert.Equal(t, c.ok, ok, c)
		if ok {
			assert.Equal(t, need, others, c)
			assert.InDelta(t, c.planes, planes, 0, c)
		}
	}
}

// Room is given on the layers that a piece is on, by its kind and net.
func TestGivesWay(t *testing.T) {
	b := boardOf(t, `stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
plane on top net G pullback 1 mm
feature f on top circle 1 mm at (9 mm, 9 mm) net X
feature g on top circle 1 mm at (12 mm, 9 mm) net G
feature h on bottom circle 1 mm at (15 mm, 9 mm) net X
hole v diameter 1 mm at (18 mm, 9 mm) plated net G
hole u diameter 1 mm at (21 mm, 9 mm) unplated
`)
	m := copper.Of(b, copper.PiecesAlone())
	room := copper.Room{Copper: copper.Distance{By: 1}, EdgeOuter: copper.Distance{By: 2}, EdgeInner: copper.Distance{By: 3}}
	for layer, want := range map[string]map[string]float64{"top": {"f": 1, "u": 2}, "one": {"v": 1, "u": 3}, board.Bottom.String(): {"u": 2}} {
		got := map[string]float64{}
		m.GivesWay(layer, room, func(w copper.Way) { got[w.Name()] = w.By })
		assert.Equal(t, want, got, layer)
	}
}
