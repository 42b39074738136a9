package copper_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/geom"
)

// twoPlanes is a board with planes on two layers, and what else is said of it.
func twoPlanes(t *testing.T, rest string) (*board.Board, *copper.Map, [][]copper.Side) {
	t.Helper()
	b := boardOf(t, "stack { copper top 35 um; dielectric core 1 mm; copper bottom 35 um }\n"+rest)
	m := copper.PlanesAlone(b)
	var top, bottom []*board.Plane
	for _, p := range b.Planes() {
		if p.Layer.Text == "top" {
			top = append(top, p)
		} else {
			bottom = append(bottom, p)
		}
	}
	rings, ok := m.Sheets([][]*board.Plane{top, bottom}).Common(0, 1)
	require.True(t, ok, "the sides close")
	return b, m, rings
}

// measured is the area that rings bound, mm², and how much of their length lies
// along plated stretches, mm.
func measured(rings [][]copper.Side) (area, plated float64) {
	for _, ring := range rings {
		segs := make([]geom.Segment, len(ring))
		for i, s := range ring {
			segs[i] = s.Segment
			if s.On != nil {
				plated += s.Length()
			}
		}
		area += geom.NewLoop(segs).SignedArea()
	}
	return area / mm / mm, plated / mm
}

func TestCommonIsWhatBothPlanesCover(t *testing.T) {
	const gnd = "plane on top bottom net GND pullback 1 mm\n"
	// By hand: areas of rectangles, strips and discs.
	for name, c := range map[string]struct {
		text         string
		rings        int
		area, plated float64
	}{
		"nothing plated":               {"outline rectangle 40 mm by 30 mm\n" + gnd, 1, 38 * 28, 0},
		"plated all round":             {"outline rectangle 40 mm by 30 mm\nplating wall { along all; net GND }\n" + gnd, 1, 40 * 30, 140},
		"one side":                     {"outline rectangle 40 mm by 30 mm\nplating wall { along south; net GND }\n" + gnd, 1, 38*28 + 40, 40},
		"a gap":                        {"outline rectangle 40 mm by 30 mm\nplating wall { along all; net GND }\ngap mouth of wall on south at 20 mm width 5 mm\n" + gnd, 1, 40*30 - 5, 135},
		"a plane of another net":       {"outline rectangle 40 mm by 30 mm\nplating wall { along all; net GND }\nplane on top net GND pullback 1 mm\nplane on bottom net V3 pullback 2 mm\n", 1, 36 * 26, 0},
		"the greater pullback":         {"outline rectangle 40 mm by 30 mm\nplane on top net GND pullback 1 mm\nplane on bottom net GND pullback 3 mm\n", 1, 34 * 24, 0},
		"rectangles":                   {"outline rectangle 40 mm by 30 mm\nplane on top net GND pullback 1 mm within (0 mm, 0 mm) to (20 mm, 30 mm)\nplane on bottom net GND pullback 1 mm within (10 mm, 5 mm) to (40 mm, 30 mm)\n", 1, 10 * 24, 0},
		"rectangles apart":             {"outline rectangle 40 mm by 30 mm\nplane on top net GND pullback 1 mm within (0 mm, 0 mm) to (9 mm, 30 mm)\nplane on bottom net GND pullback 1 mm within (10 mm, 5 mm) to (40 mm, 30 mm)\n", 0, 0, 0},
		"two rectangles of one net":    {"outline rectangle 40 mm by 30 mm\nplane on top net GND pullback 1 mm within (0 mm, 0 mm) to (9 mm, 30 mm)\nplane on top net GND pullback 1 mm within (15 mm, 0 mm) to (40 mm, 30 mm)\nplane on bottom net GND pullback 1 mm\n", 2, (8 + 24) * 28, 0},
		"rectangles that meet are one": {"outline rectangle 40 mm by 30 mm\nplane on top net GND pullback 1 mm within (0 mm, 0 mm) to (9 mm, 30 mm)\nplane on top net GND pullback 1 mm within (9 mm, 0 mm) to (40 mm, 30 mm)\nplane on bottom net GND pullback 1 mm\n", 1, 38 * 28, 0},
		"a cutout, bare":               {"outline rectangle 40 mm by 30 mm\ncutout window circle 6 mm at (20 mm, 15 mm)\n" + gnd, 2, 38*28 - math.Pi*16, 0},
		"a cutout, plated":             {"outline rectangle 40 mm by 30 mm\ncutout window circle 6 mm at (20 mm, 15 mm)\nplating w { along window.rim; net GND }\n" + gnd, 2, 38*28 - math.Pi*9, 6 * math.Pi},
		"a disc":                       {"outline circle 30 mm\nplating wall { along rim; net GND }\n" + gnd, 1, math.Pi * 225, 30 * math.Pi},
		"no pullback":                  {"outline rectangle 40 mm by 30 mm\nplating wall { along south west; net GND }\nplane on top bottom net GND pullback 0 mm\n", 1, 40 * 30, 70},
		"nothing left of a plane":      {"outline rectangle 40 mm by 30 mm\nplane on top net GND pullback 1 mm\nplane on bottom net GND pullback 16 mm\n", 0, 0, 0},
	} {
		t.Run(name, func(t *testing.T) {
			_, _, rings := twoPlanes(t, c.text)
			area, plated := measured(rings)
			assert.Len(t, rings, c.rings)
			assert.InDelta(t, c.area, area, 1e-4)
			assert.InDelta(t, c.plated, plated, 1e-4)
		})
	}
}

// What two planes cover and a third does not: by hand, a rim that a greater pullback
// leaves, what lies beside a rectangle, and nothing.
func TestBesideIsWhatAThirdLeaves(t *testing.T) {
	for third, want := range map[string]struct {
		rings int
		area  float64
	}{
		"pullback 3 mm":   {2, 38*28 - 34*24},
		"pullback 0.5 mm": {0, 0},
		"pullback 1 mm within (0 mm, 0 mm) to (20 mm, 30 mm)":   {1, 19 * 28},
		"pullback 1 mm within (18 mm, 13 mm) to (22 mm, 17 mm)": {2, 38*28 - 4*4},
	} {
		b := boardOf(t, "stack { copper top 35 um; dielectric a 1 mm; copper mid 35 um; dielectric c 1 mm; copper bottom 35 um }\noutline rectangle 40 mm by 30 mm\nplane on top net GND pullback 1 mm\nplane on bottom net GND pullback 0.2 mm\nplane on mid net V3 "+third+"\n")
		var sets [][]*board.Plane
		for _, p := range b.Planes() {
			sets = append(sets, []*board.Plane{p})
		}
		rings, ok := copper.PlanesAlone(b).Sheets(sets).Beside(0, 1, 2)
		require.True(t, ok, third)
		area, _ := measured(rings)
		assert.Len(t, rings, want.rings, third)
		assert.InDelta(t, want.area, area, 1e-4, third)
	}
}

// Points are held to what a plane is: as far from every profile as its pullback, or in
// a run to a wall, in its rectangle; the rings must wind round those alone that lie in
// a plane of either set.
func TestCommonAgainstPoints(t *testing.T) {
	n := 0
	for _, text := range []string{
		"outline rectangle 40 mm by 30 mm corner 3 mm\ncutout a slot 12 mm by 3 mm turned 30 deg at (20 mm, 15 mm)\ncutout b circle 5 mm at (33 mm, 8 mm)\nplating wall { along south east; net GND }\nplating hole { along a.rim from 3 mm to 14 mm; net GND }\ngap mouth of wall on south at 22 mm width 4 mm\nplane on top net GND pullback 0.5 mm\nplane on bottom net GND pullback 1.5 mm within (3 mm, 0 mm) to (40 mm, 26 mm)\n",
		"outline { start (0 mm, 0 mm); line a to (30 mm, 0 mm); line b to (30 mm, 12 mm); line c to (14 mm, 18 mm); line d to (14 mm, 34 mm); line e to (0 mm, 34 mm); close f }\nplating wall { along a c e; net GND }\nplane on top bottom net GND pullback 0.8 mm\n",
		"outline rectangle 40 mm by 30 mm\ncutout a circle 8 mm at (12 mm, 15 mm)\ncutout b circle 8 mm at (21 mm, 15 mm)\nplating wall { along north; net GND }\nplane on top net GND pullback 1 mm\nplane on bottom net V3 pullback 0.4 mm within (1 mm, 2 mm) to (19 mm, 30 mm)\nplane on bottom net V3 pullback 0.4 mm within (22 mm, 2 mm) to (39.8 mm, 30 mm)\n",
	} {
		b, m, rings := twoPlanes(t, text)
		covers := func(p *board.Plane, at geom.Point) bool {
			if p.Within != nil && !p.Within.Contains(at) {
				return false
			}
			least := math.Inf(1)
			for _, x := range b.Profiles() {
				_, _, d := x.Path.Nearest(at)
				least = min(least, d)
			}
			if least >= p.Pullback.Value {
				return true
			}
			for _, r := range m.Pieces(func(x *copper.Piece) bool { return x.Kind == copper.Run && x.Plane() == p }) {
				for _, l := range r.Shape() {
					if l.Contains(at) {
						return true
					}
				}
			}
			return false
		}
		r := rand.New(rand.NewPCG(1, 2))
		for range 5000 {
			at := geom.Point{X: r.Float64() * 42 * mm, Y: r.Float64() * 36 * mm}
			want := map[string]bool{}
			for _, p := range b.Planes() {
				want[p.Layer.Text] = want[p.Layer.Text] || b.OnBoard(at) && covers(p, at)
			}
			winds := 0
			for _, ring := range rings {
				segs := make([]geom.Segment, len(ring))
				for i, s := range ring {
					segs[i] = s.Segment
				}
				if l := geom.NewLoop(segs); l.Contains(at) {
					if l.Clockwise() {
						winds--
					} else {
						winds++
					}
				}
			}
			in := 0
			if want["top"] && want["bottom"] {
				in, n = 1, n+1
			}
			require.Equal(t, in, winds, "%v\n%s", board.Coordinates(at), text)
		}
	}
	assert.Greater(t, n, 3000)
}
