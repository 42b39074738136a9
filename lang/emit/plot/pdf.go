package plot

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"maps"
	"math"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf16"

	"codeberg.org/go-pdf/fpdf"

	"hemline/lang/emit/sheet"
)

// bezierOff is how far a curve of a PDF file may stray from its arc, mm. Places
// are written to a hundredth of a point, and so are off by 1.8 µm each way at
// most; so is the size of letters, which is 0.1 % of the smallest.
const bezierOff = 0.001

// PDF is all sheets in one file. The same sheets give the same bytes.
func PDF(sheets []*sheet.Sheet, about About) ([]byte, error) {
	if len(sheets) == 0 {
		return nil, errors.New("there is no sheet to write")
	}
	w := newPages()
	if about.Title != "" {
		w.SetTitle(coded(about.Title), false)
	}
	for _, s := range sheets {
		w.sheet(s)
	}
	var out bytes.Buffer
	if err := w.Output(&out); err != nil {
		return nil, fmt.Errorf("the PDF file cannot be written: %w", err)
	}
	return w.finished(out.Bytes(), about.Date)
}

// pages are a PDF file that is being written.
type pages struct {
	*fpdf.Fpdf
	line    sheet.Line
	fill    sheet.Fill
	letters [2]map[rune]bool // that are used, regular and bold
}

// names are those of the lettering in the file, regular and bold.
var names = [2]string{strings.ReplaceAll(sheet.Family, " ", ""), strings.ReplaceAll(sheet.Family, " ", "") + "-Bold"}

// called is what the library knows a font by. It writes "utf8" and that in
// small letters; finished replaces the first six.
func called(name string) string { return "00+" + strings.ToLower(name) }

func newPages() *pages {
	w := &pages{Fpdf: fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm"}), fill: sheet.Clear}
	w.SetCatalogSort(true)
	w.SetProducer("hemline", false)
	w.SetCreator("hemline", false)
	// Without a date the library would take today's.
	w.SetCreationDate(time.Unix(0, 0).UTC())
	w.SetModificationDate(time.Unix(0, 0).UTC())
	w.SetLineJoinStyle("round")
	return w
}

// unnamed is a copy of a TrueType font whose table of names is empty (OpenType
// specification, from memory): the library embeds it whole, and a licence in
// it is as long as all the letters that a drawing takes. The library writes
// into the font that it is given.
func unnamed(font []byte) []byte {
	const header, record = 12, 16
	font = slices.Clone(font)
	for at := header; at < header+record*int(binary.BigEndian.Uint16(font[4:])); at += record {
		if string(font[at:at+4]) == "name" {
			// Of format 0, no names, which would start behind these six bytes.
			empty := []byte{0, 0, 0, 0, 0, 6}
			copy(font[binary.BigEndian.Uint32(font[at+8:]):], empty)
			binary.BigEndian.PutUint32(font[at+12:], uint32(len(empty)))
		}
	}
	return font
}

// sheet adds a page.
func (w *pages) sheet(s *sheet.Sheet) {
	w.AddPageFormat("P", fpdf.SizeType{Wd: s.Format.W, Ht: s.Format.H})
	for _, x := range s.Shapes {
		w.shape(s.Format.H, x)
	}
	w.filling(sheet.Black) // the library would change the colour for each text, and back
	var last *sheet.Text
	for i := range s.Texts {
		t := &s.Texts[i]
		if t.S == "" {
			continue
		}
		which := 0
		if t.Bold {
			which = 1
		}
		if w.letters[which] == nil {
			w.letters[which] = map[rune]bool{}
			w.AddUTF8FontFromBytes(called(names[which]), "", unnamed(sheet.Font(t.Bold)))
		}
		if last == nil || t.Bold != last.Bold || t.Height != last.Height {
			w.SetFont(called(names[which]), "", inPoints(sheet.Em(t.Height)))
		}
		last = t
		w.text(s.Format.H, *t, w.letters[which])
	}
}

func (w *pages) shape(h float64, x sheet.Shape) {
	style := ""
	if x.Fill != sheet.Clear {
		w.filling(x.Fill)
		style += "F"
	}
	if x.Line != sheet.NoLine {
		w.drawing(x.Line)
		style += "D"
	}
	if style == "" || len(x.Paths) == 0 {
		return
	}
	if x.Fill != sheet.Clear {
		style += "*" // by the even-odd rule
	}
	for _, p := range x.Paths {
		w.path(h, p)
	}
	w.DrawPath(style)
}

func (w *pages) filling(f sheet.Fill) {
	if f != w.fill {
		w.fill = f
		g := int(grey(f))
		w.SetFillColor(g, g, g)
	}
}

func (w *pages) drawing(l sheet.Line) {
	if l == w.line {
		return
	}
	w.line = l
	w.SetLineWidth(l.Width())
	w.SetDashPattern(l.Dashes(), 0)
	ends := "butt"
	if l == sheet.Thick {
		ends = "round"
	}
	w.SetLineCapStyle(ends)
}

// path adds to what is drawn next; the library's places run down from the top.
func (w *pages) path(h float64, p sheet.Path) {
	w.MoveTo(p.Start.X, h-p.Start.Y)
	from := p.Start
	for _, s := range p.Steps {
		if s.Arc {
			w.arc(from, s)
		} else {
			w.LineTo(s.To.X, h-s.To.Y)
		}
		from = s.To
	}
	if p.Closed {
		w.ClosePath()
	}
}

// arc draws an arc as cubic curves. One over an angle of a strays from the
// circle by 2.73e-4 of the radius times (a over a right angle) to the sixth
// (worked out here; TestCurvesFollowArcs measures it).
func (w *pages) arc(from sheet.Point, s sheet.Step) {
	r, sweep := math.Hypot(from.X-s.Centre.X, from.Y-s.Centre.Y), s.Sweep(from)
	widest := math.Pi / 2 * min(1, math.Pow(bezierOff/(2.73e-4*max(r, bezierOff)), 1./6))
	n := math.Ceil(math.Abs(sweep)/widest - 1e-9)
	start := math.Atan2(from.Y-s.Centre.Y, from.X-s.Centre.X)
	part := sweep / n
	handle := 4. / 3 * math.Tan(part/4) * r
	// on is a place on the arc, and so far along it there, in points from the sheet's lower left corner.
	on := func(a, along float64) string {
		sin, cos := math.Sincos(a)
		return fmt.Sprintf("%.2f %.2f ", inPoints(s.Centre.X+r*cos-along*sin), inPoints(s.Centre.Y+r*sin+along*cos))
	}
	for i := range int(n) {
		a, b := start+part*float64(i), start+part*float64(i+1)
		// The library would write five digits of a curve's places, and two of a line's.
		w.RawWriteStr(on(a, handle) + on(b, -handle) + on(b, 0) + "c")
	}
}

// inPoints is a length in points, 72 to the inch, from mm.
func inPoints(mm float64) float64 { return mm * 72 / 25.4 }

func (w *pages) text(h float64, t sheet.Text, letters map[rune]bool) {
	x, y := t.At.X, h-t.At.Y
	s := strings.Map(known, t.S)
	for _, r := range s {
		letters[r] = true
	}
	if t.Up {
		w.TransformBegin()
		w.TransformRotate(90, x, y)
	}
	w.Text(x-t.Back(), y, s)
	if t.Up {
		w.TransformEnd()
	}
}

// known replaces what the library cannot write: characters of more than 16
// bits, of which the lettering has none that drawings need.
func known(r rune) rune {
	if r > 0xFFFF {
		return '\uFFFD'
	}
	return r
}

// coded is a text as a PDF file's entries about itself have it.
func coded(s string) string {
	b := []byte{0xFE, 0xFF}
	for _, u := range utf16.Encode([]rune(s)) {
		b = append(b, byte(u>>8), byte(u))
	}
	return string(b)
}

// dates are the two lines that the library always writes.
var dates = regexp.MustCompile(`/CreationDate \(D:\d{14}\)\n/ModDate \(D:\d{14}\)`)

// finished puts in what the library has no words for, each as long as what it
// replaces, so that nothing moves: a date of issue or none, and the letters
// before the names of fonts.
func (w *pages) finished(data []byte, date time.Time) ([]byte, error) {
	found := dates.FindAllIndex(data, -1)
	if len(found) != 1 {
		return nil, errors.New("the PDF library writes dates in another way than is known here")
	}
	stated := ""
	if !date.IsZero() {
		stated = date.UTC().Format("/CreationDate (D:20060102150405Z)")
	}
	at := data[found[0][0]:found[0][1]]
	copy(at, stated+strings.Repeat(" ", len(at)-len(stated)))
	for i, name := range names {
		if w.letters[i] == nil {
			continue
		}
		was := []byte("/utf8" + called(name) + "\n")
		if !bytes.Contains(data, was) {
			return nil, errors.New("the PDF library names fonts in another way than is known here")
		}
		data = bytes.ReplaceAll(data, was, []byte("/"+mark(w.letters[i])+"+"+name+"\n"))
	}
	return data, nil
}

// mark is six letters that stand for a set of characters. A font of which a
// part is embedded bears them before its name, others for another part (PDF,
// ISO 32000, from memory): who joins files could take one part for the other.
func mark(letters map[rune]bool) string {
	sum := fnv.New64a()
	for _, r := range slices.Sorted(maps.Keys(letters)) {
		fmt.Fprintln(sum, r) // which cannot fail
	}
	var b strings.Builder
	for left := sum.Sum64(); b.Len() < 6; left /= 26 {
		b.WriteByte('A' + byte(left%26))
	}
	return b.String()
}
