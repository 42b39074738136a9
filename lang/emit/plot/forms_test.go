package plot

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/emit/sheet"
)

// tenth is a resolution of ten dots to the millimetre.
const tenth = 254

// small is a sheet that is drawn in a moment.
func small(shapes ...sheet.Shape) *sheet.Sheet {
	return &sheet.Sheet{Format: sheet.Format{Name: "small", W: 80, H: 60}, Shapes: shapes}
}

// pictured is a sheet as each form shows it, at ten dots to the millimetre:
// PDF and SVG by programs that know nothing of hemline.
func pictured(t *testing.T, s *sheet.Sheet, form string) image.Image {
	t.Helper()
	var data []byte
	page := filepath.Join(t.TempDir(), "page")
	switch form {
	case "PNG":
		drawn, err := PNG(s, tenth)
		require.NoError(t, err)
		data = drawn
	case "PDF":
		file, err := PDF([]*sheet.Sheet{s}, About{Title: "trial"})
		require.NoError(t, err)
		tool(t, file, "pdftocairo", "a.pdf", "-r", "254", "-png", "-singlefile", "FILE", page)
	case "SVG":
		tool(t, SVG(s, About{Title: "trial"}), "rsvg-convert", "a.svg", "-d", "254", "-p", "254", "FILE", "-o", page+".png")
	}
	if data == nil {
		read, err := os.ReadFile(page + ".png")
		require.NoError(t, err)
		data = read
	}
	drawn, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	assert.InDelta(t, s.Format.W*10, drawn.Bounds().Dx(), 1)
	assert.InDelta(t, s.Format.H*10, drawn.Bounds().Dy(), 1)
	return drawn
}

// inEachForm looks at a sheet in the three forms.
func inEachForm(t *testing.T, s *sheet.Sheet, look func(t *testing.T, drawn image.Image)) {
	t.Helper()
	for _, form := range []string{"PNG", "PDF", "SVG"} {
		t.Run(form, func(t *testing.T) { look(t, pictured(t, s, form)) })
	}
}

// grey8 is how light an image is at a place of the sheet, in mm, from 0 to 255.
func grey8(drawn image.Image, x, y float64) int {
	at := drawn.Bounds().Max.Y
	return int(color.GrayModel.Convert(drawn.At(int(x*10), at-1-int(y*10))).(color.Gray).Y)
}

// ink is how much of an image is black, mm²; greys count in part.
func ink(drawn image.Image) float64 {
	sum, b := 0.0, drawn.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			sum += 255 - float64(color.GrayModel.Convert(drawn.At(x, y)).(color.Gray).Y)
		}
	}
	return sum / 255 / 100
}

// reversed is a circle or another path of arcs alone that ends where it starts, run the other way round.
func reversed(p sheet.Path) sheet.Path {
	p.Steps = append([]sheet.Step{}, p.Steps...)
	for i := range p.Steps {
		p.Steps[i].Clockwise = !p.Steps[i].Clockwise
	}
	return p
}

// An inner path is a hole whichever way round it runs: what lies below is
// seen in it. The faces of a board are cut to its outline that way.
func TestHoles(t *testing.T) {
	box := func(from, to float64) sheet.Path {
		return sheet.Box(sheet.Rect{Min: sheet.Point{X: from, Y: from}, Max: sheet.Point{X: to, Y: to}})
	}
	hole := sheet.Circle(sheet.Point{X: 30, Y: 30}, 10)
	for _, hole := range []sheet.Path{hole, reversed(hole)} {
		s := small(sheet.Shape{Fill: sheet.Medium, Paths: []sheet.Path{box(5, 55)}},
			sheet.Shape{Fill: sheet.White, Paths: []sheet.Path{box(12, 48), hole}})
		inEachForm(t, s, func(t *testing.T, drawn image.Image) {
			assert.InDelta(t, 255*0.7, grey8(drawn, 30, 30), 9, "in the hole: the grey below, to one of 16")
			assert.Equal(t, 255, grey8(drawn, 15, 15), "round it: white")
			assert.InDelta(t, 255*0.7, grey8(drawn, 8, 8), 9, "beside it: the grey below")
		})
	}
}

func TestGreys(t *testing.T) {
	fills := []sheet.Fill{sheet.White, sheet.Light, sheet.Medium, sheet.Dark, sheet.Black}
	s := small(sheet.Shape{Fill: sheet.Dark, Paths: []sheet.Path{sheet.Box(sheet.Rect{Max: sheet.Point{X: 80, Y: 10}})}})
	for i, fill := range fills {
		x := float64(i) * 15
		s.Add(sheet.Shape{Fill: fill, Paths: []sheet.Path{sheet.Box(sheet.Rect{Min: sheet.Point{X: x, Y: 20}, Max: sheet.Point{X: x + 10, Y: 30}})}},
			sheet.Shape{Fill: sheet.Clear, Paths: []sheet.Path{sheet.Box(sheet.Rect{Min: sheet.Point{X: x}, Max: sheet.Point{X: x + 10, Y: 10}})}})
	}
	inEachForm(t, s, func(t *testing.T, drawn image.Image) {
		for i, hundredths := range []float64{0, 12, 30, 60, 100} {
			x := float64(i)*15 + 5
			assert.InDelta(t, 255*(1-hundredths/100), grey8(drawn, x, 25), 9, "%v hundredths of black, to one of 16", hundredths)
			assert.InDelta(t, 255*0.4, grey8(drawn, x, 5), 9, "clear: what lies below")
		}
	})
}

// Dashes are as long on paper as the sheet says.
func TestDashesAreAsLongAsSaid(t *testing.T) {
	for _, l := range []sheet.Line{sheet.Dashed, sheet.ChainThin, sheet.ChainThick, sheet.Phantom} {
		s := small(sheet.Strokes(l, sheet.Point{X: 10, Y: 30}, sheet.Point{X: 70, Y: 30}))
		inEachForm(t, s, func(t *testing.T, drawn image.Image) {
			x := 10.0
			for range 2 {
				for i, long := range l.Dashes() {
					// A dot is about one of the image's, and may lie across two.
					if long >= 0.5 {
						for _, at := range []float64{x + 0.2, x + long/2, x + long - 0.2} {
							dark := min(grey8(drawn, at, 30.05), grey8(drawn, at, 29.95))
							assert.Equal(t, i%2 == 0, dark < 128, "line %d, %.3f mm from its start", l, at-10)
						}
					}
					x += long
				}
			}
		})
	}
}

// The area that a line covers is its length, without the spaces, times its
// width, and two halves of a round end.
func TestLinesCoverWhatIsSaid(t *testing.T) {
	// Oblique: readers of PDF move upright lines to whole dots.
	from, to := sheet.Point{X: 8, Y: 7}, sheet.Point{X: 72, Y: 41}
	long := math.Hypot(to.X-from.X, to.Y-from.Y)
	bent := sheet.Point{X: 30, Y: 50}
	bentLong := math.Hypot(bent.X-from.X, bent.Y-from.Y) + math.Hypot(to.X-bent.X, to.Y-bent.Y)
	for l := sheet.Thick; l <= sheet.Border; l++ {
		w := l.Width()
		ends := 0.0
		if l == sheet.Thick {
			ends = math.Pi / 4 * w * w
		}
		inEachForm(t, small(sheet.Strokes(l, from, to)), func(t *testing.T, drawn image.Image) {
			assert.InEpsilon(t, drawnLength(l, long)*w+ends, ink(drawn), 0.015, "line %d", l)
		})
		// A round corner adds less than the square of half the width.
		inEachForm(t, small(sheet.Strokes(l, from, bent, to)), func(t *testing.T, drawn image.Image) {
			assert.InEpsilon(t, drawnLength(l, bentLong)*w+ends, ink(drawn), 0.02, "line %d with a corner", l)
		})
		circle := sheet.Shape{Line: l, Fill: sheet.Clear, Paths: []sheet.Path{sheet.Circle(sheet.Point{X: 40, Y: 30}, 20)}}
		inEachForm(t, small(circle), func(t *testing.T, drawn image.Image) {
			assert.InEpsilon(t, drawnLength(l, 40*math.Pi)*w, ink(drawn), 0.02, "line %d as a circle", l)
		})
	}
}

// drawnLength is how much of a line's length its dashes take.
func drawnLength(l sheet.Line, long float64) float64 {
	dashes := l.Dashes()
	if dashes == nil {
		return long
	}
	sum, at := 0.0, 0.0
	for i := 0; at < long; i++ {
		dash := math.Min(dashes[i%len(dashes)], long-at)
		if i%2 == 0 {
			sum += dash
		}
		at += dash
	}
	return sum
}

// Lines end and turn as said: round ends on thick lines alone, round corners,
// the one where a closed line starts too.
func TestEndsAndCorners(t *testing.T) {
	for _, l := range []sheet.Line{sheet.Thick, sheet.Border} {
		box := sheet.Shape{Line: l, Fill: sheet.Clear, Paths: []sheet.Path{sheet.Box(sheet.Rect{Min: sheet.Point{X: 20, Y: 20}, Max: sheet.Point{X: 60, Y: 40}})}}
		s := small(sheet.Strokes(l, sheet.Point{X: 20, Y: 50}, sheet.Point{X: 60, Y: 50}), box)
		inEachForm(t, s, func(t *testing.T, drawn image.Image) {
			const beside = 0.15 // within half a width of the end
			for _, x := range []float64{20 - beside, 60 + beside} {
				assert.Equal(t, l == sheet.Thick, grey8(drawn, x, 50) < 128, "line %d, past its end at %.2f", l, x)
			}
			for _, x := range []float64{20 - beside/2, 60 + beside/2} {
				for _, y := range []float64{20 - beside/2, 40 + beside/2} {
					assert.Less(t, grey8(drawn, x, y), 128, "line %d, the outside of its corner at %.2f, %.2f", l, x, y)
				}
			}
			half := l.Width() / 2
			for _, x := range []float64{20 - half, 60 + half} {
				for _, y := range []float64{20 - half, 40 + half} {
					assert.Greater(t, grey8(drawn, x, y), 160, "line %d, the corner is round at %.2f, %.2f", l, x, y)
				}
			}
		})
	}
}

// A circle that is smaller than its line is wide is a disc in an image, not a
// ring: fences of vias on small scales have such. Readers of PDF and SVG differ
// there.
func TestSmallCircles(t *testing.T) {
	const r = 0.15
	drawn := pictured(t, small(sheet.Shape{Line: sheet.Thick, Fill: sheet.Clear, Paths: []sheet.Path{sheet.Circle(sheet.Point{X: 40, Y: 30}, r)}}), "PNG")
	assert.Less(t, grey8(drawn, 40, 30), 40)
	assert.InEpsilon(t, math.Pi*math.Pow(r+sheet.ThickWidth/2, 2), ink(drawn), 0.06)
}

// A point that is stated twice, or a dash that ends on a corner, changes nothing.
func TestPointsStatedTwice(t *testing.T) {
	a, b, c := sheet.Point{X: 10, Y: 10}, sheet.Point{X: 10 + 3.75*8, Y: 10}, sheet.Point{X: 40, Y: 50}
	for _, l := range []sheet.Line{sheet.Thick, sheet.Dashed} {
		once := pictured(t, small(sheet.Strokes(l, a, b, c)), "PNG")
		require.Greater(t, ink(once), 10.0)
		assert.Equal(t, once, pictured(t, small(sheet.Strokes(l, a, a, b, b, b, c, c)), "PNG"))
		alone := pictured(t, small(sheet.Strokes(l, a, a)), "PNG")
		assert.Zero(t, ink(alone), "a line without a length")
	}
}

// everything is a sheet with all that a sheet may hold but texts.
func everything() *sheet.Sheet {
	s := small()
	s.Format = sheet.Format{Name: "middle", W: 160, H: 120}
	circle := sheet.Circle(sheet.Point{X: 30, Y: 95}, 15)
	s.Add(sheet.Shape{Line: sheet.Thick, Fill: sheet.Dark, Paths: []sheet.Path{circle, reversed(sheet.Circle(sheet.Point{X: 32, Y: 97}, 6))}})
	for l := sheet.Thick; l <= sheet.Border; l++ {
		x := 60 + float64(l)*12
		s.Add(sheet.Strokes(l, sheet.Point{X: x, Y: 70}, sheet.Point{X: x + 8, Y: 70}, sheet.Point{X: x + 3, Y: 112}))
		// An arc of 250 degrees, and one of 110 the other way round.
		arc := func(r float64, clockwise bool) sheet.Path {
			at := func(deg float64) sheet.Point {
				return sheet.Point{X: x - 50 + r*math.Cos(deg*math.Pi/180), Y: 40 + r*math.Sin(deg*math.Pi/180)}
			}
			return sheet.Path{Start: at(20), Steps: []sheet.Step{{To: at(270), Arc: true, Clockwise: clockwise, Centre: sheet.Point{X: x - 50, Y: 40}}}}
		}
		s.Add(sheet.Shape{Line: l, Fill: sheet.Clear, Paths: []sheet.Path{arc(8, false), arc(4, true)}})
	}
	// A wide arc of a large radius.
	s.Add(sheet.Shape{Line: sheet.Thin, Fill: sheet.Clear, Paths: []sheet.Path{{
		Start: sheet.Point{X: 10, Y: 10}, Steps: []sheet.Step{{To: sheet.Point{X: 150, Y: 10}, Arc: true, Clockwise: true, Centre: sheet.Point{X: 80, Y: -200}}}}}})
	return s
}

// strays counts the dots that are dark in one image and have nothing dark
// within 0.1 mm in the other.
func strays(a, b image.Image) (n int) {
	light := func(m image.Image, x, y int) uint8 { return color.GrayModel.Convert(m.At(x, y)).(color.Gray).Y }
	for y := 1; y < a.Bounds().Dy()-1; y++ {
		for x := 1; x < a.Bounds().Dx()-1; x++ {
			if light(a, x, y) > 100 {
				continue
			}
			dark := false
			for i := range 9 {
				dark = dark || light(b, x+i%3-1, y+i/3-1) < 200
			}
			if !dark {
				n++
			}
		}
	}
	return n
}

// What one form shows the others show at the same place, to 0.1 mm.
func TestFormsShowTheSame(t *testing.T) {
	s := everything()
	ours := pictured(t, s, "PNG")
	require.Greater(t, ink(ours), 100.0)
	for _, form := range []string{"PDF", "SVG"} {
		t.Run(form, func(t *testing.T) {
			theirs := pictured(t, s, form)
			assert.Zero(t, strays(ours, theirs), "only in the PNG")
			assert.Zero(t, strays(theirs, ours), "only in the %s", form)
			assert.InEpsilon(t, ink(theirs), ink(ours), 0.01)
		})
	}
}

// lettered is a sheet of texts of each size, direction and alignment.
func lettered() *sheet.Sheet {
	s := small()
	s.Format = sheet.Format{Name: "middle", W: 160, H: 120}
	for i, align := range []sheet.Align{sheet.Left, sheet.Centre, sheet.Right} {
		for j, height := range []float64{sheet.Small, sheet.Large, sheet.Huge} {
			y, x := 20+float64(3*i+j)*8, 110+float64(3*i+j)*5
			s.Write(sheet.Text{At: sheet.Point{X: 60, Y: y}, S: "Profile_⌀" + string(rune('a'+3*i+j)), Height: height, Align: align, Bold: j == 1},
				sheet.Text{At: sheet.Point{X: x, Y: 50}, S: "Waµ²Té" + string(rune('a'+3*i+j)), Height: sheet.Small, Align: align, Up: true, Bold: j == 2})
		}
	}
	return s
}

// Letters stand in an image where a reader of PDF puts them, to 0.1 mm. SVG is
// left out: its letters are another program's.
func TestLettersStandWhereThePDFHasThem(t *testing.T) {
	ours, theirs := pictured(t, lettered(), "PNG"), pictured(t, lettered(), "PDF")
	require.Greater(t, ink(ours), 50.0)
	assert.Zero(t, strays(ours, theirs))
	assert.Zero(t, strays(theirs, ours))
	assert.InEpsilon(t, ink(theirs), ink(ours), 0.02)
}
