package board

import (
	"fmt"
	"math"

	"hemline/lang/geom"
	"hemline/lang/quantity"
)

// Where names a point of a profile in the author's terms: "south at 12.50 mm".
func (p *Profile) Where(along float64) string {
	if e := p.EdgeAt(along); e != nil {
		position := e.Position(math.Mod(along, p.Path.Perimeter()))
		return fmt.Sprintf("%s at %s", e.Name, quantity.Nanometres(math.Round(position)))
	}
	return "the corner at " + Coordinates(p.Path.At(along))
}

// Where names a stretch: "west from 1.00 mm to 3.00 mm", or over a corner "from
// south at 1.00 mm to east at 3.00 mm".
func (s Stretch) Where() string {
	if s.Round() {
		return "all round " + s.Profile.Name
	}
	for _, e := range s.Profile.Edges {
		if !e.Closed && e.From-Tolerance <= s.From && s.To <= e.To+Tolerance {
			a, b := math.Round(e.Position(s.From)), math.Round(e.Position(s.To))
			return fmt.Sprintf("%s from %s to %s", e.Name, quantity.Nanometres(min(a, b)), quantity.Nanometres(max(a, b)))
		}
	}
	return fmt.Sprintf("from %s to %s", s.Profile.Where(s.From), s.Profile.Where(s.To))
}

// Coordinates shows a point of the board, to a nanometre.
func Coordinates(p geom.Point) string {
	return fmt.Sprintf("(%s, %s)", quantity.Nanometres(math.Round(p.X)), quantity.Nanometres(math.Round(p.Y)))
}
