package checks

import (
	"fmt"

	"hemline/lang/board"
	"hemline/lang/quantity"
)

// spacing is how far apart tabs may stand on boards of a thickness and more, nm.
type spacing struct{ from, plated, plain float64 }

const mm = quantity.NmPerMillimetre

// spacings are the built-in values of tab_spacing; between two rows a board is
// taken as the thinner one, and one thinner than the first as the first. Sources:
// an industry mailing list on printed boards, 1997, gives 25 to 38, 51 to 63 and 63
// to 76 mm for plain boards of 0.51, 0.79 and 1.57 mm, of which the upper end
// stands here; a fabricator's column on edge plating (2022) gives 50.8 mm along
// plated edges, and closer tabs below 1.52 mm: 40 and 25 mm are common practice.
// Above 5.08 mm the column asks for closer ones too, without a figure.
var spacings = []spacing{
	{0, 25 * mm, 38 * mm},
	{0.79 * mm, 40 * mm, 63 * mm},
	{1.52 * mm, 50.8 * mm, 63 * mm},
	{1.57 * mm, 50.8 * mm, 76 * mm},
}

// TabSpacing is how far apart two neighbouring tabs may stand, along an edge that
// is plated between them or one that is not: what the fabricator states, else the
// built-in value for a board of the thickness. Where that is not known it is taken
// as thick, which asks for the least.
func (l *Limits) TabSpacing(thickness board.Value, plated bool) Limit {
	const name = "tab_spacing"
	if x, ok := l.stated.maximum[name]; ok {
		return x
	}
	x := l.Maximum(name)
	row, of := spacings[len(spacings)-1], ""
	if thickness.Value > 0 {
		for _, s := range spacings {
			if thickness.Value >= s.from-board.Tolerance {
				row = s
			}
		}
		of = ", board of " + thickness.Quantity.String()
	}
	most, edge := row.plain, "an edge that is not plated"
	if plated {
		most, edge = row.plated, "a plated edge"
	}
	x.Quantity, x.Note = quantity.Nanometres(most), "along "+edge+of
	return x
}

// bySpacing says the built-in values of tab_spacing.
func bySpacing() string {
	s := "by the board's thickness, along plated edges and along others:"
	for i, x := range spacings {
		sep := ";"
		if i == 0 {
			sep = ""
		}
		from := "thinner"
		if x.from > 0 {
			from = quantity.Nanometres(x.from).String() + " and more"
		}
		s += fmt.Sprintf("%s %s and %s where it is %s", sep, quantity.Nanometres(x.plated), quantity.Nanometres(x.plain), from)
	}
	return s
}
