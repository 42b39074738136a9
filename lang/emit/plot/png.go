package plot

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"sync"

	"github.com/golang/freetype/raster"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"hemline/lang/emit/sheet"
)

// greys are those of an image: enough for smooth edges, and half a byte a dot.
var greys = sync.OnceValue(func() (p color.Palette) {
	for v := range 16 {
		p = append(p, color.Gray{Y: uint8(v * 17)})
	}
	return p
})

// chordOff is how far the chords of an arc may stray from it in an image, dots:
// less than one of 16 greys.
const chordOff = 1. / 32

// manyDots is how many make an image that is not worth the last 3 to 6 % of its
// size: packing them takes eight times as long (measured on full sheets of A0).
// At 150 to the inch those are the sheets of A1 and larger.
const manyDots = 10_000_000

// PNG is one sheet as an image of so many dots to the inch, in 16 greys.
func PNG(s *sheet.Sheet, dpi float64) ([]byte, error) {
	d, err := newDots(s.Format, dpi)
	if err != nil {
		return nil, err
	}
	for _, x := range s.Shapes {
		d.shape(x)
	}
	for _, t := range s.Texts {
		if err := d.text(t); err != nil {
			return nil, err
		}
	}
	for i, v := range d.image.Pix {
		d.image.Pix[i] = uint8((int(v) + 8) / 17)
	}
	var out bytes.Buffer
	level := png.BestCompression
	if len(d.image.Pix) > manyDots {
		level = png.DefaultCompression
	}
	err = (&png.Encoder{CompressionLevel: level}).Encode(&out, d.image)
	return out.Bytes(), err
}

// dots are an image that is being drawn. Until it is done its dots hold how
// light they are, from 0 to 255.
type dots struct {
	image  *image.Paletted
	raster *raster.Rasterizer
	a      float64 // dots a mm
	h      float64 // of the sheet, mm
	fonts  [2]*sfnt.Font
	glyphs map[glyph]sfnt.Segments
	buffer sfnt.Buffer
}

type glyph struct {
	bold bool
	r    rune
}

func newDots(f sheet.Format, dpi float64) (*dots, error) {
	a := dpi / 25.4
	bounds := image.Rect(0, 0, int(math.Round(f.W*a)), int(math.Round(f.H*a)))
	d := &dots{image: image.NewPaletted(bounds, greys()), raster: raster.NewRasterizer(bounds.Dx(), bounds.Dy()), a: a, h: f.H, glyphs: map[glyph]sfnt.Segments{}}
	for i := range d.image.Pix {
		d.image.Pix[i] = 255
	}
	for i := range d.fonts {
		font, err := sfnt.Parse(sheet.Font(i == 1))
		if err != nil {
			return nil, fmt.Errorf("the lettering cannot be read: %w", err)
		}
		d.fonts[i] = font
	}
	return d, nil
}

// at is where a place of the sheet is in the image, in the rasterizer's 64ths of a dot.
func (d *dots) at(p sheet.Point) fixed.Point26_6 {
	return fixed.Point26_6{X: fixed.Int26_6(math.Round(64 * d.a * p.X)), Y: fixed.Int26_6(math.Round(64 * d.a * (d.h - p.Y)))}
}

// polygon adds an area to what is painted next.
func (d *dots) polygon(points []sheet.Point) {
	d.raster.Start(d.at(points[0]))
	for _, p := range points[1:] {
		d.raster.Add1(d.at(p))
	}
	d.raster.Add1(d.at(points[0]))
}

// paint paints what was added.
func (d *dots) paint(light uint8, nonZero bool) {
	d.raster.UseNonZeroWinding = nonZero
	d.raster.Rasterize(raster.PainterFunc(func(spans []raster.Span, _ bool) {
		for _, s := range spans {
			row := d.image.Pix[s.Y*d.image.Stride:][s.X0:s.X1]
			for i, below := range row {
				const whole = 0xFFFF
				row[i] = uint8((uint32(light)*s.Alpha + uint32(below)*(whole-s.Alpha) + whole/2) / whole)
			}
		}
	}))
	d.raster.Clear()
}

func (d *dots) shape(x sheet.Shape) {
	flat := make([][]sheet.Point, len(x.Paths))
	for i, p := range x.Paths {
		flat[i] = p.Within(chordOff / d.a)
	}
	if x.Fill != sheet.Clear {
		for _, points := range flat {
			d.polygon(points)
		}
		d.paint(grey(x.Fill), false)
	}
	if x.Line == sheet.NoLine {
		return
	}
	for i, points := range flat {
		pen := pen{width: x.Line.Width(), round: x.Line == sheet.Thick, off: chordOff / d.a, add: d.polygon}
		pen.draw(points, x.Paths[i].Closed, x.Line.Dashes())
		d.paint(0, true)
	}
}

// text letters a text, each character where the sheet reckons it.
func (d *dots) text(t sheet.Text) error {
	em, x := sheet.Em(t.Height), -t.Back()
	for _, r := range t.S {
		outline, units, err := d.outline(glyph{t.Bold, r})
		if err != nil {
			return fmt.Errorf("the lettering's %q cannot be drawn: %w", r, err)
		}
		place := func(p fixed.Point26_6) fixed.Point26_6 {
			across, up := x+float64(p.X)/64*em/units, -float64(p.Y)/64*em/units
			if t.Up {
				across, up = -up, across
			}
			return d.at(t.At.Add(across, up))
		}
		for _, s := range outline {
			switch s.Op {
			case sfnt.SegmentOpMoveTo:
				d.raster.Start(place(s.Args[0]))
			case sfnt.SegmentOpLineTo:
				d.raster.Add1(place(s.Args[0]))
			case sfnt.SegmentOpQuadTo:
				d.raster.Add2(place(s.Args[0]), place(s.Args[1]))
			case sfnt.SegmentOpCubeTo:
				d.raster.Add3(place(s.Args[0]), place(s.Args[1]), place(s.Args[2]))
			}
		}
		x += t.Advance(r)
		if r == ' ' { // words do not touch, and the rasterizer searches all that it holds
			d.paint(0, true)
		}
	}
	d.paint(0, true)
	return nil
}

// outline is a character's outline in units of the font, and how many of them an em has.
func (d *dots) outline(g glyph) (sfnt.Segments, float64, error) {
	font := d.fonts[0]
	if g.bold {
		font = d.fonts[1]
	}
	units := font.UnitsPerEm()
	if known, ok := d.glyphs[g]; ok {
		return known, float64(units), nil
	}
	index, err := font.GlyphIndex(&d.buffer, g.r)
	if err != nil {
		return nil, 0, err
	}
	loaded, err := font.LoadGlyph(&d.buffer, index, fixed.I(int(units)), nil)
	if err != nil {
		return nil, 0, err
	}
	// The buffer is used again.
	outline := append(sfnt.Segments(nil), loaded...)
	d.glyphs[g] = outline
	return outline, float64(units), nil
}
