package rout_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/geom"
	"hemline/lang/rout"
)

// notched is a random board of 100 by 60 mm with notches and pockets in its south side, now and
// then a blunt V in its north one, and tabs on any of its edges, of any width and length.
func notched(r *rand.Rand) string {
	var b strings.Builder
	var names []string
	var longs []float64
	x, y := 0.0, 0.0
	b.WriteString("board b { thickness 1.6 mm }\noutline {\n start (0 mm, 0 mm)\n")
	to := func(nx, ny float64, corner float64) {
		names, longs = append(names, fmt.Sprintf("p%d", len(names))), append(longs, math.Hypot(nx-x, ny-y))
		x, y = nx, ny
		fmt.Fprintf(&b, " line %s to (%.3f mm, %.3f mm)", names[len(names)-1], x, y)
		if corner > 0 {
			fmt.Fprintf(&b, " corner %.2f mm", corner)
		}
		b.WriteString("\n")
	}
	for free := 2.0; ; {
		throat, deep, corner, wider := 4+7*r.Float64(), 4+14*r.Float64(), 0.8+r.Float64(), 0.0
		if r.Intn(2) == 0 { // a pocket behind a throat
			wider = 4 + 4*r.Float64()
		}
		at := free + wider + 2 + 12*r.Float64()
		if free = at + throat + wider; free > 95 {
			break
		}
		to(at, 0, 0)
		if neck := 2 + 2*r.Float64(); wider > 0 {
			to(at, neck, 0)
			to(at-wider, neck, corner)
			to(at-wider, neck+deep, corner)
			to(at+throat+wider, neck+deep, corner)
			to(at+throat+wider, neck, corner)
			to(at+throat, neck, 0)
		} else {
			to(at, deep, corner)
			to(at+throat, deep, corner)
		}
		to(at+throat, 0, 0)
	}
	to(100, 0, 0)
	to(100, 60, 0)
	if middle, wide, deep := 20+60*r.Float64(), 3+6*r.Float64(), 1+3*r.Float64(); r.Intn(2) == 0 { // a blunt V
		to(middle+wide, 60, 0)
		to(middle, 60-deep, 0)
		to(middle-wide, 60, 0)
	}
	to(0, 60, 0)
	b.WriteString(" close w\n}\n")
	for i := range 1 + r.Intn(4) {
		k := r.Intn(len(names))
		wide := 1 + 3*r.Float64()
		if longs[k] < wide+1 {
			continue
		}
		fmt.Fprintf(&b, "tab t%d on %s at %.2f mm width %.2f mm solid", i, names[k], wide/2+0.3+(longs[k]-wide-0.6)*r.Float64(), wide)
		if r.Intn(3) > 0 {
			fmt.Fprintf(&b, " length %.2f mm", 1+6*r.Float64())
		}
		b.WriteString("\n")
	}
	return b.String()
}

// vee is a board with a blunt V in its north side, so wide to each side and so deep, and a
// tab on its first side: the slots on both sides of it meet far off the board. All in mm.
func vee(wide, deep, at, width, length float64) string {
	return fmt.Sprintf("board b { thickness 1.6 mm }\noutline {\n start (0 mm, 0 mm)\n line s to (60 mm, 0 mm)\n line e to (60 mm, 30 mm)\n line n1 to (%g mm, 30 mm)\n"+
		" line va to (30 mm, %g mm)\n line vb to (%g mm, 30 mm)\n line n2 to (0 mm, 30 mm)\n close w\n}\ntab t1 on va at %g mm width %g mm solid length %g mm\n", 30+wide, 30-deep, 30-wide, at, width, length)
}

type neckBoard struct {
	Outline [][2]float64 `json:"outline"`
	Slots   []neckSlot   `json:"slots"`
	Tabs    []neckTab    `json:"tabs"`
}

type neckSlot struct {
	Way [][2]float64 `json:"way"`
	R   float64      `json:"r"`
}

type neckTab struct {
	Root   [2]float64 `json:"root"`
	Inward [2]float64 `json:"inward"`
	Wide   float64    `json:"wide"`
}

func inMM(p geom.Point) [2]float64 { return [2]float64{p.X / mm, p.Y / mm} }

// flat is a way as points that lie on it, hardly apart from it.
func flat(way []geom.Segment) (points [][2]float64) {
	for _, g := range way {
		n := 1
		if g.Arc {
			n = 64
		}
		for i := range n + 1 {
			points = append(points, inMM(g.At(g.Length()*float64(i)/float64(n))))
		}
	}
	return points
}

// Necks of random boards, beside what shapely makes of the same passes: see
// testdata/neck.py.
func TestNecksByShapely(t *testing.T) {
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import shapely").Run(); err != nil {
		require.Empty(t, os.Getenv("HEMLINE_CI"), "shapely is needed where HEMLINE_CI is set")
		t.Skip("python3-shapely is not installed")
	}
	var in bytes.Buffer
	var texts []string
	var necks [][]rout.Neck
	boards := []string{vee(6.8, 2.6, 4.94, 1.6, 5), vee(3.4, 1.1541, 1.35, 1.5, 7), vee(8, 2.7, 5, 3, 10)}
	for seed := range int64(60) {
		boards = append(boards, notched(rand.New(rand.NewSource(seed))))
	}
	for _, text := range boards {
		b := read(t, text)
		bits := rout.BitsOf(b, 0.8*mm)
		var v neckBoard
		for _, p := range b.Outline().Path.Flatten(500) {
			v.Outline = append(v.Outline, inMM(p))
		}
		for _, kind := range []rout.Kind{rout.First, rout.Final} {
			for _, pass := range bits.Passes(kind) {
				for _, way := range [][]geom.Segment{pass.In, pass.Path, pass.Out} {
					if len(way) > 0 {
						v.Slots = append(v.Slots, neckSlot{flat(way), pass.Bit / 2 / mm})
					}
				}
			}
		}
		var own []rout.Neck
		for _, tab := range b.Tabs() {
			if n := bits.Neck(tab); n.Waist > 0 && bits.Spares(tab) {
				own = append(own, n)
				in := tab.Edge.Inward(tab.Position)
				v.Tabs = append(v.Tabs, neckTab{inMM(tab.Edge.Point(tab.Position)), [2]float64{in.X, in.Y}, tab.Width.Value / mm})
			}
		}
		if len(own) == 0 {
			continue
		}
		texts, necks = append(texts, text), append(necks, own)
		require.NoError(t, json.NewEncoder(&in).Encode(v))
	}
	cmd := exec.Command(python, "testdata/neck.py")
	cmd.Stdin, cmd.Stderr = &in, os.Stderr
	out, err := cmd.Output()
	require.NoError(t, err)
	short := 0
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	require.Len(t, lines, len(texts))
	for i, line := range lines {
		var widths []float64
		require.NoError(t, json.Unmarshal([]byte(line), &widths))
		for k, n := range necks[i] {
			own := max(0, n.Width/mm)
			if n.Short() {
				short++
				assert.InDelta(t, widths[k], own, 0.02, "tab %d of %s", k, texts[i])
			} else {
				assert.GreaterOrEqual(t, widths[k], n.Waist/mm-0.02, "tab %d of %s", k, texts[i])
			}
		}
	}
	t.Logf("%d boards, %d tabs hang on too little", len(texts), short)
	assert.Greater(t, short, 10)
}
