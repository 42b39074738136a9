package drawing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/readback"
	"hemline/lang/emit/scene"
	"hemline/lang/source"
)

// statesAll holds a board's sheets to state every dimension of it once.
func statesAll(t *testing.T, name string, b *board.Board, o Options) {
	t.Helper()
	const margin = 0.075 * mm
	sheets, err := Make(b, scene.Build(b, margin), o)
	require.NoError(t, err, name)
	for _, wrong := range readback.Wrong(b, margin, sheets) {
		assert.Fail(t, wrong, name)
	}
}

// Every example states every dimension once, on every size of sheet.
func TestEachDimensionIsStatedOnce(t *testing.T) {
	files, err := filepath.Glob("../../../examples/*.hem")
	require.NoError(t, err)
	broken, err := filepath.Glob("../../../examples/broken/*.hem")
	require.NoError(t, err)
	require.Greater(t, len(files), 5)
	for _, path := range append(files, broken...) {
		f, err := source.Read(path)
		require.NoError(t, err)
		b := lang.Analyze(f, source.Read, nil).Board()
		for _, format := range []string{"", "A4", "A4-landscape", "A2"} {
			statesAll(t, path+" "+format, b, Options{Format: format, Notes: notes.Sections(notes.Make(b, notes.Figures{}))})
		}
	}
}

func TestEachDimensionOfAnyBoardIsStatedOnce(t *testing.T) {
	drawnOnes := 0
	for seed := uint64(0); drawnOnes < 200; seed++ {
		text := anyBoard(rand.New(rand.NewPCG(seed, 31)))
		b := read(t, text)
		require.Less(t, seed, uint64(300))
		if b.Outline() == nil {
			continue // a round that leaves its piece
		}
		drawnOnes++
		o := Options{Format: []string{"", "A4", "A3"}[seed%3], ThirdAngle: seed%2 == 0}
		statesAll(t, fmt.Sprintf("board %d\n%s", seed, text), b, o)
	}
}

// scribe writes a board in which anything may stand anywhere.
type scribe struct {
	*rand.Rand
	strings.Builder
	unit string
	size float64
}

func (m *scribe) any(list ...string) string { return list[m.IntN(len(list))] }

// long is a length between two shares of the board's size, in the board's unit.
func (m *scribe) long(from, to float64) float64 {
	v := m.size * (from + (to-from)*m.Float64())
	if m.unit == "mil" {
		return math.Round(v)
	}
	return math.Round(v*100) / 100
}

func (m *scribe) f(format string, values ...any) {
	fmt.Fprintf(m, strings.ReplaceAll(format, " U", " "+m.unit)+"\n", values...)
}

func anyBoard(r *rand.Rand) string {
	m := &scribe{Rand: r, unit: "mm", size: 8 + 300*r.Float64()*r.Float64()}
	if r.IntN(3) == 0 {
		m.unit, m.size = "mil", math.Round(m.size/0.0254)
	}
	m.f("board b { thickness 1.6 mm; class 2; status %q }", m.any("in work", "released"))
	edges := m.outline()
	for i := range r.IntN(4) {
		edges = append(edges, m.cutout(fmt.Sprintf("c%d", i))...)
	}
	for i := range r.IntN(3) {
		m.f("plating p%d { along %s; net GND; copper 25 um least 20 um; wrap top bottom %g U; extend %g U }", i, m.any(edges...), m.long(0.01, 0.02), m.long(0.001, 0.01))
		if r.IntN(2) == 0 {
			m.f("relief r%d over p%d on top bottom reach %g U", i, i, m.long(0.02, 0.03))
		}
	}
	m.f("plating q along %s net V wrap top %g U finish ENIG thickness 4 um, 0.1 um", m.any(edges...), m.long(0.01, 0.03))
	m.f("relief w over q on top")
	for i := range r.IntN(4) {
		at := m.long(0.05, 0.4)
		m.f("tab t%d on %s at %g U, %g U width %g U %s %s", i, m.any(edges...), at, at+m.long(0.1, 0.3), m.long(0.02, 0.05),
			m.any("solid", "perforated hole 0.5 mm pitch 0.8 mm", "perforated hole 0.5 mm pitch 0.8 mm inset 0.1 mm"), m.any("", "premetallised", fmt.Sprintf("opens margin %g %s", m.long(0.01, 0.02), m.unit)))
	}
	m.f("gap g of q on %s at middle width %g U", m.any(edges...), m.long(0.02, 0.1))
	m.f("connector j on %s at middle { body %g U reach %g U; pin top width %g U length %g U; legs top bottom width 1 mm length 2 mm spacing 4 mm; %s }", m.any(edges...), m.long(0.1, 0.2), m.long(0.01, 0.05), m.long(0.01, 0.02), m.long(0.02, 0.05), m.any("", "opens margin 0.4 mm bridged"))
	from := m.long(0.05, 0.2)
	m.f("castellation k on %s from %g U to %g U pitch %g U hole 0.6 mm land 1 mm by 0.9 mm %s", m.any(edges...), from, from+m.long(0.2, 0.5), m.long(0.03, 0.09), m.any("", "net A", fmt.Sprintf("except from %g %s to %g %s", from+m.long(0.05, 0.1), m.unit, from+m.long(0.1, 0.2), m.unit)))
	m.f("castellation l on %s at %g U, %g U hole 0.8 mm land 1 mm by 0.9 mm", m.any(edges...), m.long(0.05, 0.2), m.long(0.2, 0.4))
	m.f("hole h diameter %g U at (%g U, %g U), (%g U, %g U) plated land %g U", m.long(0.02, 0.03), m.long(0, 1), m.long(0, 1), m.long(0, 1), m.long(0, 1), m.long(0.04, 0.05))
	m.f("feature f on %s rectangle %g U by %g U at (%g U, %g U) net N", m.any("top", "bottom"), m.long(0.02, 0.1), m.long(0.02, 0.1), m.long(0, 1), m.long(0, 1))
	m.f("feature e on top circle %g U at (%g U, %g U)", m.long(0.02, 0.1), m.long(0, 1), m.long(0, 1))
	m.f("fence n along %s inset %g U pitch %g U hole 0.3 mm land 0.6 mm %s net GND", m.any(append(edges, edges[0]+fmt.Sprintf(" from %g %s to %g %s", m.long(0.05, 0.1), m.unit, m.long(0.2, 0.4), m.unit))...), m.long(0.02, 0.05), m.long(0.03, 0.06), m.any("", "added"))
	m.f("plane on top bottom net GND pullback %g U", m.long(0.01, 0.03))
	m.f("marking \"lot\" on bottom at (%g U, %g U)", m.long(0.1, 0.9), m.long(0.1, 0.9))
	return m.String()
}

// outline writes one and gives its edges' names.
func (m *scribe) outline() []string {
	w, h := m.long(0.6, 1), m.long(0.4, 1)
	switch m.IntN(4) {
	case 0:
		m.f("outline rectangle %g U by %g U %s", w, h, m.any("", fmt.Sprintf("corner %g %s", m.long(0.02, 0.15), m.unit)))
		return []string{"south", "east", "north", "west"}
	case 1:
		m.f("outline circle %g U", w)
		return []string{"rim"}
	}
	// Drawn either way round, somewhere, with a notch, a slant and an arc.
	x, y := m.any("0", "0", fmt.Sprint(m.long(0, 3)), fmt.Sprint(-m.long(0, 1))), m.any("0", fmt.Sprint(m.long(0, 2)))
	corner := func() string {
		return m.any("", fmt.Sprintf("corner %g %s", m.long(0.005, 0.02), m.unit))
	}
	at := func(u, v float64) string {
		return fmt.Sprintf("(%s %s + %g %s, %s %s + %g %s)", x, m.unit, u, m.unit, y, m.unit, v, m.unit)
	}
	n := w / 8
	points := [][2]float64{{0, 0}, {w, 0}, {w, h}, {5 * n, h}, {5 * n, h - n}, {3 * n, h - n}, {3 * n, h}, {n, h}}
	if m.IntN(2) == 0 {
		points[2] = [2]float64{w - n, h}
	}
	body, edges := "start "+at(0, 0), []string{}
	if m.IntN(2) == 0 { // clockwise
		body += "; line e0 to " + at(0, h) + " " + corner() + "; line e1 to " + at(w, h) + " " + corner() + "; arc e2 to " + at(w, 0) + " around " + at(w, h/2) + " clockwise; close e3 " + corner()
		edges = []string{"e0", "e1", "e2", "e3"}
	} else {
		for i, p := range points[1:] {
			body += fmt.Sprintf("; line e%d to %s %s", i, at(p[0], p[1]), corner())
			edges = append(edges, fmt.Sprintf("e%d", i))
		}
		body += "; close e7 " + corner()
		edges = append(edges, "e7")
	}
	m.f("outline { %s }", body)
	return edges
}

// cutout writes one and gives its edges' names.
func (m *scribe) cutout(name string) []string {
	at := fmt.Sprintf("(%g %s, %g %s)", m.long(0.2, 0.6), m.unit, m.long(0.2, 0.4), m.unit)
	w, h := m.long(0.1, 0.2), m.long(0.1, 0.2)
	switch m.IntN(5) {
	case 0:
		m.f("cutout %s circle %g U at %s", name, w, at)
	case 1:
		m.f("cutout %s slot %g U by %g U turned %d deg at %s", name, m.long(0.2, 0.4), m.long(0.02, 0.05), m.IntN(360), at)
	case 2:
		m.f("cutout %s rectangle %g U by %g U %s at %s", name, w, h, m.any("", fmt.Sprintf("corner %g %s", m.long(0.01, 0.04), m.unit)), at)
		return []string{name + ".south", name + ".west"}
	case 3:
		m.f("cutout %s slot %g U by %g U at %s, (%g U, %g U)", name, m.long(0.2, 0.4), m.long(0.02, 0.05), at, m.long(0.3, 0.6), m.long(0.3, 0.6))
		return []string{name + ".1.rim", name + ".2.rim"}
	default:
		x, y := m.long(0.2, 0.6), m.long(0.2, 0.4)
		m.f("cutout %s { start (%g U, %g U); line a to (%g U, %g U) corner %g U; line b to (%g U, %g U); arc d to (%g U, %g U) around (%g U, %g U); close e }", name, x, y, x+w, y, m.long(0.01, 0.03), x+w, y+h, x, y+h, x+w/2, y+h)
		return []string{name + ".a", name + ".b", name + ".d"}
	}
	return []string{name + ".rim"}
}
