package lang_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Shapely (Debian's python3-shapely) is the outside measure of what a text
// comes to as areas and lengths. testdata/board_oracle.py reads the same boards, not
// hemline's model of them. It replaces arcs by chords, and the tolerances are
// what that can be off by: with the angle t = 2π/chords, a chord lies r t²/8
// off its arc, is r t³/24 shorter and cuts off r² t³/12 of area.
const (
	interpreter  = "/usr/bin/python3"
	oracleChords = 256
	oracleBoards = 200
)

type boardAnswer struct {
	Valid           bool
	Area, Perimeter float64
	Centroid        [2]float64
	Share           float64
	Platings        []platingAnswer
}

type platingAnswer struct {
	Length float64
	Wrap   [2]*float64  // area by face; null where shapely could not tell
	Apart  [2][]float64 // by face, from each feature to the wrap; -1 where there is none
	From   []float64    // from each feature to the plated wall
}

// ask runs the oracle once for everything.
func ask(t *testing.T, boards []sketch) []boardAnswer {
	t.Helper()
	if err := exec.Command(interpreter, "-c", "import shapely").Run(); err != nil {
		require.Empty(t, os.Getenv("HEMLINE_CI"), "shapely is needed where HEMLINE_CI is set")
		t.Skip("python3-shapely is not installed")
	}
	in, err := json.Marshal(map[string]any{"chords": oracleChords, "boards": boards})
	require.NoError(t, err)
	var stdout, stderr bytes.Buffer
	cmd := exec.Command(interpreter, "testdata/board_oracle.py")
	cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(in), &stdout, &stderr
	require.NoError(t, cmd.Run(), stderr.String())
	var a []boardAnswer
	require.NoError(t, json.Unmarshal(stdout.Bytes(), &a))
	return a
}

// worst keeps the largest deviation seen, as a share of what is allowed.
type worst map[string]float64

func (w worst) within(t *testing.T, what string, want, got, allowed float64) {
	t.Helper()
	w[what] = max(w[what], math.Abs(want-got)/allowed)
	assert.InDelta(t, want, got, allowed, what)
}

func TestTheModelAgainstShapely(t *testing.T) {
	t.Parallel()
	var boards []sketch
	gen := sketches()
	for i := 0; len(boards) < oracleBoards; i++ {
		s := gen.Example(i)
		// A drawn path may cross itself now and then; what that encloses means nothing.
		if p := analyze(s.Outline.text("outline")).Board().Outline().Path; len(p.Crossings(1)) == 0 {
			boards = append(boards, s)
		}
	}
	answers := ask(t, boards)
	require.Len(t, answers, len(boards))
	w, untold := worst{}, 0
	for i, s := range boards {
		a := analyze(s.text())
		require.Empty(t, messages(t, a), s.text())
		untold += checkSketch(t, w, s.text(), a.Board(), answers[i])
		if t.Failed() {
			t.Fatalf("board %d:\n%s", i, s.text())
		}
	}
	assert.LessOrEqual(t, untold, oracleBoards/20, "wraps whose area shapely could not tell")
	t.Logf("%d boards, largest deviations as a share of what is allowed: %v", len(boards), w)
}

// off are what chords, and coordinates rounded to a nanometre, change in a
// board: distances, lengths and areas (mm). reach is how far beyond the board's
// own arcs the arcs of strips lie.
func off(b *board.Board, reach float64) (distance, length, area float64) {
	const t, rounding = 2 * math.Pi / oracleChords, 5e-6
	for _, p := range b.Profiles() {
		for _, g := range p.Path.Segments() {
			r, sweep := g.Radius()/1e6+reach, math.Abs(g.Sweep())
			if !g.Arc {
				continue
			}
			distance = max(distance, r*t*t/8)
			length += r * sweep * t * t / 24
			area += r * r * sweep * t * t / 12
		}
		length += rounding
		area += rounding * p.Path.Perimeter() / 1e6
	}
	for _, f := range b.Features() {
		distance = max(distance, f.Shape.Segments()[0].Radius()/1e6*t*t/8)
	}
	return distance + rounding, length, area
}

// checkSketch compares a board with the oracle's answer. It returns how many
// areas the oracle could not tell.
func checkSketch(t *testing.T, w worst, text string, b *board.Board, a boardAnswer) (untold int) {
	t.Helper()
	require.True(t, a.Valid, "cutouts lie inside and apart:\n%s", text)
	region, ok := b.Region()
	require.True(t, ok)
	_, length, area := off(b, 0)
	around := b.Outline().Path.Perimeter() / 1e6
	w.within(t, "area", a.Area, region.Area()/1e12, area)
	w.within(t, "perimeter", a.Perimeter, around, length)
	w.within(t, "centroid x", a.Centroid[0], region.Centroid().X/1e6, area/a.Area*around)
	w.within(t, "centroid y", a.Centroid[1], region.Centroid().Y/1e6, area/a.Area*around)
	w.within(t, "share", a.Share, b.Finished(b.Outline()).Share, length/around)
	require.Len(t, b.Platings(), len(a.Platings))
	for i, p := range b.Platings() {
		untold += checkPlating(t, w, b, p, a.Platings[i])
	}
	return untold
}

func checkPlating(t *testing.T, w worst, b *board.Board, p *board.Plating, a platingAnswer) (untold int) {
	t.Helper()
	_, length, _ := off(b, 0)
	w.within(t, "plated length", a.Length, b.PlatedLength(p)/1e6, length)
	around := 0.0
	var stretches []board.Stretch
	for _, profile := range b.Profiles() {
		around += profile.Path.Perimeter() / 1e6
		for _, s := range b.Wall(profile).Plated {
			if s.Plating == p {
				stretches = append(stretches, s)
			}
		}
	}
	for _, face := range board.Faces {
		width := p.Wrap[face].Value / 1e6
		distance, _, _ := off(b, width)
		// Joints between strips are arcs as well, of the wrap's width.
		distance = max(distance, width*math.Pow(2*math.Pi/oracleChords, 2)/8)
		if want := a.Wrap[face]; want != nil {
			// Both long sides of the strips, the ends and arcs at joints may be off.
			w.within(t, "wrap area", *want, b.WrapArea(p, face)/1e12, distance*(2*around+2*math.Pi*width*float64(1+len(stretches))))
		} else {
			untold++
		}
		for i, f := range b.Features() {
			w.within(t, "feature to wrap", a.Apart[face][i], leastDistance(stretches, func(s board.Stretch) float64 {
				least := math.Inf(1)
				for _, band := range s.Band(face) {
					d, _, _ := geom.ShapeDistance(f.Shape, band)
					least = min(least, d/1e6)
				}
				return least
			}), 2*distance)
		}
	}
	distance, _, _ := off(b, 0)
	for i, f := range b.Features() {
		w.within(t, "feature to wall", a.From[i], leastDistance(stretches, func(s board.Stretch) float64 {
			least := math.Inf(1)
			for _, g := range s.Segments() {
				if f.Shape.Contains(g.At(g.Length() / 2)) {
					return 0
				}
				for _, side := range f.Shape.Segments() {
					d, _, _ := geom.Distance(g, side)
					least = min(least, d/1e6)
				}
			}
			return least
		}), 2*distance)
	}
	return untold
}

// leastDistance is -1 where there is nothing to measure to.
func leastDistance(list []board.Stretch, measure func(board.Stretch) float64) float64 {
	least := math.Inf(1)
	for _, s := range list {
		least = min(least, measure(s))
	}
	if math.IsInf(least, 1) {
		return -1
	}
	return least
}
