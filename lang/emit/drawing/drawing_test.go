package drawing

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

var examples = []string{"receiver", "beacon_module", "ground_strip", "mast_ring", "broken/receiver", "broken/beacon_module", "broken/ground_strip", "broken/mast_ring"}

func example(t testing.TB, name string) *board.Board {
	t.Helper()
	f, err := source.Read("../../../examples/" + name + ".hem")
	require.NoError(t, err)
	return lang.Analyze(f, source.Read, nil).Board()
}

func read(t testing.TB, text string) *board.Board {
	t.Helper()
	return lang.Analyze(source.New("b.hem", text), func(string) (*source.File, error) { return nil, errors.New("none") }, nil).Board()
}

func drawn(t testing.TB, b *board.Board, o Options) []*sheet.Sheet {
	t.Helper()
	sheets, err := Make(b, scene.Build(b, 0), o)
	require.NoError(t, err)
	return sheets
}

// crowded is a board with so many gaps and tabs on its edges that not every
// label has room.
func crowded(n int) string {
	text := "board crowded { thickness 1.6 mm }\noutline rectangle 200 mm by 100 mm\nplating wall { along south; net GND; wrap top 0.8 mm; wrap bottom 0.8 mm }\n"
	for i := range n {
		text += fmt.Sprintf("gap gap_number_%d of wall on south at %g mm width 2 mm\nfeature f%d on top circle 1 mm at (%g mm, 20 mm) net N\n", i, 5+190*float64(i)/float64(n), i, 5+190*float64(i)/float64(n))
	}
	return text
}

// layered is a board of many layers.
func layered(n int) string {
	text := "board layered { class 2 }\nstack {\n"
	for i := range n {
		text += fmt.Sprintf("copper c%d 18 um\n", i)
		if i+1 < n {
			text += fmt.Sprintf("dielectric d%d 0.1 mm\n", i)
		}
	}
	text += "}\noutline rectangle 60 mm by 40 mm\nplating wall { along south; net GND; wrap top 0.8 mm; wrap bottom 0.8 mm }\n"
	for i := range n {
		text += fmt.Sprintf("plane on c%d net %s pullback %g mm\n", i, []string{"GND", "VCC"}[i%2], 0.5+float64(i)/10)
	}
	return text
}

// No text may lie on another, on a line, or outside the frame.
func TestLabelsLieFree(t *testing.T) {
	boards := map[string]*board.Board{"walled": read(t, walled), "layered": read(t, layered(20)), "crowded 10": read(t, crowded(10)), "crowded 40": read(t, crowded(40)), "crowded 150": read(t, crowded(150))}
	for _, name := range examples {
		boards[name] = example(t, name)
	}
	for name, b := range boards {
		liesFree(t, name, drawn(t, b, Options{Notes: notes.Sections(notes.Make(b, notes.Figures{}))}))
	}
}

func TestLabelsLieFreeOnSmallSheets(t *testing.T) {
	for _, name := range examples {
		b := example(t, name)
		for _, format := range []string{"A4", "A4-landscape", "A2"} {
			sheets := drawn(t, b, Options{Format: format, Notes: notes.Sections(notes.Make(b, notes.Figures{}))})
			liesFree(t, name+" on "+format, sheets)
			last := sheets[len(sheets)-1]
			assert.Contains(t, strings.ToLower(last.Title), "notes")
		}
	}
}

// liesFree holds every text of sheets to lie on no other, on no line that is not
// interrupted for it, and within its sheet.
func liesFree(t *testing.T, name string, sheets []*sheet.Sheet) {
	t.Helper()
	for n, s := range sheets {
		frame := sheet.Rect{Max: sheet.Point{X: s.Format.W, Y: s.Format.H}}
		for i, x := range s.Texts {
			box := x.Box()
			assert.True(t, frame.Holds(box), "%s, sheet %d: %q leaves the sheet", name, n+1, x.S)
			for _, y := range s.Texts[i+1:] {
				assert.False(t, box.Meets(y.Box()), "%s, sheet %d: %q lies on %q", name, n+1, x.S, y.S)
			}
			if line, ok := lineUnder(s, box); ok {
				assert.Fail(t, "a text on a line", "%s, sheet %d: %q lies on line %q of type %d", name, n+1, x.S, line.ID, line.Line)
			}
		}
	}
}

// lineUnder is the last line that runs through a box and is not covered by
// white there again.
func lineUnder(s *sheet.Sheet, box sheet.Rect) (line sheet.Shape, ok bool) {
	for _, shape := range s.Shapes {
		k := sketch{Sheet: sheet.Sheet{Shapes: []sheet.Shape{shape}}}
		switch {
		case shape.Fill == sheet.White && len(shape.Paths) == 1 && k.extent().Grow(1).Holds(box):
			ok = false
		case shape.Line != sheet.NoLine && crossed(shape, box.Grow(-0.2)):
			line, ok = shape, true
		}
	}
	return line, ok
}

func crossed(shape sheet.Shape, box sheet.Rect) bool {
	for _, p := range shape.Paths {
		flat := p.Flat()
		for k := 1; k < len(flat); k++ {
			if box.Crossed(flat[k-1], flat[k]) {
				return true
			}
		}
	}
	return false
}

// Every plated stretch is drawn on both faces, as long as in the model.
func TestStretchesAreAsLongAsTheModelsOnes(t *testing.T) {
	for _, name := range examples {
		b := example(t, name)
		sheets := drawn(t, b, Options{})
		a := author{b: b, scene: scene.Build(b, 0)}
		a.collect()
		scale, ok := sheet.ScaleNamed(scaleOf(sheets[0]))
		require.True(t, ok)
		for _, face := range []string{"top", "bottom"} {
			for _, r := range a.runs {
				sum := 0.0
				for _, shape := range sheets[0].Shapes {
					if shape.ID == face+"."+r.id {
						for _, p := range shape.Paths {
							sum += long(p)
						}
					}
				}
				assert.InEpsilon(t, r.Length()/mm, sum/scale.Factor(), 0.001, "%s: %s on %s", name, r.id, face)
			}
		}
	}
}

// scaleOf reads the title block.
func scaleOf(s *sheet.Sheet) string {
	for _, x := range s.Texts {
		if _, ok := sheet.ScaleNamed(x.S); ok {
			return x.S
		}
	}
	return ""
}

func TestWhatIsAskedForAndDoesNotFit(t *testing.T) {
	b := example(t, "receiver")
	for _, c := range []struct {
		o    Options
		want string
	}{
		{Options{Format: "A4", Scale: "10:1"}, "does not fit"},
		{Options{Format: "B5"}, "B5"},
		{Options{Scale: "3:1"}, "3:1"},
	} {
		_, err := Make(b, scene.Build(b, 0), c.o)
		assert.ErrorContains(t, err, c.want)
	}
	_, err := Make(read(t, "board b { thickness 1 mm }"), scene.Build(read(t, ""), 0), Options{})
	assert.ErrorIs(t, err, ErrNoOutline)
	sheets := drawn(t, b, Options{Format: "A2", Scale: "2:1"})
	assert.Equal(t, "2:1", scaleOf(sheets[0]))
	assert.InDelta(t, 594, sheets[0].Format.W, 1e-9, "ISO 216, from memory")
}

// No text of the repository, broken ones included, stops the drawing, and no
// figure on it is none.
func TestNoTextStopsTheDrawing(t *testing.T) {
	drawnOnes := 0
	langtest.EveryText(t, "../../..", func(path string, a *lang.Analysis) {
		shapes := scene.Build(a.Board(), 0)
		sheets, err := Make(a.Board(), shapes, Options{})
		if err != nil {
			return // without an outline, or larger than the largest sheet
		}
		drawnOnes++
		Cover(a.Board(), shapes, Package{})
		for _, s := range sheets {
			for _, x := range s.Texts {
				assert.NotContains(t, x.S, "NaN", path)
				assert.NotContains(t, x.S, "Inf", path)
			}
			for _, x := range s.Shapes {
				for _, p := range x.Paths {
					assert.False(t, math.IsNaN(p.Start.X+p.Start.Y) || math.IsInf(p.Start.X+p.Start.Y, 0), "%s: %s", path, x.ID)
				}
			}
		}
	})
	assert.Greater(t, drawnOnes, 300)
}

func TestFindingsAreSaidOnTheSheet(t *testing.T) {
	b := example(t, "receiver")
	sheets := drawn(t, b, Options{Findings: []Finding{{Category: "risky", Rule: "tab_count", Message: "too few tabs", Where: "line 3", Items: []int{0}}}})
	var all string
	for _, s := range sheets {
		for _, x := range s.Texts {
			all += x.S + "\n"
		}
	}
	assert.Contains(t, all, "1 finding")
	assert.Contains(t, all, "tab_count")
	assert.Contains(t, all, "too few tabs")
	assert.Less(t, strings.Index(all, "Findings that stand"), strings.Index(all, "Section through"), "what stands comes first")
}

// long is the length of a path, its arcs as arcs.
func long(p sheet.Path) (sum float64) {
	from := p.Start
	for _, s := range p.Steps {
		if s.Arc {
			sum += math.Abs(s.Sweep(from)) * math.Hypot(from.X-s.Centre.X, from.Y-s.Centre.Y)
		} else {
			sum += math.Hypot(s.To.X-from.X, s.To.Y-from.Y)
		}
		from = s.To
	}
	return sum
}
