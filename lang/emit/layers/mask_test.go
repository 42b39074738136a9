package layers

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// corners is a board without two alike: its corners are blunt, square, sharp and inside
// ones, its arcs bulge and are hollow, and there are openings.
func corners(r *rand.Rand) string {
	mm := func(lo, hi float64) string { return fmt.Sprintf("%.3f mm", lo+(hi-lo)*r.Float64()) }
	text := `board b { thickness 1 mm }
outline {
  start (0 mm, 0 mm)
  line south to (60 mm, 0 mm)
  line blunt to (` + mm(62, 70) + `, ` + mm(5, 10) + `)
  line east to (66 mm, 40 mm)
  line north to (45 mm, 40 mm)
  arc hollow to (35 mm, 40 mm) around (40 mm, 40 mm) clockwise
  line top to (20 mm, 40 mm)
  line notch to (20 mm, ` + mm(28, 34) + `)
  line step to (8 mm, 30 mm)
  arc bulge to (0 mm, 22 mm) around (8 mm, 22 mm)
  close west
}
cutout c circle ` + mm(4, 8) + ` at (45 mm, 15 mm)
cutout s slot 9 mm by ` + mm(3, 5) + ` turned ` + fmt.Sprint(r.IntN(180)) + ` deg at (20 mm, 14 mm)
`
	edges := [...]string{"south", "blunt", "east", "north", "hollow", "top", "notch", "step", "bulge", "west", "c.rim", "s.rim"}
	names := ""
	for k, at := range r.Perm(len(edges))[:4] {
		part := ""
		if strings.HasSuffix(edges[at], "rim") || r.IntN(3) > 0 {
			from := 0.3 + 2*r.Float64()
			part = fmt.Sprintf(" from %.3f mm to %.3f mm", from, from+2+2*r.Float64())
		}
		text += fmt.Sprintf("plating p%d { along %s%s; net G; wrap top %s; wrap bottom 1 mm }\n", k, edges[at], part, mm(0.3, 1.2))
		names += fmt.Sprintf(" p%d", k)
	}
	if r.IntN(3) == 0 { // as far as the widest wrap and the margin
		return text + "relief r over" + names + " on top margin 0.1 mm reach 1.3 mm\n"
	}
	return text + "relief r over" + names + " on top margin " + mm(0.05, 0.3) + "\n"
}

// Everywhere within the margin of the copper mask is open: at ends in the middle of an
// edge, at corners of any kind and on arcs.
func TestMaskKeepsItsMarginAllRound(t *testing.T) {
	probed := 0
	for seed := range uint64(120) {
		text := corners(rand.New(rand.NewPCG(seed, 5)))
		b := read(t, text)
		files, err := Build(b, usual)
		require.NoError(t, err, text)
		mask := readImages(t, files)["mask_top_open.gbr"]
		relief := b.Reliefs()[0]
		m := newMaker(b, usual)
		for _, p := range b.Platings() {
			for s := range b.PlatedBy(p) {
				for _, l := range s.Band(board.Top) {
					for at := 0.0; at < l.Perimeter(); at += 0.11 * mm {
						from := l.At(at)
						if m.covers(from) {
							probed += probe(t, m, mask, from, relief.Beyond(0)*0.98, text)
						}
					}
				}
			}
		}
		if t.Failed() {
			return
		}
	}
	assert.Greater(t, probed, 100000)
}

// probe tells of how many places on the board at a distance from one it was seen that
// mask is open there.
func probe(t *testing.T, m *maker, mask image, from geom.Point, far float64, text string) (n int) {
	t.Helper()
	for k := range 16 {
		way, across := math.Sincos(2 * math.Pi * float64(k) / 16)
		at := from.Add(geom.Point{X: far * way, Y: far * across})
		if m.covers(at) {
			n++
			if !mask.shows(at) {
				assert.Fail(t, "mask is not open", "at %s, %.3f mm from copper at %s\n%s", board.Coordinates(at), far/mm, board.Coordinates(from), text)
				return n
			}
		}
	}
	return n
}

// covers tells whether a point is on the board, and not on its very edge.
func (m *maker) covers(p geom.Point) bool {
	for _, x := range m.b.Profiles() {
		if _, _, d := x.Path.Nearest(p); d < 10 {
			return false
		}
	}
	return m.b.Outline().Path.Contains(p) && !anyHolds(m.cutouts(), p)
}

func anyHolds(loops []*geom.Loop, p geom.Point) bool {
	for _, l := range loops {
		if l.Contains(p) {
			return true
		}
	}
	return false
}

// shows tells whether an image is dark at a point.
func (i *image) shows(p geom.Point) (dark bool) {
	for _, o := range i.ops {
		if anyHolds(o.loops, p) {
			dark = !o.clear
		}
	}
	return dark
}

// The opening over a half hole in a hollow edge goes as far as the board beside it,
// which comes over the tangent there.
func TestMaskOverHalfHolesInAHollow(t *testing.T) {
	for _, on := range []string{"c.rim at 3 mm", "c.rim at 0.05 mm", "hollow at 2.5 mm"} {
		text := plain + "cutout c circle 6 mm at (12 mm, 15 mm)\n"
		text = strings.Replace(text, "outline rectangle 40 mm by 30 mm", `outline { start (0 mm, 0 mm); line south to (40 mm, 0 mm); line east to (40 mm, 30 mm)
  line north to (30 mm, 30 mm); arc hollow to (25 mm, 25 mm) around (30 mm, 25 mm) clockwise; line back to (0 mm, 25 mm); close west }`, 1)
		text = strings.Replace(text, "around (30 mm, 25 mm) clockwise", "around (25 mm, 30 mm) clockwise", 1)
		text += "castellation h on " + on + " hole 0.6 mm land 1.4 mm by 1.1 mm\nrelief o over h on top margin 0.1 mm"
		b := read(t, text)
		files, err := Build(b, usual)
		require.NoError(t, err)
		mask := readImages(t, files)["mask_top_open.gbr"]
		m := newMaker(b, usual)
		n := 0
		l := b.Castellations()[0].Land(0)
		for at := 0.0; at < l.Perimeter(); at += 0.02 * mm {
			n += probe(t, m, mask, l.At(at), 0.098*mm, text)
		}
		assert.Greater(t, n, 1000, on)
	}
}

// By shapely: from copper that ends at a blunt corner, an inside one, in the middle of a
// straight edge, on a bulge and in a hollow, and from a half hole's land there, mask is
// everywhere as far as the margin says, and nowhere farther than it need be.
func TestReadersSeeTheMargin(t *testing.T) {
	files, err := Build(read(t, `board b { thickness 1 mm }
outline {
  start (0 mm, 0 mm)
  line south to (60 mm, 0 mm)
  line blunt to (66 mm, 6 mm)
  line east to (66 mm, 40 mm)
  line north to (45 mm, 40 mm)
  arc hollow to (35 mm, 40 mm) around (40 mm, 40 mm) clockwise
  line top to (20 mm, 40 mm)
  line notch to (20 mm, 30 mm)
  line step to (8 mm, 30 mm)
  arc bulge to (0 mm, 22 mm) around (8 mm, 22 mm)
  close west
}
plating w { along south; along east from 10 mm to 20 mm; along hollow from 3 mm to 6 mm; along step; along bulge from 4 mm to 8 mm; net G; wrap top 1 mm; wrap bottom 1 mm }
castellation h on hollow at 11 mm hole 0.6 mm land 1.4 mm by 1.1 mm net X
relief r over w h on top margin 0.12 mm
relief s over w on bottom reach 1 mm margin 0.2 mm`), usual)
	require.NoError(t, err)
	all := readBack(t, files)
	assert.InDelta(t, 0.12, all["mask_top_open.gbr"].Margin, 1e-3)
	assert.InDelta(t, 0, all["mask_bottom_open.gbr"].Margin, 1e-6, "the reach stated is that of the wrap, so that mask meets it inside")
}
