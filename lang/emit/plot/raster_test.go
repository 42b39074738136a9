package plot

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/emit/sheet"
)

// tenth is a resolution of ten dots to the millimetre.
const tenth = 254

func decoded(t *testing.T, data []byte) image.Image {
	t.Helper()
	drawn, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	return drawn
}

// grey8 is how light an image is at a place of the sheet, in mm, from 0 to 255.
func grey8(drawn image.Image, x, y float64) int {
	at := drawn.Bounds().Max.Y
	return int(color.GrayModel.Convert(drawn.At(int(x*10), at-1-int(y*10))).(color.Gray).Y)
}

// An inner path is a hole whichever way round it runs: what lies below is
// seen in it. The faces of a board are cut to its outline that way.
func TestPNGHoles(t *testing.T) {
	a4, _ := sheet.FormatNamed("A4")
	outer, inner := sheet.Box(sheet.Rect{Min: sheet.Point{X: 50, Y: 50}, Max: sheet.Point{X: 90, Y: 90}}), sheet.Circle(sheet.Point{X: 70, Y: 70}, 10)
	turned := inner
	turned.Steps = append([]sheet.Step{}, inner.Steps...)
	for i := range turned.Steps {
		turned.Steps[i].Clockwise = !turned.Steps[i].Clockwise
	}
	for _, hole := range []sheet.Path{inner, turned} {
		s := &sheet.Sheet{Format: a4}
		s.Add(sheet.Shape{Fill: sheet.Medium, Paths: []sheet.Path{sheet.Box(sheet.Rect{Min: sheet.Point{X: 40, Y: 40}, Max: sheet.Point{X: 100, Y: 100}})}},
			sheet.Shape{Fill: sheet.White, Paths: []sheet.Path{outer, hole}})
		data, err := PNG(s, tenth)
		require.NoError(t, err)
		drawn := decoded(t, data)
		assert.InDelta(t, 255*0.7, grey8(drawn, 70, 70), 9, "in the hole: the grey below, to one of 16")
		assert.Equal(t, 255, grey8(drawn, 55, 55), "round it: white")
		assert.InDelta(t, 255*0.7, grey8(drawn, 45, 45), 9, "beside it: the grey below")
	}
}

// Dashes are as long on paper as the sheet says, in an image and in a PDF
// file, read there by an independent program.
func TestDashesAreAsLongAsSaid(t *testing.T) {
	a4, _ := sheet.FormatNamed("A4")
	for _, l := range []sheet.Line{sheet.Dashed, sheet.ChainThin, sheet.ChainThick, sheet.Phantom} {
		s := &sheet.Sheet{Format: a4}
		s.Add(sheet.Strokes(l, sheet.Point{X: 50, Y: 100}, sheet.Point{X: 150, Y: 100}))
		data, err := PNG(s, tenth)
		require.NoError(t, err)
		assertDashes(t, l, decoded(t, data), "PNG")

		file, err := PDF([]*sheet.Sheet{s}, About{Title: "dashes"})
		require.NoError(t, err)
		page := filepath.Join(t.TempDir(), "page")
		tool(t, file, "pdftoppm", "a.pdf", "-r", "254", "-png", "-singlefile", "FILE", page)
		data, err = os.ReadFile(page + ".png")
		require.NoError(t, err)
		assertDashes(t, l, decoded(t, data), "PDF")
	}
}

// assertDashes looks at the first two rounds of a line's dashes, in the middle of each.
func assertDashes(t *testing.T, l sheet.Line, drawn image.Image, form string) {
	t.Helper()
	x := 50.0
	for range 2 {
		for i, long := range l.Dashes() {
			// A dot is about one of the image's, and may lie across two.
			if long >= 0.5 {
				for _, at := range []float64{x + 0.2, x + long/2, x + long - 0.2} {
					dark := min(grey8(drawn, at, 100.05), grey8(drawn, at, 99.95))
					assert.Equal(t, i%2 == 0, dark < 128, "%s, line %d, %.3f mm from its start", form, l, at-50)
				}
			}
			x += long
		}
	}
}
