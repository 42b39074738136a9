package geom

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Shapely (Debian's python3-shapely) is the outside measure here. It works on
// polygons, so testdata/oracle.py replaces arcs by chords, and the tolerances
// are what chords can be off: with the angle t = 2π/chords, a chord lies
// r t²/8 off its arc, is r t³/24 shorter, and cuts off r² t³/12 of area.
const (
	interpreter   = "/usr/bin/python3"
	oracleChords  = 1024
	oracleBoards  = 240
	oraclePairs   = 300
	oraclePaths   = 300
	floatingNoise = 1e-9 // relative, of the polygon library's own sums
)

type oracleBoard struct {
	outer *Loop
	holes []*Loop
	width float64
	from  int     // the chain: first segment,
	count int     // number of segments,
	f0    float64 // the fraction of the first it starts at
	f1    float64 // and of the last it ends at
}

func (b oracleBoard) chain() []Segment {
	segs := b.outer.Segments()
	n := len(segs)
	last := (b.from + b.count - 1) % n
	s0 := b.outer.Start(b.from) + b.f0*segs[b.from].Length()
	s1 := b.outer.Start(last) + b.f1*segs[last].Length()
	return b.outer.Stretch(s0, s1)
}

// clipped is the area of the pieces on the board and off its holes.
func (b oracleBoard) clipped(pieces []*Loop) float64 {
	return AreaCovered([][]*Loop{pieces, {b.outer}, b.holes}, func(cover []int) bool {
		return cover[0] > 0 && cover[1] > 0 && cover[2] == 0
	})
}

func oracleBoardGen() *rapid.Generator[oracleBoard] {
	return rapid.Custom(func(t *rapid.T) oracleBoard {
		radius := math.Pow(10, rapid.Float64Range(6, 10).Draw(t, "size"))
		b := oracleBoard{outer: shape(radius).Draw(t, "outline")}
		if rapid.Bool().Draw(t, "clockwise") {
			b.outer = b.outer.Reverse()
		}
		for range rapid.IntRange(0, 4).Draw(t, "holes") {
			h := placed(radius/5, radius).Draw(t, "hole")
			if oracleFits(b, h, radius/1e3) {
				b.holes = append(b.holes, h)
			}
		}
		b.width = radius * rapid.Float64Range(0.005, 0.2).Draw(t, "width")
		n := len(b.outer.Segments())
		b.from = rapid.IntRange(0, n-1).Draw(t, "from")
		b.count = rapid.IntRange(1, max(1, n-1)).Draw(t, "count")
		b.f0 = rapid.Float64Range(0, 0.4).Draw(t, "f0")
		b.f1 = rapid.Float64Range(0.6, 1).Draw(t, "f1")
		return b
	})
}

// oracleFits says whether a hole lies on the board, apart from the others.
func oracleFits(b oracleBoard, h *Loop, apart float64) bool {
	d, _, _ := LoopDistance(b.outer, h)
	if d < apart || !b.outer.Contains(h.At(0)) {
		return false
	}
	for _, other := range b.holes {
		if d, _, _ := ShapeDistance(other, h); d < apart {
			return false
		}
	}
	return true
}

// The forms of the question and answer that oracle.py reads and writes.
type (
	boardAsked struct {
		Outer [][]any   `json:"outer"`
		Holes [][][]any `json:"holes"`
		Width float64   `json:"width"`
		Left  bool      `json:"left"`
		Chain [][3]any  `json:"chain"`
	}
	asked struct {
		Chords int          `json:"chords"`
		Boards []boardAsked `json:"boards"`
		Pairs  [][2][][]any `json:"pairs"`
		Paths  [][][]any    `json:"paths"`
	}
	boardAnswer struct {
		Valid           bool
		Area, Perimeter float64
		Rim, Strip      *float64 // null where shapely could not tell
		Centroid        [2]float64
	}
	pairAnswer struct{ Shape, Boundary, Union, Both float64 }
	answer     struct {
		Boards []boardAnswer
		Pairs  []pairAnswer
		Simple []bool
	}
)

func written(l *Loop) [][]any {
	var out [][]any
	for _, g := range l.Segments() {
		s := []any{g.A.X, g.A.Y, g.B.X, g.B.Y}
		if g.Arc {
			s = append(s, g.C.X, g.C.Y, g.Clockwise)
		}
		out = append(out, s)
	}
	return out
}

func (b oracleBoard) asked() boardAsked {
	q := boardAsked{Outer: written(b.outer), Holes: [][][]any{}, Width: b.width, Left: !b.outer.Clockwise()}
	for _, h := range b.holes {
		q.Holes = append(q.Holes, written(h))
	}
	for k := range b.count {
		part := [3]any{(b.from + k) % len(b.outer.Segments()), 0.0, 1.0}
		if k == 0 {
			part[1] = b.f0
		}
		if k == b.count-1 {
			part[2] = b.f1
		}
		q.Chain = append(q.Chain, part)
	}
	return q
}

// ask runs the oracle once for everything.
func ask(t *testing.T, q asked) answer {
	t.Helper()
	if err := exec.Command(interpreter, "-c", "import shapely").Run(); err != nil {
		require.Empty(t, os.Getenv("HEMLINE_CI"), "shapely is needed where HEMLINE_CI is set")
		t.Skip("python3-shapely is not installed")
	}
	in, err := json.Marshal(q)
	require.NoError(t, err)
	var stdout, stderr bytes.Buffer
	cmd := exec.Command(interpreter, "testdata/oracle.py")
	cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(in), &stdout, &stderr
	require.NoError(t, cmd.Run(), stderr.String())
	var a answer
	require.NoError(t, json.Unmarshal(stdout.Bytes(), &a))
	return a
}

// chordError bounds what chords change for loops: the distance of a point of
// the boundary, the length of the boundary, and the area inside.
func chordError(grow float64, loops ...*Loop) (off, length, area float64) {
	const t = 2 * math.Pi / oracleChords
	for _, l := range loops {
		for _, g := range l.Segments() {
			// An arc that is not a whole number of chords gets shorter ones,
			// and never fewer than two.
			r, sweep := g.Radius()+grow, math.Abs(g.Sweep())
			if g.Sweep() == 0 {
				r = 0
			}
			off = max(off, r*t*t/8)
			length += r * sweep * t * t / 24
			area += r * r * sweep * t * t / 12
		}
		off += floatingNoise * l.Perimeter()
		length += floatingNoise * l.Perimeter()
		area += floatingNoise * l.Perimeter() * l.Perimeter()
	}
	return off, length, area
}

// worst keeps the largest deviation seen, as a share of what it is of.
type worst map[string]float64

func (w worst) within(t *testing.T, what string, want, got, allowed, of float64) {
	t.Helper()
	w[what] = max(w[what], math.Abs(want-got)/of)
	assert.InDelta(t, want, got, allowed, what)
}

func TestAgainstShapely(t *testing.T) {
	t.Parallel()
	boards := examples(t, oracleBoardGen(), oracleBoards)
	pairs := examples(t, rapid.Custom(func(t *rapid.T) [2]*Loop {
		g := placed(10*mm, 15*mm)
		return [2]*Loop{g.Draw(t, "a"), g.Draw(t, "b")}
	}), oraclePairs)
	paths := examples(t, star(10*mm), oraclePaths)

	q := asked{Chords: oracleChords}
	for _, b := range boards {
		q.Boards = append(q.Boards, b.asked())
	}
	for _, p := range pairs {
		q.Pairs = append(q.Pairs, [2][][]any{written(p[0]), written(p[1])})
	}
	for _, p := range paths {
		q.Paths = append(q.Paths, written(p))
	}
	a := ask(t, q)
	require.Len(t, a.Boards, oracleBoards)
	require.Len(t, a.Pairs, oraclePairs)
	require.Len(t, a.Simple, oraclePaths)
	w, untold := worst{}, 0
	for i, b := range boards {
		checkBoard(t, w, b, a.Boards[i])
		if a.Boards[i].Rim == nil || a.Boards[i].Strip == nil {
			untold++
		}
	}
	assert.LessOrEqual(t, untold, oracleBoards/100, "boards whose strips shapely could not tell")
	for i, p := range pairs {
		checkPair(t, w, p[0], p[1], a.Pairs[i])
	}
	crossing, tooFine := 0, 0
	for i, p := range paths {
		found := p.Crossings(tol)
		if a.Simple[i] && len(found) > 0 && nearJoints(p, found) {
			tooFine++
			continue
		}
		crossing += min(len(found), 1)
		assert.Equal(t, a.Simple[i], len(found) == 0, "path %d: %v", i, found)
	}
	assert.Greater(t, crossing, 10, "paths that cross themselves are among those tried")
	assert.LessOrEqual(t, tooFine, 2, "few paths cross where chords cannot show it")
	t.Logf("%d boards, %d pairs, %d paths (%d crossing), largest deviations: %v",
		len(boards), len(pairs), len(paths), crossing, w)
}

// nearJoints says whether every crossing lies so near the joint of its segments
// that the chords next to the joint pass over it.
func nearJoints(l *Loop, found []Crossing) bool {
	for _, c := range found {
		joint, r := l.Segments()[c.J].A, max(l.Segments()[c.I].Radius(), l.Segments()[c.J].Radius())
		if c.I == 0 && c.J == len(l.Segments())-1 {
			joint = l.Segments()[0].A
		}
		if c.At.Dist(joint) > 2*math.Pi/oracleChords*r {
			return false
		}
	}
	return true
}

func checkBoard(t *testing.T, w worst, b oracleBoard, a boardAnswer) {
	t.Helper()
	region := Region{b.outer, b.holes}
	assert.True(t, a.Valid, "the outline does not cross itself, and holes lie inside")
	_, length, area := chordError(0, append([]*Loop{b.outer}, b.holes...)...)
	w.within(t, "area", a.Area, region.Area(), area, a.Area)
	w.within(t, "perimeter", a.Perimeter, b.outer.Perimeter(), length, a.Perimeter)
	shift := area / a.Area * b.outer.Perimeter()
	w.within(t, "centroid x", a.Centroid[0], region.Centroid().X, shift, a.Perimeter)
	w.within(t, "centroid y", a.Centroid[1], region.Centroid().Y, shift, a.Perimeter)

	// The strip has at most the outline, its offset and round joints, as long
	// as the outline and w full circles for each joint, for its boundary; each
	// may be off by the chord error of the largest radius.
	inward := !b.outer.Clockwise()
	off, _, _ := chordError(b.width, append([]*Loop{b.outer}, b.holes...)...)
	off = max(off, b.width*math.Pow(2*math.Pi/oracleChords, 2)/8)
	rim := off * 2 * (b.outer.Perimeter() + 2*math.Pi*b.width*float64(len(b.outer.Segments())))
	if a.Rim != nil {
		w.within(t, "rim", *a.Rim, b.clipped(Band(b.outer.Segments(), b.width, inward)), rim, a.Area)
	}
	if a.Strip != nil {
		w.within(t, "strip", *a.Strip, b.clipped(Band(b.chain(), b.width, inward)), rim, a.Area)
	}
}

func checkPair(t *testing.T, w worst, p, q *Loop, a pairAnswer) {
	t.Helper()
	off, _, area := chordError(0, p, q)
	d, _, _ := ShapeDistance(p, q)
	w.within(t, "shape distance (mm)", a.Shape, d, 2*off, mm)
	d, _, _ = LoopDistance(p, q)
	w.within(t, "boundary distance (mm)", a.Boundary, d, 2*off, mm)
	shapes := []*Loop{p, q}
	either := AreaWhere(shapes, func(in []bool) bool { return in[0] || in[1] })
	both := AreaWhere(shapes, func(in []bool) bool { return in[0] && in[1] })
	w.within(t, "area of union", a.Union, either, area, a.Union)
	w.within(t, "area of intersection", a.Both, both, area, a.Union)
}
