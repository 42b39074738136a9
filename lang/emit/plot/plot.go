// Package plot writes drawing sheets to files: PDF, SVG and PNG. It is the one
// package that knows the drawing library.
//
// PDF and PNG are the library's. SVG is written here from the same list: the
// library gives no ids and no lengths of texts, and embeds a whole font.
// Texts of an SVG stay texts, in the named family or another without serifs,
// each with its length stated, so that no other font makes one run into the
// next: they can be searched and copied, and the file stays small.
package plot

import (
	"bytes"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strconv"
	"sync"
	"time"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/pdf"

	"hemline/lang/emit/sheet"
)

// About is what a file says of itself.
type About struct {
	Title string
	// Date is the date of issue; zero for none, and then the file bears none.
	Date time.Time
}

// families loads the lettering once: it is read only afterwards.
var families = sync.OnceValues(func() ([2]*canvas.FontFamily, error) {
	var list [2]*canvas.FontFamily
	for i := range list {
		list[i] = canvas.NewFontFamily(sheet.Family + []string{"", " Bold"}[i])
		if err := list[i].LoadFont(sheet.Font(i == 1), 0, canvas.FontRegular); err != nil {
			return list, fmt.Errorf("the lettering cannot be read: %w", err)
		}
	}
	return list, nil
})

// PDF is all sheets in one file. The same sheets give the same bytes.
func PDF(sheets []*sheet.Sheet, about About) ([]byte, error) {
	var out bytes.Buffer
	var r *pdf.PDF
	for i, s := range sheets {
		if i == 0 {
			r = pdf.New(&out, s.Format.W, s.Format.H, nil)
			r.SetInfo(about.Title, "", "", "", "hemline")
		} else {
			r.NewPage(s.Format.W, s.Format.H)
		}
		if err := paint(r, s); err != nil {
			return nil, err
		}
	}
	if r == nil {
		return nil, fmt.Errorf("there is no sheet to write")
	}
	if err := r.Close(); err != nil {
		return nil, err
	}
	data, err := untimed(out.Bytes())
	if err != nil {
		return nil, err
	}
	return dated(data, about.Date)
}

// dated replaces the time of writing, which the library puts into every file,
// by the date of issue, or takes it out; the places of what follows are
// corrected in the file's table.
func dated(data []byte, date time.Time) ([]byte, error) {
	const key = "/CreationDate("
	at := bytes.LastIndex(data, []byte(key))
	table := bytes.LastIndex(data, []byte("\nxref\n"))
	start := bytes.LastIndex(data, []byte("\nstartxref\n"))
	if at < 0 || table < at || start < table {
		return nil, errTail
	}
	end := at + bytes.IndexByte(data[at:], ')') + 1
	stated := ""
	if !date.IsZero() {
		stated = key + date.UTC().Format("D:20060102150405Z") + ")"
	}
	moved := len(stated) - (end - at)
	var out bytes.Buffer
	out.Write(data[:at])
	out.WriteString(stated)
	out.Write(data[end : table+1])
	for line := range bytes.Lines(data[table+1 : start+1]) {
		if offset, err := strconv.Atoi(string(line[:min(10, len(line))])); err == nil && len(line) == 20 && offset > at {
			line = fmt.Appendf(nil, "%010d%s", offset+moved, line[10:])
		}
		out.Write(line)
	}
	fmt.Fprintf(&out, "startxref\n%d\n%%%%EOF\n", table+1+moved)
	return out.Bytes(), nil
}

// paint hands a sheet to one of the library's back ends.
func paint(r canvas.Renderer, s *sheet.Sheet) error {
	faces, err := families()
	if err != nil {
		return err
	}
	for _, x := range s.Shapes {
		style := canvas.DefaultStyle
		style.Fill, style.Stroke = canvas.Paint{}, canvas.Paint{}
		style.FillRule = canvas.EvenOdd
		if x.Fill != sheet.Clear {
			fill := style
			fill.Fill = canvas.Paint{Color: grey(x.Fill)}
			r.RenderPath(joined(x.Paths), fill, canvas.Identity)
		}
		if x.Line != sheet.NoLine {
			style.FillRule = canvas.NonZero
			style.Stroke = canvas.Paint{Color: canvas.Black}
			style.StrokeWidth = x.Line.Width()
			for _, long := range x.Line.Dashes() {
				// The library counts dashes in widths of the line.
				style.Dashes = append(style.Dashes, long/x.Line.Width())
			}
			style.StrokeJoiner = canvas.RoundJoin
			style.StrokeCapper = canvas.ButtCap
			if x.Line == sheet.Thick {
				style.StrokeCapper = canvas.RoundCap
			}
			// The time that the library takes for arcs grows with the square of
			// their number in one path.
			for few := range slices.Chunk(x.Paths, 32) {
				r.RenderPath(joined(few), style, canvas.Identity)
			}
		}
	}
	for _, t := range s.Texts {
		family := faces[0]
		if t.Bold {
			family = faces[1]
		}
		// The library counts letters in points, 72 to the inch.
		face := family.Face(sheet.Em(t.Height)*72/25.4, canvas.Black)
		m := canvas.Identity.Translate(t.At.X, t.At.Y)
		if t.Up {
			m = m.Rotate(90)
		}
		back := 0.0
		switch t.Align {
		case sheet.Centre:
			back = t.Width() / 2
		case sheet.Right:
			back = t.Width()
		}
		for _, part := range unjoined(t.S) {
			r.RenderText(canvas.NewTextLine(face, part, canvas.Left), m.Translate(-back, 0))
			back -= sheet.Text{S: part, Height: t.Height, Bold: t.Bold}.Width()
		}
	}
	return nil
}

// unjoined parts a text where the font would draw two letters as one sign: who
// searches the file for a word would not find it, and the library has no other
// way to keep them apart.
func unjoined(s string) (parts []string) {
	from := 0
	for i := 1; i < len(s); i++ {
		if s[i-1] == 'f' && (s[i] == 'f' || s[i] == 'i' || s[i] == 'l') {
			parts, from = append(parts, s[from:i]), i
		}
	}
	return append(parts, s[from:])
}

func grey(f sheet.Fill) color.RGBA {
	v := uint8(math.Round(255 * float64(100-f) / 100))
	return color.RGBA{v, v, v, 255}
}

func joined(paths []sheet.Path) *canvas.Path {
	p := &canvas.Path{}
	for _, q := range paths {
		add(p, q)
	}
	return p
}

func add(p *canvas.Path, q sheet.Path) {
	p.MoveTo(q.Start.X, q.Start.Y)
	from := q.Start
	for _, s := range q.Steps {
		if s.Arc {
			radius := math.Hypot(from.X-s.Centre.X, from.Y-s.Centre.Y)
			sweep := s.Sweep(from)
			a := math.Atan2(from.Y-s.Centre.Y, from.X-s.Centre.X)
			// In halves: an arc between two points that are one is none to the library.
			for _, part := range [...]float64{0.5, 1} {
				to := sheet.Point{X: s.Centre.X + radius*math.Cos(a+sweep*part), Y: s.Centre.Y + radius*math.Sin(a+sweep*part)}
				if part == 1 {
					to = s.To
				}
				p.ArcTo(radius, radius, 0, false, !s.Clockwise, to.X, to.Y)
			}
		} else {
			p.LineTo(s.To.X, s.To.Y)
		}
		from = s.To
	}
	if q.Closed {
		p.Close()
	}
}
