package copper_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/geom"
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

// Where planes have rectangles each gives way in its own, and what no plane of its
// net lies round has its room on an inner layer.
func TestGivesWayInRectangles(t *testing.T) {
	b := boardOf(t, `stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper bottom 35 um }
outline rectangle 40 mm by 30 mm
plane on top one net G pullback 1 mm within (0 mm, 0 mm) to (20 mm, 30 mm)
plane on top one net X pullback 1 mm within (20 mm, 0 mm) to (30 mm, 30 mm)
hole in_g diameter 1 mm at (9 mm, 9 mm) plated net G
hole in_x diameter 1 mm at (25 mm, 9 mm) plated net G
hole both diameter 1 mm at (20 mm, 9 mm) plated net G
hole none diameter 1 mm at (35 mm, 9 mm) plated net G
hole bare diameter 1 mm at (9 mm, 20 mm) unplated
feature f on top circle 1 mm at (35 mm, 20 mm) net V
feature g on top circle 1 mm at (9 mm, 25 mm) net X
`)
	m := copper.Of(b, copper.PiecesAlone())
	room := copper.Room{Copper: copper.Distance{By: 0.5e6}, EdgeOuter: copper.Distance{By: 0.5e6}, EdgeInner: copper.Distance{By: 0.5e6}}
	const disc = 3.14159265 // mm², of a hole and its room
	for layer, want := range map[string]map[string]float64{
		"top": {"in_x": disc, "both": disc / 2, "bare": disc, "g": disc},
		"one": {"in_x": disc, "both": disc / 2, "none": disc, "bare": disc},
	} {
		got := map[string]float64{}
		m.GivesWay(layer, room, func(w copper.Way) {
			got[w.Name()] += geom.AreaCovered([][]*geom.Loop{w.Room()}, func(c []int) bool { return c[0] > 0 }) / 1e12
		})
		assert.Len(t, got, len(want), layer)
		for name, a := range want {
			assert.InDelta(t, a, got[name], 1e-3, "%s %s", layer, name)
		}
	}
}

// Beside a wall others keep from where its own planes end, and as far as these
// keep where the wall does not join them.
func TestFreeOfWallBesideRectangles(t *testing.T) {
	area := func(text string) float64 {
		b := boardOf(t, "stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper bottom 35 um }\noutline rectangle 40 mm by 30 mm\n"+text)
		m := copper.Of(b, copper.PiecesAlone())
		sum := 0.0
		for s := range b.PlatedBy(b.Platings()[0]) {
			sum += geom.AreaCovered([][]*geom.Loop{m.FreeOfWall(s, "one", copper.Room{WallInner: copper.Distance{By: 0.5e6}})}, func(c []int) bool { return c[0] > 0 }) / 1e12
		}
		return sum
	}
	const wall, apart, joined = "plating w { along south; net G; wrap top 0.5 mm", "; layers top }\n", "; layers one }\n"
	assert.InDelta(t, 40*0.5, area(wall+apart), 1e-3, "not joined")
	assert.InDelta(t, 0, area(wall+joined), 1e-3, "a strip of its own")
	assert.InDelta(t, 0, area(wall+joined+"plane on one net G pullback 1 mm\n"), 1e-3, "a plane all along")
	assert.InDelta(t, 30*0.5, area(wall+joined+"plane on one net G pullback 1 mm within (5 mm, 0 mm) to (15 mm, 9 mm)\n"), 1e-3)
	assert.InDelta(t, 30*0.5+10*0.2, area(wall+apart+"plane on one net G pullback 0.2 mm within (5 mm, 0 mm) to (15 mm, 9 mm)\n"), 1e-3)
	assert.InDelta(t, 0, area(wall+joined+"plane on one net G pullback 1 mm within (5 mm, 1 mm) to (15 mm, 9 mm)\n"), 1e-3, "one that it does not touch: a strip")
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
