package layers

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

// Place says how the files' coordinates lie to the text's and to the artwork's.
// The zero value counts from the text's origin and claims nothing of the artwork.
type Place struct {
	// Origin is the point of the text, nm, that is (0, 0) of the files.
	Origin geom.Point
	// Same is the ident that the artwork's files carry in .SameCoordinates, letter
	// for letter: with it the files say that they lie as the artwork does. Without
	// it they carry one that no other files have, so that they say so of each other alone.
	Same string
}

const (
	// farthest, nm, is the largest coordinate that the format 4.6 writes.
	farthest = 9999.999999 * mm
	// offBoard, nm, is how far off the board an origin may lie: no sheet that artwork
	// is drawn on is larger; our own judgement. What is farther is a slip of unit or digit.
	offBoard = 2000 * mm
)

// ParseOrigin reads a point of two lengths with units, such as "10 mm, 5 mm".
func ParseOrigin(s string) (geom.Point, error) {
	x, y, ok := strings.Cut(s, ",")
	if ok {
		a, first := length(x)
		b, second := length(y)
		if first && second {
			return geom.Point{X: a, Y: b}, nil
		}
	}
	return geom.Point{}, fmt.Errorf("origin %q: expected two lengths with units, as 10mm,5mm", s)
}

// length reads a length of either sign, nm.
func length(s string) (float64, bool) {
	s = strings.TrimSpace(s)
	number, negative := strings.CutPrefix(s, "-")
	q, ok := syntax.Quantity(number)
	if !ok || q.Dim != quantity.Length || math.IsInf(q.Value, 0) || math.IsNaN(q.Value) {
		return 0, false
	}
	if negative {
		return -q.Value, true
	}
	return q.Value, true
}

// ident is one field of an attribute as it stands in a file: no controls, none of
// * % , which end the field, and \ only where it begins an escape of 4 or 8 digits.
var ident = regexp.MustCompile(`^(?:[^\x00-\x1f\x7f-\x{9f}*%,\\]|\\u[0-9A-Fa-f]{4}|\\U[0-9A-Fa-f]{8})+$`)

// CheckSame tells whether files may carry an ident: it must be as it stands in a file.
func CheckSame(s string) error {
	if !ident.MatchString(s) || !utf8.ValidString(s) || strings.TrimSpace(s) == "" {
		return fmt.Errorf("ident %q: expected what stands between .SameCoordinates, and * in the artwork's files, letter for letter", s)
	}
	return nil
}

// reach checks that a board lies where files can write it.
func (m *maker) reach() error {
	o := m.o.Origin
	outline := m.b.Outline().Path.Box()
	if off := math.Max(math.Max(outline.Min.X-o.X, o.X-outline.Max.X), math.Max(outline.Min.Y-o.Y, o.Y-outline.Max.Y)); o != (geom.Point{}) && !(off <= offBoard) {
		return fmt.Errorf("origin %s: it lies %s m off the board, farther than the %g m that any artwork has its origin off; check its unit", point(o), number(off/1e3/mm, 3), offBoard/1e3/mm)
	}
	for _, p := range m.b.Profiles() {
		box := p.Path.Box()
		if box.Empty() || min(box.Min.X-o.X, box.Min.Y-o.Y) < -farthest/2 || max(box.Max.X-o.X, box.Max.Y-o.Y) > farthest/2 {
			return fmt.Errorf("%s reaches farther than 5 m from the origin, which the layer files cannot write", p.Name)
		}
	}
	return nil
}

// grid is a point of the files in whole nanometres.
type grid struct{ x, y int64 }

// onGrid is where a point of the text lies in the files. All that is written goes
// by this one place, so that an origin moves all of it alike: the same board has the
// same shape to the last nanometre, whatever its origin.
func (m *maker) onGrid(p geom.Point) grid {
	return grid{int64(math.Round(p.X)) - int64(math.Round(m.o.Origin.X)), int64(math.Round(p.Y)) - int64(math.Round(m.o.Origin.Y))}
}

// same is the ident of .SameCoordinates: the one that is stated, else one made of
// the board's name and of its outline as it lies in the files, so that no files
// share it that lie otherwise.
func (m *maker) same() string {
	if m.o.Same != "" {
		return m.o.Same
	}
	var s strings.Builder
	s.WriteString("place of " + ProjectOf(m.b).Name)
	for _, x := range m.stepsOf(m.b.Outline().Path.Segments(), math.Pi) {
		fmt.Fprintf(&s, "\n%s %d %d %d %d", x.mode, x.to.x, x.to.y, x.centre.x, x.centre.y)
	}
	return guid(s.String())
}

// counted says where the files' coordinates count from, for their comments.
func (m *maker) counted() string {
	return "seen from the top; (0, 0) is the point " + point(m.o.Origin) + " of the board's text"
}

// point writes a point of the text.
func point(p geom.Point) string {
	of := func(v float64) string { return strconv.FormatFloat(math.Round(v)/mm, 'f', -1, 64) + " mm" }
	return "(" + of(p.X) + ", " + of(p.Y) + ")"
}
