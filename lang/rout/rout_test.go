package rout_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/geom"
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
// one; where no bit leaves enough it is the one that leaves most. The slots that its `length`
// makes are as wide across from it.
func TestNecks(t *testing.T) {
	slot := func(wide, tab string) string {
		return plate + "cutout slit slot 16 mm by " + wide + " at (20 mm, 15 mm)\ntab t on slit.rim at 7 mm width 3 mm solid" + tab
	}
	for _, c := range []struct {
		text       string
		bit, width float64 // mm; 0 for the waist
		short      bool
	}{
		{slot("4.2 mm", ""), 1.2, 1.8, false},
		{slot("4.19 mm", ""), 1, 2, false},
		{slot("3.8 mm", ""), 0.8, 2.2, false},
		{slot("3.79 mm", ""), 0.8, 2.19, true},
		{slot("6.2 mm", " length 2 mm"), 1.6, 1.4, false},
		{slot("5.4 mm", " length 2 mm"), 1.6, 1.4, false},
		{slot("5.39 mm", " length 2 mm"), 1.6, 1.39, true},
		{plate + "cutout bore circle 4 mm at (20 mm, 15 mm)\ntab t on bore.rim at 3 mm width 2 mm solid", 0.8, 0, false},
		{"outline circle 20 mm\ntab t on rim at 10 mm width 4 mm solid", 2.4, 0, false},
	} {
		b := read(t, c.text)
		tab := b.Tabs()[0]
		bits := rout.BitsOf(b, 0.8*mm)
		neck := bits.Neck(tab)
		assert.InDelta(t, c.bit*mm, bits.Bit(tab.Edge.Profile), 1, c.text)
		if c.width == 0 {
			c.width = neck.Waist / mm
		}
		assert.InDelta(t, c.width, neck.Width/mm, 0.001, c.text)
		assert.Equal(t, c.short, neck.Short(), c.text)
	}
}

// throat is a board of 50 by 30 mm with a pocket behind a throat in its south edge.
func throat(width string, more string) string {
	return "outline {\n start (0 mm, 0 mm)\n line s0 to (20 mm, 0 mm)\n line t1 to (20 mm, 10 mm)\n line p1 to (16 mm, 10 mm) corner 1.5 mm\n" +
		" line p2 to (16 mm, 16 mm) corner 1.5 mm\n line p3 to (26 mm, 16 mm) corner 1.5 mm\n line p4 to (26 mm, 10 mm) corner 1.5 mm\n" +
		" line p5 to (20 mm + " + width + ", 10 mm)\n line t2 to (20 mm + " + width + ", 0 mm)\n line s1 to (50 mm, 0 mm)\n line e to (50 mm, 30 mm)\n line n to (0 mm, 30 mm)\n close w\n}\n" + more
}

// The largest bit that passes a throat cuts the profile; one under a millimetre cuts
// the throat alone, and of one that none passes both sides stand: 10 mm each.
func TestThroats(t *testing.T) {
	for _, c := range []struct {
		width string
		main  float64 // mm
		cuts  []float64
		left  float64 // mm
	}{
		{"2.4 mm", 2.4, []float64{2.4}, 0},
		{"2.3 mm", 2, []float64{2}, 0},
		{"1.2 mm", 1.2, []float64{1.2}, 0},
		{"0.9 mm", 2.4, []float64{2.4, 0.8, 0.8}, 0},
		{"0.8 mm", 2.4, []float64{2.4, 0.8, 0.8}, 0},
		{"0.5 mm", 2.4, []float64{2.4, 0.8, 0.8}, 20},
	} {
		b := read(t, throat(c.width, ""))
		bits := rout.BitsOf(b, 0.8*mm)
		assert.InDelta(t, c.main*mm, bits.Bit(b.Outline()), 1, c.width)
		var cuts []float64
		left := 0.0
		for _, s := range bits.Bare(b.Outline()) {
			list, rest := bits.Cuts(s)
			for _, cut := range list {
				cuts = append(cuts, cut.Bit/mm)
			}
			for _, r := range rest {
				left += r.Length() / mm
			}
		}
		assert.InDeltaSlice(t, c.cuts, cuts, 1e-6, c.width)
		assert.InDelta(t, c.left, left, 1e-3, c.width)
	}
}

// Where a plated stretch meets a bare one the circles of both bits' ends stand
// 2·R·sin 15° apart, so that they cross at 30 degrees, by hand 0.62117 mm for a bit
// of 2.4 mm, half of it on either side; at a tab's side and a sharp corner they end
// where the stretch does.
func TestPassesMeetAtThirtyDegrees(t *testing.T) {
	b := read(t, plate+"plating w { along south from 10 mm to 40 mm; net G }\ntab t on south at 5 mm width 4 mm solid")
	bits := rout.BitsOf(b, 0.8*mm)
	first, final := bits.Passes(rout.First), bits.Passes(rout.Final)
	require.Len(t, first, 1)
	assert.Equal(t, 2.4*mm, first[0].Bit, "which leaves two fifths of the tab")
	assert.InDelta(t, 10*mm+1.2*mm*math.Sin(math.Pi/12), first[0].Path[0].A.X, 10)
	assert.InDelta(t, 40*mm, first[0].Path[len(first[0].Path)-1].B.X, 10, "to the sharp corner")
	assert.InDelta(t, -1.2*mm, first[0].Path[0].A.Y, 10)
	require.Len(t, final, 2)
	ends := map[string]float64{}
	for _, p := range final {
		last := p.Path[len(p.Path)-1].B
		if last.Y < 0 && last.X > 6*mm && last.X < 20*mm {
			ends["before"] = last.X / mm
			ends["from tab"] = p.Path[0].A.X / mm
		}
	}
	assert.InDelta(t, 10-1.2*math.Sin(math.Pi/12), ends["before"], 1e-5)
	assert.InDelta(t, 7, ends["from tab"], 1e-6)
}

// The board lies to the left of every pass; a bit comes down and goes up half a
// millimetre off the edge where there is room, and nowhere nearer than it cuts.
func TestLeads(t *testing.T) {
	b := read(t, plate+"cutout c rectangle 12 mm by 9 mm corner 2 mm at (20 mm, 15 mm)\ncutout d slot 6 mm by 1 mm at (33 mm, 15 mm)\ntab t on south at middle width 4 mm solid")
	bits := rout.BitsOf(b, 0.8*mm)
	led := 0
	for _, p := range bits.Passes(rout.Final) {
		for _, g := range p.Path {
			if g.Length() < 1 || p.Of.Profile.Name == "d" { // whose sides both touch
				continue
			}
			at := g.At(g.Length() / 2)
			near, _, d := p.Of.Profile.Path.Nearest(at)
			assert.InDelta(t, p.Bit/2, d, 10)
			assert.Positive(t, g.Tangent(g.Length()/2).Cross(near.Sub(at)), "the edge is to the left, %s", p.Of.Profile.Name)
		}
		if len(p.In) > 0 {
			led++
			_, _, d := p.Of.Profile.Path.Nearest(p.In[0].A)
			assert.Greater(t, d, p.Bit/2+0.4*mm, p.Of.Profile.Name)
			assert.Equal(t, p.Path[0].A, p.In[len(p.In)-1].B)
		}
	}
	assert.Equal(t, 2, led, "the outline and the wide cutout; in a slot as wide as the bit there is no room")
}

// A slot as wide as the tab is long is cut in passes side by side, 2.4 mm and then up
// to 5 mm off the profile; the last pass takes a tab off from slot to slot, and starts
// within it where copper runs up to its side.
func TestFramesAndRemoval(t *testing.T) {
	b := read(t, plate+"tab t on south at middle width 4 mm solid length 5 mm removal rout")
	bits := rout.BitsOf(b, 0.8*mm)
	most, frames := 0.0, 0
	for _, p := range bits.Passes(rout.Final) {
		if p.Frame {
			frames++
		}
		for _, g := range p.Path {
			most = math.Min(most, g.A.Y)
		}
	}
	assert.Equal(t, 2, frames, "(5 - 2.4) / (0.75 · 2.4) is 1.4")
	assert.InDelta(t, -3.8*mm, most, 100, "5 mm less half the bit")
	off := bits.Passes(rout.Removal)
	require.Len(t, off, 1)
	assert.InDelta(t, 17.5*mm, off[0].Path[0].A.X, 10, "half a millimetre before the side, at 18 mm")
	assert.InDelta(t, 22.5*mm, off[0].Path[len(off[0].Path)-1].B.X, 10)
	over := read(t, plate+"plating w { along south; net G }\ntab t on south at middle width 4 mm solid premetallised removal rout")
	off = rout.BitsOf(over, 0.8*mm).Passes(rout.Removal)
	require.Len(t, off, 1)
	assert.InDelta(t, 18*mm+2.4*mm*math.Sin(math.Pi/12), off[0].Path[0].A.X, 10)
}

// A bit that cuts an inside corner touches both of its sides half its diameter from
// it: 2.4 mm leave a tab that starts 1 mm from it 0.2 mm less, so 2 mm are taken.
func TestRootsBesideInsideCorners(t *testing.T) {
	b := read(t, plate+"cutout c rectangle 20 mm by 12 mm at (20 mm, 15 mm)\ntab t on c.south at 3.5 mm width 5 mm solid")
	assert.InDelta(t, 2*mm, rout.BitsOf(b, 0.8*mm).Bit(b.Cutouts()[0].Profile), 1)
	assert.InDelta(t, 5*mm, rout.BitsOf(b, 0.8*mm).Tab(b.Tabs()[0]).Root, 1)
	thick := rout.BitsOf(b, 2.4*mm).Tab(b.Tabs()[0])
	assert.InDelta(t, 4.8*mm, thick.Root, 1)
	assert.InDelta(t, 1.2*mm, thick.Radius, 1)
}

// In an opening that is plated in part the final bit keeps 0.1 mm from the plating
// across: in a slot of 1.6 mm it is no wider than 1.4. One that is plated all round,
// or not at all, takes the widest.
func TestTheFinalBitKeepsFromPlatingAcross(t *testing.T) {
	slot := plate + "cutout c slot 8 mm by 1.6 mm at (20 mm, 15 mm)\n"
	for more, want := range map[string]float64{"": 1.6, "plating w { along c.rim; net G }": 1.6, "plating w { along c.rim from 1 mm to 5 mm; net G }": 1.2} {
		b := read(t, slot+more)
		assert.InDelta(t, want*mm, rout.BitsOf(b, 0.8*mm).Bit(b.Cutouts()[0].Profile), 1, more)
	}
	notch := "outline {\n start (0 mm, 0 mm)\n line s0 to (20 mm, 0 mm)\n line a to (20 mm, 6 mm)\n line b to (21.69 mm, 6 mm)\n line c to (21.69 mm, 0 mm)\n line s1 to (50 mm, 0 mm)\n line e to (50 mm, 30 mm)\n line n to (0 mm, 30 mm)\n close w\n}\n"
	for more, want := range map[string]float64{"": 1.6, "plating w { along n; net G }": 1.6, "plating w { along a; net G }": 1.2} {
		b := read(t, notch+more)
		assert.InDelta(t, want*mm, rout.BitsOf(b, 0.8*mm).Bit(b.Outline()), 1, more)
	}
}

// A bit that fits the rounding of an opening cuts all of it at once, plated or not. Where
// plated meets bare beside it the pass along the side stays back by D·sin 15° then, which
// puts the copper's end half as far off: of 1.6 mm by 0.21 mm, so that 1.2 mm are taken.
func TestNoBitFitsARoundingWherePlatedMeetsBare(t *testing.T) {
	window := plate + "cutout c rectangle 9 mm by 9 mm corner 0.8 mm at (20 mm, 15 mm)\n"
	for more, want := range map[string]float64{
		"": 1.6, "plating w { along c.south c.east c.north c.west; net G }": 1.6, "plating w { along c.south; net G }": 1.2,
		"plating w { along c.south from 2 mm to 5 mm; net G }": 1.6,
	} {
		b := read(t, window+more)
		assert.InDelta(t, want*mm, rout.BitsOf(b, 0.8*mm).Bit(b.Cutouts()[0].Profile), 1, more)
	}
}

// Where a side meets a rounding that the finest bit fits, the bit's middle stands still in
// the rounding: the pass along the side stays back by all of D·sin 15°, by hand 0.20706 mm
// of 0.8 mm. In a sharp inside corner the first pass goes all the way, and the final one
// starts D·sin 15°, by hand 0.62117 mm of 2.4 mm, past where that touches the other side.
func TestOnePassStaysBackBesideACorner(t *testing.T) {
	ends := func(kind rout.Kind, corner string) (start, end geom.Point) {
		b := read(t, plate+"cutout c rectangle 12 mm by 9 mm "+corner+"at (20 mm, 15 mm)\nplating w { along c.south; net G }")
		for _, p := range rout.BitsOf(b, 0.8*mm).Passes(kind) {
			if p.Of.Profile.Cutout {
				return p.Path[0].A, p.Path[len(p.Path)-1].B
			}
		}
		return start, end
	}
	first, last := ends(rout.First, "corner 0.4 mm ")
	assert.InDelta(t, 25.6*mm-0.20706*mm, first.X, 20)
	assert.InDelta(t, 14.4*mm+0.20706*mm, last.X, 20)
	first, _ = ends(rout.Final, "corner 0.4 mm ")
	assert.InDelta(t, 14.4*mm, first.X, 20)
	first, _ = ends(rout.First, "")
	assert.InDelta(t, 24.8*mm, first.X, 20)
	first, _ = ends(rout.Final, "")
	assert.InDelta(t, 10.5*mm+1.2*mm+0.62117*mm, first.Y, 20)
	assert.InDelta(t, 15.2*mm, first.X, 20)
}

// A tab in a hollow, where what is square to the edge converges, keeps the waist that
// the pass beside the board leaves, out to its length: by hand the bits' middles there
// are as far apart as beside the board. What others take off is in no pass.
func TestFramesInAHollow(t *testing.T) {
	b := read(t, plate+"cutout bore circle 16 mm at (20 mm, 15 mm)\ntab t on bore.rim at 4 mm width 3 mm solid length 4 mm removal rout by customer")
	bits := rout.BitsOf(b, 0.8*mm)
	tab := b.Tabs()[0]
	middle := tab.Edge.Point(tab.Position)
	frames := 0
	for _, p := range bits.Passes(rout.Final) {
		if p.Of.Profile != tab.Edge.Profile {
			continue
		}
		start, end := p.Path[0].A, p.Path[len(p.Path)-1].B
		assert.GreaterOrEqual(t, start.Dist(end), bits.Tab(tab).Waist+p.Bit-100)
		assert.Less(t, start.Dist(middle), 8*mm)
		if p.Frame {
			frames++
		}
	}
	assert.Positive(t, frames)
	assert.Empty(t, bits.Passes(rout.Removal))
}

// The passes of a bit are tried before it is taken: one that ends the copper elsewhere, or
// that wedges in a throat between plated and bare side, gives way to a finer one.
func TestBitsThatPassWhereTheyAreTried(t *testing.T) {
	rounding := read(t, plate+"cutout c slot 8 mm by 1.11 mm at (20 mm, 15 mm)\nplating q { along c.rim from 1 mm to 7.19 mm; net G }")
	assert.InDelta(t, 0.5*mm, rout.BitsOf(rounding, 0.5*mm).Bit(rounding.Cutouts()[0].Profile), 1) // one of 1 mm fits it
	assert.Empty(t, rout.BitsOf(rounding, 0.5*mm).Strays())
	throat := read(t, plate+`cutout c { start (19.36 mm, 13 mm); line p0 to (19.36 mm, 10 mm) corner 0.4 mm; line p1 to (20.64 mm, 10 mm) corner 0.4 mm; line p2 to (20.64 mm, 13 mm) corner 0.4 mm; arc p3 to (19.36 mm, 13 mm) around (20 mm, 15.2 mm) corner 0.4 mm }
plating q { along c.p3 from 2.5 mm to 13.0987 mm; along c.p0 from 0 mm to 1.5 mm; net G }`)
	assert.InDelta(t, 1*mm, rout.BitsOf(throat, 0.8*mm).Bit(throat.Cutouts()[0].Profile), 1)
	assert.Empty(t, rout.BitsOf(throat, 0.8*mm).Strays())
}
