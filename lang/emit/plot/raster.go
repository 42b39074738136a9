package plot

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"sync"

	"github.com/srwiley/scanx"
	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/rasterizer"

	"hemline/lang/emit/sheet"
)

// greys are those of an image: enough for smooth edges, and half a byte a dot.
var greys = sync.OnceValue(func() (p color.Palette) {
	for v := range 16 {
		p = append(p, color.Gray{Y: uint8(v * 17)})
	}
	return p
})

// PNG is one sheet as an image of so many dots to the inch, in 16 greys.
func PNG(s *sheet.Sheet, dpi float64) ([]byte, error) {
	resolution := canvas.DPI(dpi)
	dots := func(mm float64) int { return int(math.Round(mm * resolution.DPMM())) }
	drawn := image.NewRGBA(image.Rect(0, 0, dots(s.Format.W), dots(s.Format.H)))
	draw.Draw(drawn, drawn.Bounds(), image.White, image.Point{}, draw.Src)
	r := &raster{rasterizer.FromImage(drawn, resolution, canvas.SRGBColorSpace{}), resolution}
	if err := paint(r, s); err != nil {
		return nil, err
	}
	r.Close()
	grey := image.NewPaletted(drawn.Bounds(), greys())
	for i := range grey.Pix { // red, green and blue are alike, and a row has no gap
		grey.Pix[i] = uint8((int(drawn.Pix[4*i]) + 8) / 17)
	}
	var out bytes.Buffer
	err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&out, grey)
	return out.Bytes(), err
}

// raster is the library's, which takes no notice of the fill rule: a hole
// that runs the same way round as what it is in would be filled too.
type raster struct {
	*rasterizer.Rasterizer
	resolution canvas.Resolution
}

// RenderPath fills by the even-odd rule where that is asked for, and leaves
// the rest to the library.
func (r *raster) RenderPath(p *canvas.Path, style canvas.Style, m canvas.Matrix) {
	if style.HasFill() && style.FillRule == canvas.EvenOdd {
		size := r.Bounds().Size()
		scanner := scanx.NewScanner(scanx.NewImgSpanner(r.Image), size.X, size.Y)
		scanner.SetWinding(false)
		scanner.SetColor(color.Color(r.ColorModel().Convert(canvas.SRGBColorSpace{}.ToLinear(style.Fill.Color))))
		p.Copy().Transform(m).ToScanxScanner(scanner, float64(size.Y), r.resolution)
		scanner.Draw()
		style.Fill = canvas.Paint{}
	}
	r.Rasterizer.RenderPath(p, style, m)
}
