package layers

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/langtest"
	"hemline/lang/rout"
	"hemline/lang/source"
)

// sweepCase is a board for testdata/sweep/sweep.py.
type sweepCase struct {
	text     string
	Files    map[string]string `json:"files"`
	Profiles []sweepProfile    `json:"profiles"`
	Kept     [][][2]float64    `json:"kept"`
}

type sweepProfile struct {
	Cutout bool         `json:"cutout"`
	Path   [][2]float64 `json:"path"`
}

func points(list []geom.Point) (out [][2]float64) {
	for _, p := range list {
		out = append(out, [2]float64{p.X / mm, p.Y / mm})
	}
	return out
}

// sweepOf is a board's rout files and what of its edge they are to leave: tabs'
// roots, inside corners as far as the bit's radius reaches, and 0.3 of the bit's
// diameter to either side of where a plated stretch meets a bare one, where a
// crest stands; as much again beside an inside corner in which they meet.
func sweepOf(t *testing.T, b *board.Board, text string, o Options) sweepCase {
	t.Helper()
	files, err := Build(b, o)
	require.NoError(t, err, text)
	c := sweepCase{text: text, Files: map[string]string{}}
	for _, f := range files {
		if f.Name == "rout_plated.xnc" || f.Name == "rout_final.xnc" {
			c.Files[f.Name] = string(f.Data)
		}
	}
	bits := rout.BitsOf(b, o.RouterBit)
	for _, p := range b.Profiles() {
		c.Profiles = append(c.Profiles, sweepProfile{p.Cutout, points(p.Path.Flatten(100))})
		keep := func(from, to float64) {
			var line []geom.Point
			for _, g := range p.Path.Stretch(from, to) {
				n := 1
				if g.Arc {
					n = 200
				}
				for k := range n {
					line = append(line, g.At(g.Length()*float64(k)/float64(n)))
				}
				line = append(line, g.B)
			}
			c.Kept = append(c.Kept, points(line))
		}
		d := bits.Bit(p)
		for _, s := range b.Wall(p).Plated {
			if !s.Round() {
				keep(s.From-0.3*d, s.From+0.3*d)
				keep(s.To-0.3*d, s.To+0.3*d)
			}
		}
		segs := p.Path.Segments()
		for i, g := range segs {
			next := segs[(i+1)%len(segs)]
			in, out := g.Tangent(g.Length()), next.Tangent(0)
			turn := math.Atan2(in.Cross(out), in.Dot(out))
			if p.Cutout {
				turn = -turn
			}
			if turn < -1e-3 { // the bit touches r·tan(turn/2) before and after
				reach := d/2*math.Tan(-turn/2) + 0.01*mm
				corner := p.Path.Start(i) + g.Length()
				if meets(b.Wall(p), corner, reach) {
					reach += 0.3 * d // one pass goes into the corner, the other ends before it
				}
				keep(corner-reach, corner+reach)
			}
		}
	}
	for _, tab := range b.Tabs() {
		from, to := tab.Range()
		c.Kept = append(c.Kept, nil)
		var line []geom.Point
		for _, g := range tab.Edge.Profile.Path.Stretch(from, to) {
			for k := range 101 {
				line = append(line, g.At(g.Length()*float64(k)/100))
			}
		}
		c.Kept[len(c.Kept)-1] = points(line)
	}
	return c
}

// meets tells whether a plated stretch ends near a place of its profile.
func meets(w *board.Wall, at, near float64) bool {
	return slices.ContainsFunc(w.Plated, func(s board.Stretch) bool {
		round := s.Profile.Path.Perimeter()
		return !s.Round() && (math.Abs(math.Remainder(s.From-at, round)) < near || math.Abs(math.Remainder(s.To-at, round)) < near)
	})
}

// sweep has the bits run over the boards.
func sweep(t *testing.T, cases []sweepCase) {
	t.Helper()
	if err := exec.Command("/usr/bin/python3", "-c", "import shapely").Run(); err != nil {
		require.Empty(t, os.Getenv("HEMLINE_CI"), "shapely is needed where HEMLINE_CI is set")
		t.Skip("python3-shapely is not installed")
	}
	var in, out, failed bytes.Buffer
	for _, c := range cases {
		line, err := json.Marshal(c)
		require.NoError(t, err)
		in.Write(append(line, '\n'))
	}
	cmd := exec.Command("/usr/bin/python3", "testdata/sweep/sweep.py")
	cmd.Stdin, cmd.Stdout, cmd.Stderr = &in, &out, &failed
	require.NoError(t, cmd.Run(), failed.String())
	lines := bufio.NewScanner(&out)
	n := 0
	for ; lines.Scan(); n++ {
		var got struct {
			Depth, Away  float64
			Bitten, Left string
		}
		require.NoError(t, json.Unmarshal(lines.Bytes(), &got))
		assert.LessOrEqual(t, got.Depth, 0.002, "board is cut away at %s:\n%s", got.Bitten, cases[n].text)
		assert.Zero(t, got.Away, "edge is left standing at %s:\n%s", got.Left, cases[n].text)
	}
	assert.Equal(t, len(cases), n)
}

// The bits of the rout files, run by shapely from what the files say alone, cut
// nothing of the board deeper than 2 µm and leave no more than 5 µm of its edge,
// but for tabs, inside corners and the crests where plated stretches end: of every
// example, and of 200 boards made at random.
func TestTheSweepOfTheRoutsIsTheBoard(t *testing.T) {
	var cases []sweepCase
	for _, s := range langtest.Examples(t, "../../..") {
		if a := s.Analyze(); !strings.HasPrefix(s.Title, "broken") && len(a.Findings()) == 0 && a.Board().Outline() != nil {
			cases = append(cases, sweepOf(t, a.Board(), s.Title, usual))
		}
	}
	require.Greater(t, len(cases), 5)
	rng := rand.New(rand.NewPCG(23, 1))
	for made := 0; made < 200; {
		text := randomRouted(rng)
		a := lang.Analyze(source.New("a.hem", text), nil, nil)
		require.Empty(t, a.Findings(), text)
		b := a.Board()
		if len(rout.BitsOf(b, usual.RouterBit).Left()) > 0 {
			continue // Build refuses, see TestEdgesThatNoBitReaches
		}
		cases = append(cases, sweepOf(t, b, text, usual))
		made++
	}
	sweep(t, cases)
}

// randomRouted is a board with notches, pockets behind throats, slanted and round
// pieces, cutouts, platings, gaps and tabs.
func randomRouted(rng *rand.Rand) string {
	var w strings.Builder
	in := func(low, high float64) float64 { return math.Round((low+(high-low)*rng.Float64())*1000) / 1000 }
	n := 0
	line := func(x, y, corner float64) {
		n++
		fmt.Fprintf(&w, "  line v%d to (%.3f mm, %.3f mm)", n, x, y)
		if corner > 0 {
			fmt.Fprintf(&w, " corner %g mm", corner)
		}
		w.WriteString("\n")
	}
	wide, high := in(60, 120), in(40, 80)
	x, neck, deep := in(15, 25), in(0.9, 6), in(3, 12)
	fmt.Fprintf(&w, "outline {\n  start (0 mm, 0 mm)\n  line s0 to (%g mm, 0 mm)\n", x)
	switch rng.IntN(5) {
	case 0: // a notch
		line(x, deep, 0)
		line(x+neck, deep, 0)
		line(x+neck, 0, 0)
	case 1: // a pocket behind a throat
		corner := in(0.4, 1.5)
		side := in(0.2, 4) + 2*corner
		line(x, deep, 0)
		line(x-side, deep, corner)
		line(x-side, deep+2*corner+3, corner)
		line(x+neck+side, deep+2*corner+3, corner)
		line(x+neck+side, deep, corner)
		line(x+neck, deep, 0)
		line(x+neck, 0, 0)
	case 2: // slanted sides
		line(x+in(2, 8), deep, 0)
		line(x+10, 0, 0)
		neck = 10
	case 3: // a round bay
		neck = in(3, 8)
		fmt.Fprintf(&w, "  arc v0 to (%.3f mm, 0 mm) around (%.4f mm, %.3f mm) clockwise\n", x+neck, x+neck/2, -in(0, 3))
	default: // a round bulge
		neck = in(3, 8)
		fmt.Fprintf(&w, "  arc v0 to (%.3f mm, 0 mm) around (%.4f mm, %.3f mm)\n", x+neck, x+neck/2, in(0, 3))
	}
	fmt.Fprintf(&w, "  line s1 to (%g mm, 0 mm)\n  line e to (%g mm, %g mm)\n", wide, wide+in(-5, 5), high)
	corner := ""
	if rng.IntN(2) == 0 {
		corner = fmt.Sprintf(" corner %g mm", in(0.5, 4))
	}
	fmt.Fprintf(&w, "  line nn to (%g mm, %g mm)%s\n  close w\n}\n", in(0, 8), high+in(-4, 4), corner)
	kind := rng.IntN(6)
	fmt.Fprintf(&w, "cutout c0 %s at (%.3f mm, %.3f mm)\n", []string{"circle 5 mm", "slot 9 mm by 1.7 mm turned 30 deg", "circle 0.8 mm", "slot 6 mm by 0.8 mm", "rectangle 8 mm by 5 mm corner 1 mm", "rectangle 7 mm by 4 mm"}[kind], wide*0.7, high*0.6)
	edges := []string{"s1", "e", "nn", "w"}
	if rng.IntN(3) > 0 {
		fmt.Fprintf(&w, "plating p { along %s %s; net G }\n", edges[rng.IntN(2)], edges[2+rng.IntN(2)])
	}
	if rng.IntN(2) == 0 {
		fmt.Fprintf(&w, "plating q { along %s from 2 mm to %g mm; net G }\n", edges[rng.IntN(4)], in(6, 25))
	}
	if kind < 4 && rng.IntN(2) == 0 {
		w.WriteString("plating r { along c0.rim; net G }\n")
	}
	for i, e := range edges {
		if rng.IntN(2) == 0 {
			fmt.Fprintf(&w, "tab t%d on %s at %g mm width %g mm solid%s\n", i, e, in(8, 20), in(2, 5), []string{"", " opens margin 0.5 mm", " length 3.5 mm", " premetallised"}[rng.IntN(4)])
		}
	}
	return w.String()
}
