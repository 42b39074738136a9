package picture

import (
	"regexp"

	"hemline/lang/board"
	"hemline/lang/emit/scene"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

// stated finds the point that a message names: "at (32.00 mm, 29.20 mm)".
var stated = regexp.MustCompile(`\bat \((-?[0-9.]+) ([^\s,()]+), (-?[0-9.]+) ([^\s,()]+)\)`)

// spot is where on the board a finding is, mm: the corner or the piece of a
// drawn path that its place is in, else the point that its message names, in
// any unit of length; nil where neither is, and it is at its items.
func spot(b *board.Board, x *finding.Finding) *scene.Point {
	if p := onPath(b, x); p != nil {
		return p
	}
	return pointIn(x.Message)
}

// pointIn reads the first point that a message names; nil where it names none.
func pointIn(message string) *scene.Point {
	m := stated.FindStringSubmatch(message)
	if m == nil {
		return nil
	}
	var at [2]float64
	for i := range at {
		unit, ok := quantity.UnitNamed(m[2+2*i])
		if !ok || unit.Dim != quantity.Length {
			return nil
		}
		q, err := quantity.Parse(m[1+2*i], unit)
		if err != nil {
			return nil
		}
		at[i] = quantity.InMillimetres(q.Value)
	}
	return &scene.Point{X: at[0], Y: at[1]}
}

// onPath is the middle of the one corner or piece of a drawn path that a
// finding's place lies in, mm; nil where it is of the whole path, or of no path.
func onPath(b *board.Board, x *finding.Finding) *scene.Point {
	if x.Place.Anchor == nil {
		return nil
	}
	point := func(p geom.Point) *scene.Point {
		return &scene.Point{X: quantity.InMillimetres(p.X), Y: quantity.InMillimetres(p.Y)}
	}
	var found *board.Edge
	for _, p := range b.Profiles() {
		for _, c := range p.Corners {
			if c.At == x.Place {
				return point(p.Path.At((c.From + c.To) / 2))
			}
		}
		for _, e := range p.Edges {
			if e.At.Anchor != x.Place.Anchor || e.At.Start < x.Place.Start || x.Place.End < e.At.End {
				continue
			}
			if found != nil {
				return nil
			}
			found = e
		}
	}
	if found == nil || found.Closed || found.Piece == (geom.Segment{}) {
		return nil
	}
	return point(found.Point(found.Position((found.From + found.To) / 2)))
}
