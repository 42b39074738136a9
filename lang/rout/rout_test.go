package rout_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/rout"
	"hemline/lang/source"
)

const mm = 1e6

func read(t *testing.T, text string) *board.Board {
	t.Helper()
	a := lang.Analyze(source.New("a.hem", text), nil, nil)
	require.Empty(t, a.Findings())
	return a.Board()
}

const plate = "outline rectangle 40 mm by 30 mm\n"

// The largest usual bit is taken that leaves two fifths of each tab, passes
// inside corners and fits a cutout; the shop's finest where none is thin enough.
func TestBits(t *testing.T) {
	for _, c := range []struct {
		text  string
		least float64
		want  float64 // of the last profile
	}{
		{plate, 0.8, 2.4},
		{plate, 3, 3},
		{plate + "tab t on south at middle width 4 mm solid", 0.8, 2.4},
		{plate + "tab t on south at middle width 3.9 mm solid", 0.8, 2},
		{plate + "tab t on south at middle width 2 mm solid premetallised\ntab u on north at middle width 4 mm solid", 0.8, 1.2},
		{plate + "tab t on south at middle width 1.2 mm solid", 0.3, 0.7},
		{plate + "tab t on south at middle width 1.2 mm solid", 0.8, 0.8},
		{plate + "cutout c slot 8 mm by 1.7 mm at (20 mm, 15 mm)", 0.8, 1.6},
		{plate + "cutout c rectangle 9 mm by 9 mm corner 1 mm at (20 mm, 15 mm)", 0.8, 2},
		{plate + "cutout c rectangle 9 mm by 9 mm at (20 mm, 15 mm)\ntab t on south at middle width 2 mm solid", 0.8, 2.4},
	} {
		b := read(t, c.text)
		bits := rout.BitsOf(b, c.least*mm)
		profiles := b.Profiles()
		assert.InDelta(t, c.want*mm, bits.Bit(profiles[len(profiles)-1]), 1, c.text)
	}
}

// W - D halfway along a slot as wide as the bit: 4 - 2.4; a tab no wider than
// the bit is cut through.
func TestWaist(t *testing.T) {
	b := read(t, plate+"tab t on south at middle width 4 mm solid")
	bits := rout.BitsOf(b, 0.8*mm)
	assert.InDelta(t, 1.6*mm, bits.Tab(b.Tabs()[0]).Waist, 1)
	assert.True(t, bits.Spares(b.Tabs()[0]))
	bits = rout.BitsOf(b, 2.41*mm)
	assert.False(t, bits.Spares(b.Tabs()[0]))
	bits = rout.BitsOf(b, 5*mm)
	assert.Zero(t, bits.Tab(b.Tabs()[0]).Waist)
}

// On an arc the bits' middles stand on another circle: 2·(R ∓ D/2)·sin(W/2R) - D,
// by hand 0.482 mm in a bore of 8 mm by a bit of 1.2 mm, which is too little for a
// tab of 2 mm, and 0.981 mm by one of 0.8 mm; a tab no longer than a bit takes a finer one.
func TestWaistOnArcs(t *testing.T) {
	b := read(t, plate+"cutout bore circle 8 mm at (20 mm, 15 mm)\ntab t on bore.rim at 4 mm width 2 mm solid")
	assert.InDelta(t, 0.482*mm, rout.BitsOf(b, 1.2*mm).Tab(b.Tabs()[0]).Waist, 0.001*mm)
	assert.InDelta(t, 0.981*mm, rout.BitsOf(b, 0.8*mm).Tab(b.Tabs()[0]).Waist, 0.001*mm)
	assert.InDelta(t, 0.8*mm, rout.BitsOf(b, 0.5*mm).Bit(b.Cutouts()[0].Profile), 1)
	round := read(t, "outline circle 20 mm\ntab t on rim at 10 mm width 3 mm solid")
	assert.InDelta(t, 1.288*mm, rout.BitsOf(round, 1.8*mm).Tab(round.Tabs()[0]).Waist, 0.001*mm)
	short := read(t, plate+"tab t on south at middle width 4 mm solid length 1.5 mm")
	assert.InDelta(t, 1.2*mm, rout.BitsOf(short, 0.8*mm).Bit(short.Outline()), 1)
}

// What is not a tab's root is cut, once: plated stretches first, over a
// profile's start too.
func TestPasses(t *testing.T) {
	b := read(t, plate+`plating w { along west; net G }
gap g of w on west at middle width 6 mm
tab t on west at middle width 4 mm solid
tab u on south at 2 mm width 4 mm solid
tab v on west at 6 mm width 4 mm solid premetallised`)
	long := func(list []board.Stretch) (sum float64) {
		for _, s := range list {
			sum += s.Length() / mm
		}
		return sum
	}
	outline := b.Outline()
	bits := rout.BitsOf(b, 0.8*mm)
	plated, bare := bits.Plated(outline), bits.Bare(outline)
	assert.InDelta(t, 30-6-4, long(plated), 1e-6)
	assert.InDelta(t, 40+30+40-4+6-4, long(bare), 1e-6)
	assert.Len(t, plated, 3, "beside the gap, and on either side of the premetallised tab")
	assert.Len(t, bare, 3, "a millimetre on either side of the tab, and the rest from tab u to the wall")
}

// Between the root and the board's own side across from it lie the tab's slot,
// frame as wide as the waist and the slot along that side: by hand 1.2 + 1.8 +
// 1.2 mm for a tab of 3 mm and a bit of 1.2 mm, so that 4.2 mm take no larger
// one; where even the finest leaves too little the tab has no say. A side that
// slants takes more: its slot, along the ray, is D/cos wide.
func TestFaces(t *testing.T) {
	slot := func(wide, tab string) string {
		return plate + "cutout slit slot 12 mm by " + wide + " at (20 mm, 15 mm)\ntab t on slit.rim at 5 mm width 3 mm solid" + tab
	}
	for _, c := range []struct {
		text                string
		bit, across, needed float64 // mm; across is 0 where frame is left
	}{
		{slot("4.2 mm", ""), 1.2, 0, 0},
		{slot("4.19 mm", ""), 1, 0, 0},
		{slot("3.8 mm", ""), 0.8, 0, 0},
		{slot("3.79 mm", ""), 1.6, 3.79, 3.8},
		{slot("5 mm", " length 2 mm"), 1.6, 0, 0},
		{slot("4.99 mm", " length 2 mm"), 1.6, 4.99, 5},
		{plate + "cutout bore circle 4 mm at (20 mm, 15 mm)\ntab t on bore.rim at 3 mm width 2 mm solid", 0.8, 0, 0},
		{"outline circle 20 mm\ntab t on rim at 10 mm width 4 mm solid", 2.4, 0, 0},
	} {
		b := read(t, c.text)
		tab := b.Tabs()[0]
		bits := rout.BitsOf(b, 0.8*mm)
		face, ok := bits.Faces(tab)
		assert.InDelta(t, c.bit*mm, bits.Bit(tab.Edge.Profile), 1, c.text)
		assert.Equal(t, c.across > 0, ok, c.text)
		assert.InDelta(t, c.across*mm, face.Across, 10, c.text)
		assert.InDelta(t, c.needed*mm, face.Needed, 10, c.text)
	}
}
