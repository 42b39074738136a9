//go:build !race

package rules

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/emit/layers"
	"hemline/lang/geom"
	"hemline/lang/langtest"
)

// reading is a clean board whose layers are written, with what they are held
// to: the pieces of its map and the limits in force. Lengths are in mm.
type reading struct {
	Name   string             `json:"name"`
	Folder string             `json:"folder"`
	Limits map[string]float64 `json:"limits"`
	Levels []string           `json:"levels"`
	Pieces []readPiece        `json:"pieces"`
	// Gaps and Tabs are where a plating stops and where metal keeps off a tab.
	Gaps []readStretch `json:"gaps"`
	Tabs []readStretch `json:"tabs"`
}

type readPiece struct {
	Kind    string         `json:"kind"`
	Of      int            `json:"of"` // its item, -1 for the outline
	Item    string         `json:"item"`
	Net     *string        `json:"net"`
	Member  int            `json:"member"`
	Layers  []int          `json:"layers"`
	Line    bool           `json:"line"`
	Shape   [][]readStep   `json:"shape"`
	Profile int            `json:"profile"` // that a stretch is of, or a pad or tab stands on; -1
	Own     []readStep     `json:"own"`     // the edge that a pad stands on
	Ends    [][2]float64   `json:"ends"`    // of a stretch, or of that edge
	Figures map[string]any `json:"figures"`
}

type readStretch struct {
	Line    []readStep `json:"line"`
	Deep    []float64  `json:"deep"` // on each level
	Profile int        `json:"profile"`
}

// readStep is a line or an arc as the reader of the layers has them.
type readStep struct {
	Type   string      `json:"type"`
	Start  [2]float64  `json:"start"`
	End    [2]float64  `json:"end"`
	Center *[2]float64 `json:"center,omitempty"`
	Radius float64     `json:"radius,omitempty"`
	Sweep  float64     `json:"sweep,omitempty"`
	Dir    string      `json:"dir,omitempty"`
}

func stepsIn(segs []geom.Segment) []readStep {
	list := make([]readStep, len(segs))
	at := func(p geom.Point) [2]float64 { return [2]float64{p.X / 1e6, p.Y / 1e6} }
	for i, g := range segs {
		list[i] = readStep{Type: "line", Start: at(g.A), End: at(g.B)}
		if g.Arc {
			c := at(g.C)
			list[i] = readStep{Type: "arc", Start: at(g.A), End: at(g.B), Center: &c, Radius: g.Radius() / 1e6, Sweep: math.Abs(g.Sweep()), Dir: "ccw"}
			if g.Clockwise {
				list[i].Dir = "cw"
			}
		}
	}
	return list
}

// readingOf is a board as the script takes it.
func readingOf(name string, a *lang.Analysis) reading {
	b, l := a.Board(), checks.LimitsFor(a)
	w := reading{Name: name, Limits: map[string]float64{}, Levels: b.Layers()}
	if len(w.Levels) == 1 {
		w.Levels = append(w.Levels, board.Bottom.String())
	}
	for _, p := range checks.Parameters() {
		if p.Minimum != "" {
			w.Limits[p.Name] = l.Minimum(p.Name).Value / 1e6
		}
	}
	look := copper.PiecesAlone()
	look.Margin = l.Minimum("mask_margin").Value
	m := copper.Of(b, look)
	items := map[*board.Item]int{}
	m.Each(func(p *copper.Piece) { w.Pieces = append(w.Pieces, pieceOf(m, w.Levels, items, p)) })
	for _, g := range b.Gaps() {
		if p := b.PlatingNamed(g.Of.Text); p != nil {
			from, to := g.Edge.Range(g.From, g.To)
			deep := make([]float64, len(w.Levels))
			deep[0], deep[len(deep)-1] = p.Wrap[board.Top].Value/1e6, p.Wrap[board.Bottom].Value/1e6
			w.Gaps = append(w.Gaps, readStretch{Line: stepsIn(board.Stretch{Profile: g.Edge.Profile, From: from, To: to}.Segments()), Deep: deep, Profile: g.Edge.Profile.Index})
		}
	}
	for _, t := range b.Tabs() {
		if t.Premetallised {
			continue
		}
		from, to := t.Range()
		wide := board.Stretch{Profile: t.Edge.Profile, From: from, To: to}.Widened(l.Minimum("tab_gap").Value)
		deep := make([]float64, len(w.Levels))
		for i := range deep {
			if t.Perforated {
				deep[i] = (t.Inset.Value + t.Hole.Value/2) / 1e6
			}
		}
		w.Tabs = append(w.Tabs, readStretch{Line: stepsIn(wide.Segments()), Deep: deep, Profile: t.Edge.Profile.Index})
	}
	return w
}

func pieceOf(m *copper.Map, levels []string, items map[*board.Item]int, p *copper.Piece) readPiece {
	w := readPiece{Kind: p.Kind.String(), Of: -1, Item: "outline", Member: int(p.Member), Profile: -1, Figures: map[string]any{}}
	if p.Of() != nil {
		if _, known := items[p.Of()]; !known {
			items[p.Of()] = len(items)
		}
		w.Of, w.Item = items[p.Of()], p.Name()
	}
	if net := p.Net(); net.Given() {
		w.Net = &net.Text
	}
	for i, l := range levels {
		if p.Layers&m.Layer(l) != 0 {
			w.Layers = append(w.Layers, i)
		}
	}
	w.Line = p.Kind == copper.Wall || p.Kind == copper.Edge || p.Kind == copper.Tab
	for _, l := range p.Shape() {
		w.Shape = append(w.Shape, stepsIn(l.Segments()))
	}
	ends := func(path *geom.Loop, at ...float64) {
		for _, s := range at {
			x := path.At(math.Mod(s, path.Perimeter()))
			w.Ends = append(w.Ends, [2]float64{x.X / 1e6, x.Y / 1e6})
		}
	}
	if s := p.Stretch(); s.Profile != nil {
		w.Profile = s.Profile.Index
		if s.To > s.From && !s.Round() {
			ends(s.Profile.Path, s.From, s.To)
		}
	}
	if e := p.On(); e != nil {
		w.Profile = e.Profile.Index
		w.Own = stepsIn(board.Stretch{Profile: e.Profile, From: e.From, To: e.To}.Segments())
		if !e.Closed {
			ends(e.Profile.Path, e.From, e.To)
		}
	}
	switch x := p.Item.(type) {
	case *board.Plating:
		w.Figures["extend"] = x.Extend.Value / 1e6
	case *board.Plane:
		w.Figures["pullback"] = x.Pullback.Value / 1e6
	case *board.Fence:
		w.Figures["added"] = x.Added
	case *board.Connector:
		w.Figures["clearance"] = x.Clearance.Value / 1e6
	case *board.Tab:
		w.Figures["premetallised"], w.Figures["width"] = x.Premetallised, x.Width.Value/1e6
		w.Figures["routed"] = x.Removal.How.Text == "rout"
		if i, _ := x.Edge.Profile.Path.SegmentAt(x.Edge.Along(x.Position)); !x.Edge.Profile.Cutout && !x.Edge.Profile.Path.Segments()[i].Arc {
			w.Figures["body"] = stepsIn(x.Edge.Standing(x.Position, x.Width.Value, 3e6, 0).Segments()) // some of it
		}
	case *board.Relief:
		w.Figures["over"] = x.OverNames()
	}
	return w
}

// The layers of what is clean are read back by a reader that knows nothing of
// hemline, and held to the pairs by shapely: see testdata/readback.
func TestLayersOfWhatIsCleanKeepThePairs(t *testing.T) {
	t.Parallel()
	const readers = "../../lang/emit/layers/testdata/readers"
	if _, err := os.Stat(readers + "/node_modules/gerber-plotter"); err != nil {
		require.Empty(t, os.Getenv("HEMLINE_CI"), "the readers are needed where HEMLINE_CI is set: npm ci in "+readers)
		t.Skip("no readers; npm ci in " + readers + " installs them")
	}
	if err := exec.Command("/usr/bin/python3", "-c", "import shapely").Run(); err != nil {
		require.Empty(t, os.Getenv("HEMLINE_CI"), "shapely is needed where HEMLINE_CI is set")
		t.Skip("python3-shapely is not installed")
	}
	folder := t.TempDir()
	var boards []reading
	texts := map[string]string{}
	rnd := rand.New(rand.NewPCG(20, 7))
	add := func(name string, a *lang.Analysis) {
		if a.Board().Outline() == nil || len(underAll(a)) > 0 {
			return
		}
		if name == "made.hem" && len(boards)%2 == 0 {
			a = crowded(rnd, a)
		}
		l := checks.LimitsFor(a)
		files, err := layers.Build(a.Board(), l.ForLayers())
		require.NoError(t, err, name)
		w := readingOf(fmt.Sprintf("%d: %s", len(boards), name), a)
		w.Folder = filepath.Join(folder, fmt.Sprintf("%03d", len(boards)))
		require.NoError(t, os.Mkdir(w.Folder, 0o755))
		for _, f := range files {
			require.NoError(t, os.WriteFile(filepath.Join(w.Folder, f.Name), f.Data, 0o644))
		}
		boards, texts[w.Name] = append(boards, w), a.Root().Text()
	}
	everyBoard(t, add)
	for _, x := range langtest.Sections(t, "testdata/readback/*.hem") {
		for _, f := range underAll(x.Analyze()) {
			assert.Fail(t, "it is not clean", "%s: %s", x.Name(), f.Message)
		}
		add(x.Name(), x.Analyze())
	}
	run := func(in []byte, name string, args ...string) []byte {
		var out, failed bytes.Buffer
		cmd := exec.Command(name, args...)
		cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(in), &out, &failed
		require.NoError(t, cmd.Run(), failed.String())
		return out.Bytes()
	}
	in, err := json.Marshal(map[string]any{"readers": readers, "boards": boards})
	require.NoError(t, err)
	var got struct {
		Wrong []struct{ Board, Says string }
		Held  map[string]int
	}
	require.NoError(t, json.Unmarshal(run(in, "/usr/bin/python3", "testdata/readback"), &got))
	for _, x := range got.Wrong {
		assert.Fail(t, x.Says, "%s\n%s", x.Board, texts[x.Board])
	}
	t.Logf("%d boards, held: %v", len(boards), strings.ReplaceAll(fmt.Sprint(got.Held), "map", ""))
	assert.GreaterOrEqual(t, len(boards), 150)
}

// crowded is a clean board with more on it: copper, holes and planes of its nets
// and of none, near the profile and near what stands there, as long as nothing is
// found in it.
func crowded(rnd *rand.Rand, a *lang.Analysis) *lang.Analysis {
	b, text := a.Board(), a.Root().Text()
	m := copper.Of(b, copper.PiecesAlone())
	var nets []string
	var boxes []geom.Box
	m.Each(func(p *copper.Piece) {
		if p.Net().Given() && !slices.Contains(nets, p.Net().Text) {
			nets = append(nets, p.Net().Text)
		}
		if p.Kind != copper.Plane {
			boxes = append(boxes, p.Box())
		}
	})
	net := func() string {
		if rnd.IntN(5) == 0 {
			return ""
		}
		return fmt.Sprintf(" net %q", append(nets, "other")[rnd.IntN(len(nets)+1)])
	}
	// place is a point up to 2 mm inward of the profile, or so near a corner of
	// what lies on the board.
	place := func() string {
		profiles := b.Profiles()
		p := profiles[rnd.IntN(len(profiles))]
		s := rnd.Float64() * p.Path.Perimeter()
		at := p.Path.At(s).Sub(p.Outward(s).Scale(2e6 * rnd.Float64()))
		if rnd.IntN(2) == 0 {
			box := boxes[rnd.IntN(len(boxes))]
			at = geom.Point{X: box.Max.X + 2e6*(rnd.Float64()-0.5), Y: box.Min.Y + 2e6*(rnd.Float64()-0.5)}
		}
		return fmt.Sprintf("(%.3f mm, %.3f mm)", at.X/1e6, at.Y/1e6)
	}
	size := func(least, most float64) string { return fmt.Sprintf("%.3f mm", least+(most-least)*rnd.Float64()) }
	levels := b.Layers()
	for i := range 24 {
		line, level := "", levels[rnd.IntN(len(levels))]
		switch rnd.IntN(8) {
		case 0, 1, 2:
			line = fmt.Sprintf("feature x%d on %s rectangle %s by %s at %s%s", i, level, size(0.2, 3), size(0.2, 3), place(), net())
		case 3, 4:
			line = fmt.Sprintf("feature x%d on %s circle %s at %s%s", i, level, size(0.2, 2), place(), net())
		case 5:
			line = fmt.Sprintf("hole x%d diameter %s at %s unplated", i, size(0.3, 2), place())
		case 6:
			line = fmt.Sprintf("hole x%d diameter %s at %s plated land %s%s", i, size(0.3, 1), place(), size(1.4, 2), net())
		case 7:
			line = fmt.Sprintf("plane on %s net %q pullback %s", level, append(nets, "other")[rnd.IntN(len(nets)+1)], size(0.3, 1.5))
		}
		if more := readText("made.hem", text+line+"\n"); len(underAll(more)) == 0 {
			a, text = more, text+line+"\n"
		}
	}
	return a
}
