package drawing

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/board"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
	"hemline/lang/geom"
	"hemline/lang/rout"
)

// boxOf is the box of the shapes of a sheet whose id starts with a word.
func boxOf(s *sheet.Sheet, start string) sheet.Rect {
	k := sketch{}
	for _, x := range s.Shapes {
		if strings.HasPrefix(x.ID, start) {
			k.Add(x)
		}
	}
	return k.extent()
}

// The bottom face stands right of the top one in the first angle's method, and
// left of it in the third's (ISO 5456-2, from memory); the symbol's cone and rings
// change places too.
func TestTheMethodOfProjectionMovesTheViews(t *testing.T) {
	b := example(t, "beacon_module")
	for _, third := range []bool{false, true} {
		s := drawn(t, b, Options{ThirdAngle: third})[0]
		top, bottom := boxOf(s, "top.bare"), boxOf(s, "bottom.bare")
		assert.Equal(t, third, bottom.Max.X < top.Min.X)
		assert.Equal(t, third, top.Min.X > bottom.Max.X)
		assert.InDelta(t, top.Min.Y, bottom.Min.Y, 1e-9, "at one height")
		assert.Contains(t, words([]*sheet.Sheet{s}), map[bool]string{false: "first angle", true: "third angle"}[third])
		for _, x := range s.Shapes {
			if x.ID == "projection" {
				assert.Equal(t, third, x.Paths[0].Start.X > x.Paths[1].Start.X, "the cone right of the rings")
			}
		}
	}
}

// Whatever its size a board stands on A3: both faces on one sheet, each on its own
// where that keeps it at full size, or smaller.
func TestBoardsOfAnySizeStandOnA3(t *testing.T) {
	for size, want := range map[string][3]string{
		"8 mm by 6 mm":     {"20:1", "Faces", "Tables"},
		"240 mm by 150 mm": {"1:1", "Top face", "Bottom face"},
		"300 mm by 200 mm": {"1:2", "Faces", "Tables"},
	} {
		sheets := drawn(t, read(t, "outline rectangle "+size+"\nplating p along all net GND wrap top bottom 1 mm\n"), Options{})
		assert.InDelta(t, 420, sheets[0].Format.W, 1e-9)
		assert.Equal(t, want, [3]string{scaleOf(sheets[0]), sheets[0].Title, sheets[1].Title}, size)
		free := strings.Contains(words(sheets[:1]), "stands free of the method of projection")
		assert.Equal(t, want[1] == "Top face", free, size)
	}
}

// The datum is shown where it lies off the board too, at its place where that is
// near, and ordinates count from it.
func TestADatumOffTheBoard(t *testing.T) {
	board := func(at float64) string {
		return fmt.Sprintf("let o = %g mm\noutline { start (o, o); line a to (o + 40 mm, o); line b to (o + 40 mm, o + 20 mm); line c to (o, o + 20 mm); close d }\nplating p along a net GND wrap top bottom 1 mm\n", at)
	}
	for _, at := range []float64{10, -150} {
		s := drawn(t, read(t, board(at)), Options{})[0]
		scale, ok := sheet.ScaleNamed(scaleOf(s))
		require.True(t, ok)
		mark, face := boxOf(s, "top.datum"), boxOf(s, "top.bare")
		datum := sheet.Point{X: (mark.Min.X + mark.Max.X) / 2, Y: (mark.Min.Y + mark.Max.Y) / 2}
		if at < 0 {
			assert.Contains(t, words([]*sheet.Sheet{s}), "The datum lies farther off the board than its mark is drawn.")
			assert.Greater(t, datum.X, face.Max.X)
			assert.Greater(t, datum.Y, face.Max.Y)
			assert.NotContains(t, strings.Split(words([]*sheet.Sheet{s}), "\n"), "(0)")
			continue
		}
		assert.InDelta(t, at*scale.Factor(), face.Min.X-datum.X, 1e-6)
		assert.InDelta(t, at*scale.Factor(), face.Min.Y-datum.Y, 1e-6)
		for _, want := range []string{"(0)", "(10)", "(50)", "(30)", "datum"} {
			assert.Contains(t, strings.Split(words([]*sheet.Sheet{s}), "\n"), want)
		}
	}
}

// No line to a label of a side runs across the face, and a side has each ordinate
// once.
func TestNoLabelsLineRunsAcrossTheFace(t *testing.T) {
	held := 0
	for seed := range uint64(120) {
		b := read(t, anyBoard(rand.New(rand.NewPCG(seed, 31))))
		if b.Outline() == nil {
			continue
		}
		a := author{b: b, scene: scene.Build(b, 0)}
		a.collect()
		points := b.Outline().Path.Flatten(100)
		tracks, _ := a.tracks()
		for side, list := range tracks {
			seen := map[string]bool{}
			for _, l := range list {
				held++
				if l.ordinate {
					assert.False(t, seen[strings.Trim(l.text, "()")], "board %d: %s twice on side %d", seed, l.text, side)
					seen[strings.Trim(l.text, "()")] = true
				}
				for _, beside := range [...]float64{-500, 500} { // it may touch a corner
					start := l.at.Add(outwards[side].Scale(3e3)).Add(outwards[side].Left().Scale(beside))
					ray := geom.Line(start, start.Add(outwards[side].Scale(1e9)))
					var hits []float64
					for i, p := range points {
						for _, q := range geom.Intersections(ray, geom.Line(p, points[(i+1)%len(points)]), 1) {
							hits = append(hits, q.Dist(start))
						}
					}
					if len(hits) > 0 && slices.Max(hits)-slices.Min(hits) > 20e3 {
						assert.Fail(t, "it runs across the face", "board %d, side %d: %q at %v", seed, side, l.text, l.at)
					}
				}
			}
		}
	}
	assert.Greater(t, held, 1000)
}

// An ordinate of a drawn outline is shown from the side that is nearest, once.
func TestPointsAreMeasuredFromTheNearerSide(t *testing.T) {
	b := read(t, "outline { start (0 mm, 0 mm); line a to (70 mm, 0 mm); line b to (70 mm, 30 mm); line c to (46 mm, 30 mm); line d to (46 mm, 24 mm) corner 1 mm; line e to (40 mm, 24 mm); line f to (40 mm, 30 mm); line g to (0 mm, 30 mm); close h }\n")
	a := author{b: b, scene: scene.Build(b, 0)}
	a.collect()
	tracks, inner := a.tracks()
	var texts [4][]string
	for side, list := range tracks {
		for _, l := range list {
			texts[side] = append(texts[side], l.text)
		}
	}
	assert.Equal(t, [4][]string{{"(0)", "(30)"}, {"(0)", "(40)", "(46)"}, nil, {"(0)", "(70)"}}, texts, "24 lies inside the notch: the table has it")
	require.Len(t, inner, 1)
	assert.Equal(t, "(R1)", inner[0].text, "inside the notch too")
}

// Every finding on a cutout has its ring.
func TestFindingsOnCutoutsHaveRings(t *testing.T) {
	text := "outline rectangle 120 mm by 80 mm\ncutout c slot 5 mm by 1 mm turned 30 deg at (10 mm, 10 mm)"
	for i := range 39 {
		text += fmt.Sprintf(", (%d mm, %d mm)", 10+i%8*14, 10+i/8*14)
	}
	b := read(t, text+"\n")
	shapes := scene.Build(b, 0)
	o := Options{}
	for i, x := range shapes.Items {
		if x.Kind == "cutout" {
			o.Findings = append(o.Findings, Finding{Category: "risky", Rule: "r", Message: "m", Where: "line 2", Items: []int{i}})
		}
	}
	require.Len(t, o.Findings, 40)
	sheets, err := Make(b, shapes, o)
	require.NoError(t, err)
	liesFree(t, "rings", sheets)
	for n, f := range o.Findings {
		assert.Len(t, extents(sheets, fmt.Sprintf("top.finding.%d.%d", n+1, f.Items[0])), 1)
	}
	assert.NotContains(t, words(sheets), "No room for the rings")
}

// Findings for whose rings there is no room are said.
func TestRingsWithoutRoomAreSaid(t *testing.T) {
	b := read(t, "outline rectangle 10 mm by 8 mm\ncutout c circle 2 mm at (5 mm, 4 mm)\n")
	shapes := scene.Build(b, 0)
	o := Options{Format: "A4"}
	for range 4000 {
		o.Findings = append(o.Findings, Finding{Category: "risky", Rule: "r", Message: "m", Where: "line 2", Items: []int{1}})
	}
	sheets, err := Make(b, shapes, o)
	require.NoError(t, err)
	assert.Regexp(t, `No room for the rings of 3\d\d\d findings`, strings.ReplaceAll(words(sheets), "\n", " "))
}

// 300 items on A4: all is stated, nothing lies on anything, and the sheets say what
// the faces had no room for.
func TestManyItemsOnASmallSheet(t *testing.T) {
	text := "board b { thickness 1.6 mm }\noutline rectangle 200 mm by 150 mm corner 2 mm\nplating wall along all net GND copper 25 um wrap top bottom 0.8 mm\n"
	r := rand.New(rand.NewPCG(1, 2))
	at := func() string { return fmt.Sprintf("(%.2f mm, %.2f mm)", 10+180*r.Float64(), 10+130*r.Float64()) }
	for i := range 75 {
		text += fmt.Sprintf("tab t%d on %s at %d mm width 2 mm solid opens margin 0.5 mm\nhole h%d diameter 2 mm at %s plated\ncutout c%d slot 5 mm by 1.2 mm turned %d deg at %s\nfeature f%d on top rectangle 2 mm by 1 mm at %s net N\n",
			i, []string{"south", "north"}[i%2], 8+i/2*5, i, at(), i, 5*i, at(), i, at())
	}
	b := read(t, text)
	for _, format := range []string{"A4", ""} {
		o := Options{Format: format}
		sheets := drawn(t, b, o)
		liesFree(t, "300 items", sheets)
		statesAll(t, "300 items", b, o)
		assert.Greater(t, len(sheets), 5)
		assert.Regexp(t, "Too dense|Some names have no room", words(sheets))
		for _, s := range sheets {
			for _, x := range s.Texts {
				assert.GreaterOrEqual(t, x.Height, sheet.Small)
			}
		}
	}
}

// What checking came to stands beside the status that the text states.
func TestTheTitleBlockSaysWhatCheckingCameTo(t *testing.T) {
	b := read(t, "board b { status \"released\"; thickness 1 mm }\noutline rectangle 20 mm by 10 mm\n")
	said := words(drawn(t, b, Options{Accepted: 2, Findings: []Finding{{Rule: "a"}, {Rule: "b"}, {Rule: "c"}}}))
	assert.Contains(t, said, "Document status\nreleased\nCheck\n3 findings stand, 2 accepted\n")
	assert.Contains(t, strings.ReplaceAll(said, "\n", " "), "finished thickness, nominal, over the copper of the outer layers; solder mask and the edge's plating on the faces not counted 1 mm")
}

// A row that leaves holes out is parted, so that each hole follows from a place and
// the pitch.
func TestPartsOfARowOfHalfHoles(t *testing.T) {
	b := read(t, "outline rectangle 20 mm by 10 mm\ncastellation k on south from 2 mm to 18 mm pitch 2 mm hole 0.8 mm land 1.2 mm by 1 mm except from 5 mm to 9 mm except from 15 mm to 17 mm\n")
	a := author{b: b, scene: scene.Build(b, 0)}
	assert.Equal(t, [][]string{
		{"k.1 to .2", "south", "2, 0", "(4, 0)", "2", "0.8", "2", "1.2 × 1", "–"},
		{"k.3 to .5", "south", "10, 0", "(14, 0)", "3", "0.8", "2", "1.2 × 1", "–"},
		{"k.6", "south", "18, 0", "–", "1", "0.8", "–", "1.2 × 1", "–"},
	}, a.halfHoles().rows)
}

// A tab is drawn as the bit beside it leaves it: the rounds of the slots' ends at its
// root, and between them the waist; the figures follow, so they are in brackets.
func TestATabIsDrawnAsItsBitLeavesIt(t *testing.T) {
	b := read(t, "board b { thickness 1 mm }\noutline rectangle 60 mm by 40 mm\ntab t on south at 30 mm width 4 mm perforated hole 0.5 mm pitch 0.8 mm\n")
	o := Options{Cut: func(*board.Tab) rout.TabCut {
		return rout.TabCut{Bit: 1.2 * mm, Root: 4 * mm, Waist: 2.8 * mm, Radius: 0.6 * mm}
	}}
	sheets := drawn(t, b, o)
	liesFree(t, "as routed", sheets)
	statesAll(t, "as routed", b, o)
	assert.Contains(t, words(sheets), "\nt\n(1.2)\n(4)\n(R0.6)\n(2.8)\n")
	for _, s := range sheets {
		for _, x := range s.Shapes {
			if x.ID != "detail.tab" {
				continue
			}
			k := 4 * 10.0 // 10:1
			box := boxOf(s, "detail.tab")
			assert.InDelta(t, k, box.W(), 0.01)
			var inner []float64
			for _, p := range x.Paths {
				require.True(t, p.Steps[0].Arc)
				one := between(sheet.Path{Start: p.Start, Steps: p.Steps[:1]}.Flat()...)
				inner = append(inner, one.Min.X, one.Max.X)
			}
			assert.InDelta(t, 28, inner[2]-inner[1], 0.05, "the waist between the rounds")
			return
		}
	}
	assert.Fail(t, "no tab is drawn")
}

// Plating that runs up to a tab lies on the rounds beside it too, and stops before
// them where the tab opens its own gap.
func TestFlanksOfATabThatPlatingRunsUpTo(t *testing.T) {
	for tab, flanks := range map[string]int{"premetallised": 2, "opens margin 0.5 mm": 0} {
		b := read(t, "board b { thickness 1 mm }\noutline rectangle 60 mm by 40 mm\nplating w { along south; net G; wrap top 1 mm }\ntab t on south at 30 mm width 4 mm solid "+tab+"\n")
		n := 0
		for _, s := range drawn(t, b, Options{Cut: rout.BitsOf(b, 0.8*mm).Tab}) {
			for _, x := range s.Shapes {
				if x.ID == "detail.treated" && len(x.Paths) == 1 && x.Paths[0].Steps[0].Arc {
					n++
				}
			}
		}
		assert.Equal(t, flanks, n, tab)
	}
}
