package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/finding"
	"hemline/lang/geom"
)

var markingMisplaced = &checks.Rule{
	Name: "marking_misplaced", Group: checks.GroupBoard, Category: finding.Risky,
	Finds:  "A mark is to stand on a wrap, a land or a pin, in a cutout, or off the board.",
	Why:    "Ink on a contact keeps it from touching, and on a land from being soldered; off the board there is nothing to print on. Its centre is judged; how large a mark is no statement says.",
	Source: "common practice, no source",
	Bad:    platedWith(`marking "date code" on top at (0.5 mm, 10 mm)`),
	Good:   platedWith(`marking "date code" on top at (5 mm, 10 mm)`),
	Run: func(p *checks.Pass) {
		var list []*board.Marking
		var boxes []geom.Box
		for _, x := range p.Board.Markings() {
			if !x.Placed() {
				continue
			}
			if !p.Board.OnBoard(x.Centre) {
				p.Report(x.At, []string{x.Name.Text}, "the mark at %s lies off the board or in a cutout", board.Coordinates(x.Centre))
				continue
			}
			list, boxes = append(list, x), append(boxes, geom.Box{Min: x.Centre, Max: x.Centre})
		}
		if len(list) == 0 {
			return
		}
		m, index, under := survey(p), geom.NewIndex(boxes), make([]*copper.Piece, len(list))
		m.Each(func(x *copper.Piece) {
			switch x.Kind {
			case copper.Wrap, copper.Land, copper.Ring, copper.Pin, copper.Pad:
			default:
				return
			}
			index.Search(x.Box(), func(i int) bool {
				if under[i] == nil && x.Layers&m.Layer(list[i].Face.String()) != 0 && covers(x, list[i].Centre) {
					under[i] = x
				}
				return true
			})
		})
		for i, x := range under {
			if x != nil {
				f := p.Report(list[i].At, []string{list[i].Name.Text}, "the mark at %s stands on %s", board.Coordinates(list[i].Centre), named(m, x, m.Layer(list[i].Face.String())))
				related(f, placeOf(m, x), "what it stands on")
			}
		}
	},
}

// covers tells whether a point lies in a piece, or on its border.
func covers(x *copper.Piece, at geom.Point) bool {
	for _, l := range x.Shape() {
		if _, _, d := l.Nearest(at); d <= board.Tolerance || l.Contains(at) {
			return true
		}
	}
	return false
}
