package layers

import (
	"bytes"
	"cmp"
	"crypto/md5"
	"crypto/sha1"
	"fmt"
	"math"
	"strings"
	"time"
	"unicode"

	"hemline/lang/geom"
)

// gerber writes an image: mm, format 4.6, so that a nanometre is the unit of
// every coordinate, regions alone, arcs exact in multi-quadrant mode.
func (m *maker) gerber(i image) []byte {
	w := &gerberWriter{}
	for _, a := range m.attributes(i.function) {
		w.command("TF" + a)
	}
	w.command("TF.FilePolarity," + Polarity)
	w.command("FSLAX46Y46")
	w.command("MOMM")
	w.line("G04 " + comment(i.about) + "*")
	w.line("G04 " + comment(m.counted()) + "*")
	w.line("G75*")
	w.line("G01*")
	w.command("LPD")
	cleared := false
	for _, o := range i.ops {
		if o.clear != cleared {
			w.command(map[bool]string{false: "LPD", true: "LPC"}[o.clear])
			cleared = o.clear
		}
		if o.aperture != "" {
			w.command("TA.AperFunction," + o.aperture)
		}
		if o.hasNet {
			w.command("TO.N," + field(o.net))
		}
		for _, l := range o.loops {
			w.region(m.stepsOf(l.Segments(), math.Pi))
		}
		if o.hasNet || o.aperture != "" {
			w.command("TD")
		}
	}
	return w.end()
}

// attributes are those of every file, in the order in use, without the "TF".
func (m *maker) attributes(function string) []string {
	list := []string{".GenerationSoftware,hemline,hemline," + field(m.o.Version)}
	if !m.o.Created.IsZero() {
		list = append(list, ".CreationDate,"+m.o.Created.UTC().Format(DateLayout))
	}
	p := ProjectOf(m.b)
	return append(list, ".ProjectId,"+field(p.Name)+","+p.ID+","+field(p.Revision), ".Part,"+cmp.Or(m.o.Part, "Single"), ".FileFunction,"+function, ".SameCoordinates,"+m.same())
}

// guid is an identifier made of a name alone (RFC 4122, version 5, in the name
// space of URLs), so that the files of one board share it, however often made.
func guid(name string) string {
	space := []byte{0x6b, 0xa7, 0xb8, 0x11, 0x9d, 0xad, 0x11, 0xd1, 0x80, 0xb4, 0x00, 0xc0, 0x4f, 0xd4, 0x30, 0xc8}
	h := sha1.Sum(append(space, "hemline:"+name...))
	h[6], h[8] = h[6]&0x0f|0x50, h[8]&0x3f|0x80
	return fmt.Sprintf("%x-%x-%x-%x-%x", h[0:4], h[4:6], h[6:8], h[8:10], h[10:16])
}

// field escapes what ends or parts a field of an attribute, and all that is not
// ASCII: readers of before 2020 take nothing else.
func field(s string) string { return ascii(s, `%*,\`) }

// comment drops what would end a comment, and escapes what is not ASCII.
func comment(s string) string { return ascii(printable(s), "") }

// printable drops what would end a comment or a line.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '*' || r == '%' {
			return ' '
		}
		return r
	}, s)
}

// ascii escapes what is not printable ASCII, and some letters that are, as the
// format does.
func ascii(s, some string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r > 0xffff:
			fmt.Fprintf(&b, `\U%08X`, r)
		case r < ' ' || r > '~' || strings.ContainsRune(some, r):
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

type gerberWriter struct{ bytes.Buffer }

func (w *gerberWriter) line(s string)    { w.WriteString(s + "\n") }
func (w *gerberWriter) command(s string) { w.line("%" + s + "*%") }

// end closes the file. The checksum runs over what stands before it, ends of
// lines left out.
func (w *gerberWriter) end() []byte {
	sum := md5.Sum(bytes.ReplaceAll(w.Bytes(), []byte("\n"), nil))
	w.command(fmt.Sprintf("TF.MD5,%x", sum))
	w.line("M02*")
	return w.Bytes()
}

// region writes the steps of a loop as one closed contour.
func (w *gerberWriter) region(steps []step) {
	if len(steps) < 2 {
		return // a loop smaller than the grid encloses nothing
	}
	w.line("G36*")
	w.line(fmt.Sprintf("X%dY%dD02*", steps[0].from.x, steps[0].from.y))
	mode := "G01"
	for _, s := range steps {
		if s.mode != mode {
			mode = s.mode
			w.line(mode + "*")
		}
		if s.mode == "G01" {
			w.line(fmt.Sprintf("X%dY%dD01*", s.to.x, s.to.y))
		} else {
			w.line(fmt.Sprintf("X%dY%dI%dJ%dD01*", s.to.x, s.to.y, s.centre.x-s.from.x, s.centre.y-s.from.y))
		}
	}
	if mode != "G01" {
		w.line("G01*")
	}
	w.line("G37*")
}

// step is a line or an arc on the grid.
type step struct {
	mode             string // G01, G02 clockwise, G03
	from, to, centre grid
}

// stepsOf puts segments on the grid. Arcs are cut so that none turns farther
// than most, and what is shorter than the grid is left out: an arc whose ends
// fall on one point would be read as a full circle.
func (m *maker) stepsOf(segs []geom.Segment, most float64) (steps []step) {
	for _, g := range segs {
		n := 1
		if g.Arc {
			n = max(1, int(math.Ceil(math.Abs(g.Sweep())/most-1e-9)))
		}
		long := g.Length()
		for k := range n {
			part := g
			if n > 1 {
				part = g.Sub(long*float64(k)/float64(n), long*float64(k+1)/float64(n))
			}
			s := step{mode: "G01", from: m.onGrid(part.A), to: m.onGrid(part.B)}
			if s.from == s.to {
				continue
			}
			if part.Arc {
				s.centre = m.onGrid(part.C)
				s.mode = "G03"
				if part.Clockwise {
					s.mode = "G02"
				}
			}
			if len(steps) > 0 {
				s.from = steps[len(steps)-1].to
			}
			steps = append(steps, s)
		}
	}
	return steps
}

// ParseDate reads a creation date: a day, or a time of RFC 3339. A day is its
// first second in UTC.
func ParseDate(s string) (time.Time, error) {
	for _, layout := range []string{time.DateOnly, time.RFC3339} {
		if t, err := time.Parse(layout, s); err == nil {
			return t.UTC(), nil
		}
	}
	return time.Time{}, fmt.Errorf("date %q: expected a day, as 2026-11-25, or a time, as 2026-11-25T08:00:00Z", s)
}
