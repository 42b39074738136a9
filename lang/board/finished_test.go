package board_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/board"
)

// spans are where stretches start and end, mm.
func spans(list []board.Stretch) (out [][2]float64) {
	for _, s := range list {
		out = append(out, [2]float64{s.From / mm, s.To / mm})
	}
	return out
}

// Under a premetallised tab the copper turns over the faces, but there is no
// wall once the tab is cut; on a bare edge there is none to lose.
func TestTheRootOfAPremetallisedTabIsBare(t *testing.T) {
	b := build(t, "outline rectangle 20 mm by 10 mm\nplating w { along south east; net GND; wrap top 1 mm; layers all }\n"+
		"tab t on south at 8 mm width 4 mm solid premetallised\ntab u on north at 8 mm width 4 mm solid premetallised\ntab v on south at 15 mm width 2 mm solid\n")
	o, w := b.Outline(), b.PlatingNamed("w")
	assert.Equal(t, [][2]float64{{0, 30}}, spans(b.Wall(o).Plated))
	assert.Equal(t, [][2]float64{{0, 6}, {10, 30}}, spans(b.Finished(o).Plated))
	assert.Equal(t, [][2]float64{{6, 10}, {30, 60}}, spans(b.Finished(o).Bare))
	assert.Equal(t, [][2]float64{{0, 6}, {10, 30}}, spans(slices.Collect(b.Walled(b.Wall(o).Plated[0]))))
	assert.InDelta(t, 26*mm, b.PlatedLength(w), 1)
	assert.InDelta(t, 26.0/60, b.Finished(o).Share, 1e-9)
	assert.Equal(t, 2, b.OpeningCount(w), "the root is one")
	assert.InDelta(t, 29, b.WrapArea(w, board.Top)/mm/mm, 1e-6, "over the tab it runs on")
	rooted := slices.DeleteFunc(slices.Clone(b.Tabs()), func(t *board.Tab) bool { return !b.Rooted(t) })
	require.Len(t, rooted, 1)
	assert.Equal(t, "t", rooted[0].Name.Text)
	assert.Equal(t, rooted, b.RootsIn(b.Finished(o).Bare[0]))
	assert.Empty(t, b.RootsIn(b.Finished(o).Bare[1]))
	assert.Equal(t, "w 2", b.StretchNames()[b.Finished(o).Plated[1]])
}

// A root over a rim's start is bare on both sides of it.
func TestARootOverARimsStart(t *testing.T) {
	b := build(t, "outline circle 20 mm\nplating w { along rim; net GND; wrap top 1 mm }\ntab t on rim at 1 mm width 4 mm solid premetallised\n")
	f, l := b.Finished(b.Outline()), b.Outline().Path.Perimeter()
	require.Len(t, f.Bare, 1)
	assert.InDelta(t, 4*mm, f.Bare[0].Length(), 1)
	assert.InDelta(t, l-1*mm, f.Bare[0].From, 1)
	assert.Equal(t, f.Plated, slices.Collect(b.Walled(b.Wall(b.Outline()).Plated[0])))
}

// What two platings plate counts once, for the one that is stated first.
func TestAStretchCountsOnce(t *testing.T) {
	b := build(t, "outline rectangle 20 mm by 10 mm\nplating late { along south from 4 mm to 12 mm; net GND; wrap top 1 mm }\n"+
		"plating w { along south; net GND; wrap top 1 mm }\nplating third { along south from 0 mm to 5 mm; along east; net GND; wrap top 1 mm }\n")
	o := b.Outline()
	assert.Equal(t, [][2]float64{{0, 4}, {4, 12}, {12, 20}, {20, 30}}, spans(b.Finished(o).Plated))
	assert.InDelta(t, 8*mm, b.PlatedLength(b.PlatingNamed("late")), 1)
	assert.InDelta(t, 12*mm, b.PlatedLength(b.PlatingNamed("w")), 1)
	assert.InDelta(t, 10*mm, b.PlatedLength(b.PlatingNamed("third")), 1)
	assert.InDelta(t, 8, b.WrapArea(b.PlatingNamed("late"), board.Top)/mm/mm, 1e-6)
	assert.InDelta(t, 12, b.WrapArea(b.PlatingNamed("w"), board.Top)/mm/mm, 1e-6)
	assert.True(t, b.Runs(b.PlatingNamed("third")))
}
