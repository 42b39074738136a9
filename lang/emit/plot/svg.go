package plot

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"

	"hemline/lang/emit/sheet"
	"hemline/lang/source"
)

// SVG is one sheet; a user unit is a millimetre. Shapes that show a part of
// the board bear an id. Arcs stay arcs.
func SVG(s *sheet.Sheet, about About) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%gmm\" height=\"%gmm\" viewBox=\"0 0 %g %g\" fill=\"none\" stroke-linejoin=\"round\">\n", s.Format.W, s.Format.H, s.Format.W, s.Format.H)
	fmt.Fprintf(&b, "<title>%s</title>\n", escaped(about.Title))
	fmt.Fprintf(&b, "<style>text{font-family:'%s','DejaVu Sans',sans-serif;font-stretch:condensed;fill:#000;white-space:pre}.b{font-weight:bold}", sheet.Family)
	for l := sheet.Thick; l <= sheet.Border; l++ {
		fmt.Fprintf(&b, ".l%d{stroke:#000;stroke-width:%g", l, l.Width())
		if d := l.Dashes(); d != nil {
			fmt.Fprintf(&b, ";stroke-dasharray:%s", strings.Trim(fmt.Sprint(d), "[]"))
		}
		if l == sheet.Thick {
			b.WriteString(";stroke-linecap:round")
		}
		b.WriteString("}")
	}
	fmt.Fprintf(&b, "</style>\n<rect width=\"%g\" height=\"%g\" fill=\"#fff\"/>\n", s.Format.W, s.Format.H)
	for _, x := range s.Shapes {
		svgShape(&b, s, x)
	}
	for _, t := range s.Texts {
		svgText(&b, s, t)
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

func svgShape(b *bytes.Buffer, s *sheet.Sheet, x sheet.Shape) {
	b.WriteString("<path")
	if x.ID != "" {
		fmt.Fprintf(b, " id=\"%s\"", escaped(x.ID))
	}
	if x.Line != sheet.NoLine {
		fmt.Fprintf(b, " class=\"l%d\"", x.Line)
	}
	if x.Fill != sheet.Clear {
		g := grey(x.Fill)
		fmt.Fprintf(b, " fill=\"#%02x%02x%02x\" fill-rule=\"evenodd\"", g, g, g)
	}
	b.WriteString(" d=\"")
	for _, p := range x.Paths {
		svgPath(b, s.Format.H, p)
	}
	b.WriteString("\"/>\n")
}

func svgPath(b *bytes.Buffer, h float64, p sheet.Path) {
	place := func(q sheet.Point) string { return number(q.X) + " " + number(h-q.Y) }
	fmt.Fprintf(b, "M%s", place(p.Start))
	from := p.Start
	for _, s := range p.Steps {
		if !s.Arc {
			fmt.Fprintf(b, "L%s", place(s.To))
			from = s.To
			continue
		}
		r, sweep := math.Hypot(from.X-s.Centre.X, from.Y-s.Centre.Y), s.Sweep(from)
		turn := 0 // in SVG's axes, whose y runs down
		if s.Clockwise {
			turn = 1
		}
		a := math.Atan2(from.Y-s.Centre.Y, from.X-s.Centre.X) + sweep/2
		middle := sheet.Point{X: s.Centre.X + r*math.Cos(a), Y: s.Centre.Y + r*math.Sin(a)}
		for _, to := range [...]sheet.Point{middle, s.To} {
			fmt.Fprintf(b, "A%s %s 0 0 %d %s", number(r), number(r), turn, place(to))
		}
		from = s.To
	}
	if p.Closed {
		b.WriteString("Z")
	}
}

func svgText(b *bytes.Buffer, s *sheet.Sheet, t sheet.Text) {
	if t.S == "" {
		return
	}
	b.WriteString("<text")
	if t.ID != "" {
		fmt.Fprintf(b, " id=\"%s\"", escaped(t.ID))
	}
	if t.Bold {
		b.WriteString(" class=\"b\"")
	}
	// From the left end: a stated length and an anchor do not go together everywhere.
	back := t.Back()
	x, y := t.At.X, s.Format.H-t.At.Y
	if t.Up {
		fmt.Fprintf(b, " transform=\"translate(%s %s) rotate(-90)\"", number(x), number(y+back))
	} else {
		fmt.Fprintf(b, " x=\"%s\" y=\"%s\"", number(x-back), number(y))
	}
	fmt.Fprintf(b, " font-size=\"%s\" textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\">%s</text>\n", number(sheet.Em(t.Height)), number(t.Width()), escaped(t.S))
}

// number is a length in mm to a tenth of a micrometre.
func number(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e4)/1e4+0, 'f', -1, 64)
}

func escaped(s string) string {
	var b bytes.Buffer
	// Writing to a buffer cannot fail.
	_ = xml.EscapeText(&b, []byte(source.Visible(s)))
	return b.String()
}
