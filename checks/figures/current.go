package figures

import (
	"fmt"
	"strings"

	"hemline/checks/physics"
	"hemline/lang/board"
	"hemline/lang/quantity"
)

// EdgeCurrent is the current that a plating's copper carries along the edge for a rise
// of its temperature: a bound, never too high. The wall and its wraps are one
// conductor bent round the edge; what is tied to it beside that is not counted, for
// where the current enters all of it runs in these.
type EdgeCurrent struct {
	Amperes float64
	// Beyond says which of the formula's ends the copper lies past, "" for none.
	// Where it is not "", Amperes holds for as much of the copper as the formula
	// reaches, of which more carries no less; 0 where it reaches none.
	Beyond string
	// Sections are what is counted, in words.
	Sections string
}

// Current is what a plating carries along the edge; ok is false where its copper or
// the board's thickness is not stated, or the rise is outside the formula's range.
func Current(b *board.Board, p *board.Plating, rise float64) (c EdgeCurrent, ok bool) {
	t, known := b.Thickness()
	if !known || !p.Copper.Given() || rise < physics.RiseLeast || rise > physics.RiseMost {
		return c, false
	}
	thin, thick, wide := quantity.OfMetres(physics.ThinLeast), quantity.OfMetres(physics.ThickMost), quantity.OfMetres(physics.WidthMost)
	copper, height := p.Copper.Value, t.Value
	c.Sections = "the wall, " + crossSection(t.Value, p.Copper.Value)
	switch {
	case copper < thin-board.Tolerance:
		c.Beyond = fmt.Sprintf("copper under %g µm", quantity.InMicrometres(thin))
		return c, true
	case copper > thick+board.Tolerance:
		c.Beyond = fmt.Sprintf("copper over %g µm", quantity.InMicrometres(thick))
		copper = thick
	}
	if height > wide+board.Tolerance {
		c.Beyond, height = fmt.Sprintf("a conductor over %g mm wide", quantity.InMillimetres(wide)), wide
	}
	section, width := height*copper, height
	var faces []string
	for _, f := range board.Faces {
		w := min(p.Wrap[f].Value, wide-width)
		foil := min(wrapCopper(b, p, f, 0), thick) // no foil is sure that no stack states
		if w <= 0 || foil < thin-board.Tolerance {
			continue
		}
		width += w
		section += w * foil
		faces = append(faces, fmt.Sprintf("%s %s", f, crossSection(w, foil)))
	}
	if len(faces) > 0 {
		c.Sections += ", and its wraps, " + strings.Join(faces, ", ")
	}
	amperes, within := physics.CurrentFor(quantity.InSquareMillimetres(section)*1e-6, rise, true)
	if !within {
		amperes, c.Beyond = physics.MostOutside, fmt.Sprintf("a current over %g A", physics.MostOutside)
	}
	c.Amperes = amperes
	return c, true
}

// crossSection is a width and a thickness, nm, to three digits as a report shows the
// board's thickness: "1.6 mm by 25 µm".
func crossSection(wide, thick float64) string {
	digits := func(v float64) string {
		if v >= 1000 {
			return fmt.Sprintf("%.0f", v)
		}
		return fmt.Sprintf("%.3g", v)
	}
	return digits(quantity.InMillimetres(wide)) + " mm by " + digits(quantity.InMicrometres(thick)) + " µm"
}

// IntoPlane is the current, A, that the copper of a plane carries away from a wall
// that it is tied to along a length, nm, for a rise of temperature: the plane's
// section along the tie, of which the formula reaches 10.16 mm.
func IntoPlane(b *board.Board, x *board.Plane, length, rise float64) (float64, bool) {
	thick := quantity.InMetres(layerCopper(b, x.Layer.Text))
	if thick < physics.ThinLeast*(1-1e-9) || rise < physics.RiseLeast || rise > physics.RiseMost {
		return 0, false
	}
	_, outer := b.FaceOf(x.Layer.Text)
	amperes, ok := physics.CurrentFor(min(quantity.InMetres(length), physics.WidthMost)*min(thick, physics.ThickMost), rise, outer)
	return amperes, ok
}

// Tie is where a plating is tied to a plane, and how long in all, nm.
type Tie struct {
	Plane  *board.Plane
	Length float64
}

// TiesOf lists a plating's ties to planes, in the order of the text.
func TiesOf(b *board.Board, p *board.Plating) (list []Tie) {
	for _, x := range b.Planes() {
		if !tiesTo(b, x, p) {
			continue
		}
		sum := 0.0
		for s := range b.FinishedBy(p) {
			for _, v := range contacts(x, s) {
				sum += v.Length()
			}
		}
		if sum > 0 {
			list = append(list, Tie{x, sum})
		}
	}
	return list
}
