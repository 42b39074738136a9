// Package plot writes drawing sheets to files: PDF, SVG and PNG. It is the one
// package that knows the libraries that this takes: fpdf for PDF, freetype's
// rasterizer and sfnt for PNG. SVG is written here: shapes bear ids there, and
// texts their lengths.
//
// Texts of an SVG stay texts, in the named family or another without serifs,
// each with its length stated, so that no other font makes one run into the
// next: they can be searched and copied, and the file stays small. In a PDF
// and an image letters stand where the sheet reckons them, without kerning and
// without signs for two letters at once.
package plot

import (
	"math"
	"time"

	"hemline/lang/emit/sheet"
)

// About is what a file says of itself.
type About struct {
	Title string
	// Date is the date of issue; zero for none, and then the file bears none.
	Date time.Time
}

// grey is how light a fill is, from 0 to 255.
func grey(f sheet.Fill) uint8 {
	return uint8(math.Round(255 * float64(100-f) / 100))
}
