package copper_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"
	"weak"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/geom"
	"hemline/lang/source"
)

const mm = 1e6

// everyKind is a board that has a piece of each kind.
const everyKind = `stack { copper top 35 um; dielectric a 0.5 mm; copper mid 17 um; dielectric b 0.5 mm; copper bottom 35 um }
outline rectangle 60 mm by 40 mm corner 1 mm
cutout window rectangle 6 mm by 4 mm corner 1 mm at (30 mm, 20 mm)
plating wall { along west; net GND; wrap top 0.8 mm; wrap bottom 0.6 mm; layers mid }
plating supply { along window.west; net V5; wrap top 0.5 mm; wrap bottom 0.5 mm; layers mid }
plane on mid net GND pullback 1 mm
relief lid over wall on top reach 1 mm margin 0.2 mm
castellation row on east from 10 mm to 14 mm pitch 2 mm hole 0.8 mm land 1.2 mm by 1.1 mm net TX RX TX
fence stitch along north inset 1 mm hole 0.3 mm pitch 5 mm net GND land 0.6 mm
hole post diameter 1 mm at (10 mm, 10 mm) plated net GND land 2 mm
hole mount diameter 3 mm at (50 mm, 30 mm) unplated
connector jack on south at 30 mm { body 8 mm reach 2 mm; net RF; pin top width 1 mm length 3 mm; pin bottom width 1 mm length 3 mm }
feature pad on top circle 2 mm at (20 mm, 30 mm) net V5
tab t1 on north at 20 mm width 3 mm perforated hole 0.5 mm pitch 0.8 mm
`

func boardOf(t *testing.T, text string) *board.Board {
	a := lang.Analyze(source.New("a.hem", text), nil, nil)
	require.Empty(t, a.Findings())
	return a.Board()
}

// within is a look that tells of all pairs of pieces of two items that come as
// near as that.
func within(reach float64) *copper.Look {
	l := &copper.Look{Margin: 0.1 * mm, Bounds: []float64{reach}, Past: [2]float64{0.5 * mm, 0.5 * mm}}
	for a := range copper.Kinds {
		l.Inside[a] = a != copper.Body
		for b := range copper.Kinds {
			l.Reach[a][b] = reach
		}
	}
	l.Needs = func(_ *copper.Map, a, b *copper.Piece) float64 {
		if a.Of() == b.Of() {
			return -1
		}
		return reach
	}
	return l
}

func TestABoardHasPiecesOfEveryKind(t *testing.T) {
	m := copper.Of(boardOf(t, everyKind), within(0))
	count := map[copper.Kind]int{}
	m.Each(func(p *copper.Piece) {
		count[p.Kind]++
		if p.Kind != copper.Plane {
			assert.NotEmpty(t, p.Shape(), p.Kind)
		}
		for _, l := range p.Shape() {
			assert.Equal(t, p.Box(), p.Box().Union(l.Box().Grow(-1)), "%s of %s", p.Kind, p.Name())
		}
	})
	// One profile each of outline and window; wraps on two faces; the wall runs to
	// the plane of its net and the supply has a strip; north is 58 mm long without
	// its corners, with a via each 5 mm; 3 mm of tab hold four holes of that pitch.
	assert.Equal(t, map[copper.Kind]int{
		copper.Wall: 2, copper.Wrap: 4, copper.Strip: 1, copper.Run: 1, copper.Barrel: 3, copper.Land: 3, copper.Via: len(boardOf(t, everyKind).Fences()[0].Vias),
		copper.Pad: len(boardOf(t, everyKind).Fences()[0].Vias), copper.PlatedHole: 1, copper.Ring: 2, copper.Drilled: 1, copper.Pin: 2, copper.Body: 1, copper.Feature: 1,
		copper.Plane: 1, copper.Tab: 1, copper.Perforation: 4, copper.Cutout: 1, copper.Edge: 2,
		copper.Opening: 1 + 2 + 2 + 1, // the relief's, the pins', the rings', the feature's
	}, count)
	for k := range copper.Kinds {
		assert.Positive(t, count[k], k)
	}
}

// Distances are those of the shapes, by hand from the figures of the text.
func TestWhatIsNearWhat(t *testing.T) {
	b := boardOf(t, strings.Replace(everyKind, "at (20 mm, 30 mm) net V5", "at (2.2 mm, 20 mm) net V5", 1))
	m := copper.Of(b, within(1.3*mm))
	told := map[string]float64{}
	for _, n := range m.Near() {
		if n.B.Name() == "pad" || n.A.Name() == "pad" {
			names := fmt.Sprintf("%s of %s, %s of %s", n.A.Kind, n.A.Name(), n.B.Kind, n.B.Name())
			told[names] = n.D
			assert.InDelta(t, n.D, n.PA.Dist(n.PB), 1, names)
		}
	}
	for names, d := range map[string]float64{
		"wall of wall, feature of pad":             1.2 * mm,
		"wrap of wall, feature of pad":             0.4 * mm,
		"feature of pad, mask opening of lid":      0.2 * mm,
		"wrap of wall, mask opening of pad":        0.3 * mm, // the opening is 0.1 mm larger all round
		"mask opening of pad, mask opening of lid": 0.1 * mm,
	} {
		got, ok := told[names]
		if !ok { // told the other way round, of two of one kind
			got, ok = told[strings.Join([]string{strings.Split(names, ", ")[1], strings.Split(names, ", ")[0]}, ", ")]
		}
		assert.True(t, ok, "%s in %v", names, told)
		assert.InDelta(t, d, got, 1, names)
	}
	assert.NotContains(t, told, "wall of supply, feature of pad", "too far off")
}

// What lies off the board, in a cutout included.
func TestWhatIsOffTheBoard(t *testing.T) {
	b := boardOf(t, everyKind+"feature out on top circle 2 mm at (59.5 mm, 30 mm) net V5\nfeature inside on bottom circle 1 mm at (30 mm, 20 mm) net V5\nfeature on_it on top circle 2 mm at (58.9 mm, 35 mm) net V5\n")
	var off []string
	for _, p := range copper.Of(b, within(0)).Off() {
		if p.Kind == copper.Feature {
			off = append(off, p.Name())
		}
	}
	slices.Sort(off)
	assert.Equal(t, []string{"inside", "out"}, off)
}

// The border of a plane with a pullback is as far from every edge as stated:
// along the window too, and no corner of it is nearer.
func TestABorderKeepsItsDistance(t *testing.T) {
	m := copper.Of(boardOf(t, everyKind), within(0))
	for _, pullback := range []float64{0, 0.4 * mm, 2 * mm, 9 * mm} {
		border := m.Border(pullback, nil)
		require.False(t, border.Empty(), "%.1f mm", pullback/mm)
		nearest := map[string]float64{}
		m.Each(func(p *copper.Piece) {
			if p.Kind == copper.Edge || p.Kind == copper.Wall {
				if d, _ := border.Distance(p, 100*mm); d < nearest[p.Stretch().Profile.Name]-1 || nearest[p.Stretch().Profile.Name] == 0 {
					nearest[p.Stretch().Profile.Name] = d
				}
			}
		})
		assert.InDelta(t, pullback, nearest["outline"], 2)
		assert.InDelta(t, pullback, nearest["window"], 2)
	}
	assert.True(t, m.Border(30*mm, nil).Empty(), "the board is 40 mm high")
}

// In a rectangle the border is the rectangle's sides where these keep the distance,
// and elsewhere the lines of the whole border.
func TestABorderInARectangle(t *testing.T) {
	b := boardOf(t, "outline rectangle 40 mm by 30 mm\ncutout window circle 4 mm at (20 mm, 15 mm)\n")
	m := copper.Of(b, within(0))
	for _, c := range []struct {
		x0, y0, x1, y1, long float64 // of the border
	}{
		{10, 5, 15, 10, 4 * 5},
		{-5, -5, 10, 40, 2*9 + 2*28},
		{0, 0, 1, 30, 0},
		{0, 0, 1.5, 30, 2*0.5 + 2*28},
		{1, 1, 11, 29, 2*10 + 2*28}, // sides along lines count once
		{15, 5, 20, 25, 2*5 + 20 + 2*(10-3) + math.Pi*3},
		{18, 13, 22, 17, 0}, // in the window
	} {
		border := m.Border(1*mm, &geom.Box{Min: geom.Point{X: c.x0 * mm, Y: c.y0 * mm}, Max: geom.Point{X: c.x1 * mm, Y: c.y1 * mm}})
		assert.Equal(t, c.long == 0, border.Empty(), c)
		assert.InDelta(t, c.long, border.Length()/mm, 1e-4, c)
	}
}

// Where a gap takes from a plane's rectangle the last of a wall, the wall's other
// stretches have copper of their own, in a map that is made from the one before too.
func TestAPatchedMapOfAPlaneInARectangle(t *testing.T) {
	const text = "stack { copper top 35 um; dielectric a 0.5 mm; copper one 35 um; dielectric b 0.5 mm; copper bottom 35 um }\noutline rectangle 40 mm by 30 mm\n" +
		"plating w { along west; along east; net G; layers one }\nplane on one net G pullback 1 mm within (0 mm, 5 mm) to (9 mm, 9 mm)\n"
	kinds := func(m *copper.Map) (runs, strips int) {
		m.Each(func(p *copper.Piece) {
			runs, strips = runs+map[bool]int{true: 1}[p.Kind == copper.Run], strips+map[bool]int{true: 1}[p.Kind == copper.Strip]
		})
		return runs, strips
	}
	before := lang.Analyze(source.New("b.hem", text), nil, nil)
	look := copper.PiecesAlone()
	old := copper.Of(before.Board(), look)
	runs, strips := kinds(old)
	assert.Equal(t, [2]int{1, 0}, [2]int{runs, strips})
	after := lang.Analyze(source.New("b.hem", text+"gap g of w on west from 4 mm to 10 mm\n"), nil, before)
	runs, strips = kinds(copper.Since(old, after.Board(), look))
	assert.Equal(t, [2]int{0, 3}, [2]int{runs, strips})
}

// A via that is to be added has a pad where a plane of its net lies, which is seen as
// planes come and go; the artwork's own has those that are stated.
func TestPadsInside(t *testing.T) {
	const fence = "fence yet along west from 10 mm to 20 mm inset 2 mm pitch 5 mm hole 0.3 mm land 0.6 mm net V9 added\n"
	look := within(0.1 * mm)
	layers := func(m *copper.Map) (list []string) {
		for _, p := range m.Pieces(func(p *copper.Piece) bool { return p.Kind == copper.Pad && p.Name() == "yet" }) {
			on := ""
			for _, l := range []string{"top", "mid", "bottom"} {
				if p.Layers&m.Layer(l) != 0 {
					on += l[:1]
				}
			}
			list = append(list, on)
		}
		return list
	}
	a := lang.Analyze(source.New("b.hem", everyKind+fence), nil, nil)
	m := copper.Of(a.Board(), look)
	assert.Equal(t, []string{"tb", "tb", "tb"}, layers(m))
	const plane = "plane on mid net V9 pullback 1 mm within (0 mm, 0 mm) to (3 mm, 16 mm)\n"
	a = lang.Analyze(source.New("b.hem", everyKind+fence+plane), nil, a)
	m = copper.Since(m, a.Board(), look)
	assert.Equal(t, []string{"tmb", "tmb", "tb"}, layers(m))
	a = lang.Analyze(source.New("b.hem", everyKind+fence), nil, a)
	m = copper.Since(m, a.Board(), look)
	assert.Equal(t, []string{"tb", "tb", "tb"}, layers(m))
	for _, other := range []string{strings.Replace(fence, " added", "", 1), strings.Replace(fence, " net V9", "", 1), strings.Replace(fence, "V9", "GND", 1)} {
		m = copper.Of(boardOf(t, everyKind+other+plane), look)
		assert.Equal(t, strings.Contains(other, "GND"), layers(m)[0] == "tmb", other)
	}
}

// A map that is made from the one before tells what one made anew tells.
func TestAPatchedMapTellsWhatANewOneTells(t *testing.T) {
	pieces := []string{"feature more on top circle 1 mm at (1.5 mm, 9 mm) net V9\n", "gap g of wall on west at middle width 4 mm\n", "hole more diameter 1 mm at (10.5 mm, 11 mm) unplated\n",
		"cutout more circle 2 mm at (20 mm, 9 mm)\n", "plane on bottom net V5 pullback 0.3 mm\n", "plane on mid net GND pullback 0.3 mm within (0 mm, 0 mm) to (60 mm, 12 mm)\n", "plating more { along north; net V9; wrap top 0.2 mm }\n",
		"tab more on east at middle width 2 mm solid\n", "tab rooted on west at 12 mm width 2 mm solid premetallised\n", "feature inside on mid circle 1 mm at (0.8 mm, 12 mm) net GND\n", "relief more over row on top reach 1.2 mm\n", "fence more along south inset 1 mm pitch 2 mm hole 0.3 mm net GND\n"}
	tell := func(m *copper.Map) string {
		var list []string
		name := func(p *copper.Piece) string {
			return fmt.Sprint(p.Kind, p.Name(), p.Member, p.Layers, p.Stretch().From, p.Stretch().To)
		}
		for _, n := range m.Near() {
			list = append(list, fmt.Sprintf("%s %s %.3f %v", name(n.A), name(n.B), n.D, n.PA))
		}
		for _, p := range m.Off() {
			list = append(list, "off "+name(p))
		}
		slices.Sort(list)
		return strings.Join(list, "\n")
	}
	lines := strings.SplitAfter(everyKind, "\n")
	r := rand.New(rand.NewPCG(1, 2))
	var a *lang.Analysis
	var m *copper.Map
	look := within(0.7 * mm)
	for range 200 {
		text := slices.Clone(lines)
		if r.IntN(3) == 0 {
			text = slices.Delete(text, 3, 4+r.IntN(2))
		}
		for range r.IntN(3) {
			text = slices.Insert(text, 3+r.IntN(len(text)-3), pieces[r.IntN(len(pieces))])
		}
		if r.IntN(10) == 0 {
			look = within(float64(r.IntN(1000)) * 1e3)
		}
		a = lang.Analyze(source.New("a.hem", strings.Join(text, "")), nil, a)
		m = copper.Since(m, a.Board(), look)
		fresh := copper.Of(lang.Analyze(source.New("a.hem", strings.Join(text, "")), nil, nil).Board(), look)
		require.Equal(t, tell(fresh), tell(m), strings.Join(text, ""))
	}
}

// A map takes pieces over from those before it, and must hold none of these:
// a text that is typed in would hold every version that it ever had.
func TestAMapHoldsNoneBeforeIt(t *testing.T) {
	var a *lang.Analysis
	var m *copper.Map
	var maps []weak.Pointer[copper.Map]
	var boards []weak.Pointer[board.Board]
	look := within(0.7 * mm)
	for i := range 8 {
		more := fmt.Sprintf("feature more on top circle %d mm at (15 mm, 9 mm) net V9\ngap g of wall on west at middle width %d mm\n", 1+i, 1+i)
		a = lang.Analyze(source.New("a.hem", everyKind+more), nil, a)
		b := a.Board()
		m = copper.Since(m, b, look)
		maps, boards = append(maps, weak.Make(m)), append(boards, weak.Make(b))
	}
	a = nil
	runtime.GC()
	for i := range maps[:6] {
		assert.True(t, maps[i].Value() == nil, "the map of version %d of %d", i+1, len(maps))
		assert.True(t, boards[i].Value() == nil, "the board of version %d of %d", i+1, len(boards))
	}
	runtime.KeepAlive(m)
}
