package figures_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

func of(text string) *board.Board {
	return lang.Analyze(source.New("a.hem", text), nil, nil).Board()
}

// ends is how far each end of a plated stretch may be off.
func ends(mm float64) figures.Tolerances {
	return func(clause string) figures.Tolerance {
		q := quantity.Of(0, quantity.Millimetre)
		if clause == "gaps" {
			q = quantity.Of(mm, quantity.Millimetre)
		}
		return figures.Tolerance{Clause: clause, Quantity: q}
	}
}

// ring is a round board's openings: a board of 360 mm round whose rim is plated but
// for gaps from and to these millimetres, at 2.45 GHz in er 4.3, λ/2 = 29.506 mm.
func ring(gaps ...[2]float64) string {
	var s strings.Builder
	fmt.Fprintf(&s, "board b { frequency 2.45 GHz }\nstack { copper top 35 um; dielectric core 0.2 mm permittivity 4.3; copper bottom 35 um }\n")
	fmt.Fprintf(&s, "outline circle %.9f mm\nplating wall { along rim; net GND }\n", 360/math.Pi)
	for i, g := range gaps {
		fmt.Fprintf(&s, "gap g%d of wall on rim from %.6f mm to %.6f mm\n", i, g[0], g[1])
	}
	return s.String()
}

func shieldOf(t tester, text string, tolerances figures.Tolerances) figures.Shield {
	s, ok := figures.ShieldOf(of(text), tolerances)
	assert.True(t, ok)
	return s
}

type tester interface{ Errorf(string, ...any) }

// Worked numbers, computed: windows of half a wavelength over a ring of 360 mm, with
// openings of 4 mm at 2, 50 and 355 mm: those at 355 and 2 pair over the start.
func TestShieldOfARing(t *testing.T) {
	s := shieldOf(t, ring([2]float64{0, 4}, [2]float64{48, 52}, [2]float64{353, 357}), ends(0))
	assert.InDelta(t, 11.34, s.Drawn.DB, 0.01, "amplitudes add")
	assert.InDelta(t, 8, s.Drawn.Sum/1e6, 1e-6)
	assert.Len(t, s.Drawn.Of, 2)
	assert.InDelta(t, 17.36, s.Openings[1].Alone(s.Lambda).Nominal, 0.01)
	// With 0.2 mm at each end two openings of 4.4 mm: 20·log10(59.01/17.6) = 10.51 dB, by hand.
	s = shieldOf(t, ring([2]float64{0, 4}, [2]float64{48, 52}, [2]float64{353, 357}), ends(0.2))
	assert.InDelta(t, 10.51, s.Worst.DB, 0.01)
	// Four of 5.0 mm hold no more than four of 5.0 to 5.3 mm: the larger leak more.
	even := shieldOf(t, ring([2]float64{0, 5}, [2]float64{8, 13}, [2]float64{16, 21}, [2]float64{24, 29}), ends(0))
	odd := shieldOf(t, ring([2]float64{0, 5}, [2]float64{8, 13.1}, [2]float64{16, 21.2}, [2]float64{24, 29.3}), ends(0))
	assert.InDelta(t, 20*math.Log10(59.0135/40), even.Drawn.DB, 0.01, "by hand")
	assert.InDelta(t, 20*math.Log10(59.0135/41.2), odd.Drawn.DB, 0.01, "by hand")
	// What is bare on a whole edge counts: a wall of 1 mm holds nothing.
	s, ok := figures.ShieldOf(of("board b { frequency 2.45 GHz }\noutline rectangle 60 mm by 55 mm\nplating wall { along west from 10 mm to 11 mm; net GND }"), ends(0))
	assert.True(t, ok)
	assert.Zero(t, s.Drawn.DB)
	assert.True(t, s.Drawn.None())
	// Nothing is known to be open.
	s = shieldOf(t, ring(), ends(0))
	assert.Zero(t, s.Drawn.Sum)
	assert.Equal(t, "no opening known", figures.Says(s))
}

// A cutout's gap is not the wall's.
func TestShieldWithoutCutouts(t *testing.T) {
	text := "board b { frequency 2.45 GHz }\noutline rectangle 60 mm by 55 mm\ncutout c rectangle 20 mm by 10 mm at (30 mm, 20 mm)\nplating wall { along all; net GND }\nplating inner { along c.south c.north c.east c.west; net GND }\ngap g of inner on c.south at middle width 6 mm\n"
	s := shieldOf(t, text, ends(0))
	assert.Zero(t, s.Drawn.Sum)
	assert.Equal(t, 1, s.Elsewhere)
	_, ok := figures.ShieldOf(of(strings.Replace(text, "plating wall { along all", "plating wall { along c.west", 1)), ends(0))
	assert.False(t, ok, "the outline has no wall")
}

// A fence of the wall's net that joins planes closes a bare edge but for the widest of
// what is open between its vias. Vias of 0.3 mm, 2 mm in from an edge of 40 mm, 1 mm
// apart, leave 0.7 mm each, and 2.678 mm from the wall's end to the first.
func TestFenceBehind(t *testing.T) {
	text := "board b { frequency 2.45 GHz }\nstack { copper top 35 um; dielectric core 0.2 mm permittivity 4.3; copper bottom 35 um }\noutline rectangle 60 mm by 40 mm\nplating wall { along south east north; net GND }\nplane on top bottom net GND pullback 0.5 mm\nfence f along west inset 2 mm pitch 1 mm hole 0.3 mm net "
	s := shieldOf(t, text+"GND", ends(0))
	if assert.Len(t, s.Openings, 1) && assert.NotNil(t, s.Openings[0].Behind) {
		row := s.Openings[0].Behind
		assert.Len(t, row.Open, 36+2, "37 vias from 2 to 38 mm, and both ends")
		assert.InDelta(t, math.Hypot(2, 2)-0.15, row.Open[0].Nominal/1e6, 1e-6, "from the wall's end to the first via")
	}
	assert.InDelta(t, math.Hypot(2, 2)-0.15, s.Drawn.Sum/1e6, 1e-6, "the widest of them")
	bare, ok := figures.ShieldOf(of(strings.Replace(text+"GND", "plane on top bottom net GND pullback 0.5 mm", "", 1)), ends(0))
	assert.True(t, ok)
	assert.Zero(t, bare.Drawn.DB, "vias that join no planes close nothing")
	other := shieldOf(t, text+"V3", ends(0))
	assert.Zero(t, other.Drawn.DB, "of another net")
	// A fence alone, all round.
	alone := shieldOf(t, strings.Replace(strings.Replace(text+"GND", "plating wall { along south east north; net GND }", "", 1), "along west", "along south east north west", 1), ends(0))
	assert.Greater(t, alone.Drawn.DB, 0.0)
	assert.InDelta(t, 0.7, alone.Drawn.Sum/1e6, 0.05)
}

// Two vias on one edge close nothing of the others.
func TestAFewViasAreNoWall(t *testing.T) {
	s, _ := figures.ShieldOf(of("board b { frequency 1 GHz }\noutline rectangle 100 mm by 80 mm\nplane on top bottom net GND pullback 0.5 mm\nstack { copper top 35 um; dielectric core 1 mm permittivity 4.3; copper bottom 35 um }\nfence f along west from 39 mm to 41 mm inset 2 mm pitch 2 mm hole 0.3 mm net GND"), ends(0))
	assert.True(t, s.Drawn.None())
}

// plain is the sum of the openings whose middles lie in a window of half a wavelength,
// at its most: reckoned from each middle on, on a ring.
func plain(gaps [][2]float64, wide, round, height float64) (most float64) {
	for _, a := range gaps {
		start, sum := (a[0]+a[1])/2, 0.0
		for _, g := range gaps {
			d := math.Mod((g[0]+g[1])/2-start+2*round, round)
			if d <= wide+1e-6 || d >= round-1e-6 {
				sum += math.Max(g[1]-g[0], height)
			}
		}
		most = math.Max(most, sum)
	}
	return most
}

// gapsOf draws openings of a ring of 360 mm in order, none over its start.
func gapsOf(t *rapid.T) (gaps [][2]float64) {
	at := 1.0
	for at < 330 && len(gaps) < 12 {
		from := at + float64(rapid.IntRange(500, 60_000).Draw(t, "bare from"))/1000
		to := from + float64(rapid.IntRange(50, 9000).Draw(t, "long"))/1000
		if to > 358 {
			break
		}
		gaps, at = append(gaps, [2]float64{from, to}), to
	}
	return gaps
}

// On random rings the bound is no more than that of the plain rule, by middles, for the
// openings themselves and for smaller ones in their places; it never rises when an
// opening grows, to either side; and neither the path's start nor its direction counts.
func TestShieldOnRandomRings(t *testing.T) {
	const wide, round, height = 29.506, 360.0, 0.27
	rapid.Check(t, func(t *rapid.T) {
		gaps := gapsOf(t)
		if len(gaps) == 0 {
			return
		}
		sum := func(gaps [][2]float64) float64 { return shieldOf(t, ring(gaps...), ends(0)).Drawn.Sum / 1e6 }
		is := sum(gaps)
		assert.GreaterOrEqual(t, is, plain(gaps, wide, round, height)-1e-4)
		part := slices.Clone(gaps)
		for i, g := range part {
			a, b := rapid.Float64Range(0, 1).Draw(t, "from"), rapid.Float64Range(0, 1).Draw(t, "to")
			l := g[1] - g[0]
			part[i] = [2]float64{g[0] + l*math.Min(a, b), g[0] + l*math.Max(a, b)}
		}
		assert.GreaterOrEqual(t, is, plain(part, wide, round, 0)-1e-4, "smaller openings")
		k := rapid.IntRange(0, len(gaps)-1).Draw(t, "grows")
		grown := slices.Clone(gaps)
		grown[k][0] -= rapid.Float64Range(0, 0.4).Draw(t, "before")
		grown[k][1] += rapid.Float64Range(0, 0.4).Draw(t, "after")
		assert.GreaterOrEqual(t, sum(grown), is-1e-4, "grown")
		turn := rapid.Float64Range(0, round).Draw(t, "turn")
		turned, mirrored := slices.Clone(gaps), slices.Clone(gaps)
		for i, g := range gaps {
			turned[i] = [2]float64{math.Mod(g[0]+turn, round), math.Mod(g[1]+turn, round)}
			mirrored[i] = [2]float64{round - g[1], round - g[0]}
		}
		assert.InDelta(t, is, sum(turned), 1e-4, "turned")
		assert.InDelta(t, is, sum(mirrored), 1e-4, "mirrored")
	})
}

// Within a band the frequency counts at which most leaks: two openings of 5 mm, 35 mm
// apart, leak together up to 2.065 GHz, c/(2·35 mm·√4.3): 20·log10(35/10) = 10.88 dB
// there, by hand, and each alone at 2.45 GHz, 15.42 dB.
func TestShieldInABand(t *testing.T) {
	band := func(low string) figures.Shield {
		return shieldOf(t, strings.Replace(ring([2]float64{10, 15}, [2]float64{45, 50}), "frequency 2.45 GHz", "frequency "+low+"2.45 GHz", 1), ends(0))
	}
	assert.InDelta(t, 15.42, band("").Drawn.DB, 0.01)
	assert.InDelta(t, 15.42, band("2.3 GHz to ").Drawn.DB, 0.01)
	wide := band("1.5 GHz to ").Drawn
	assert.InDelta(t, 10.88, wide.DB, 0.01)
	assert.InDelta(t, 35, wide.Half/1e6, 1e-6)
	narrow := shieldOf(t, strings.Replace(ring([2]float64{10, 15}, [2]float64{45, 50}), "frequency 2.45 GHz", "frequency 1.5 GHz to 2.03 GHz", 1), ends(0)).Drawn
	assert.GreaterOrEqual(t, narrow.DB, wide.DB-1e-9, "a part of the band is no worse than all of it")
}
