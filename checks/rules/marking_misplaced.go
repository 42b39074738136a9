package rules

import (
	"slices"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/finding"
	"hemline/lang/geom"
)

var markingMisplaced = &checks.Rule{
	Name: "marking_misplaced", Group: checks.GroupBoard, Category: finding.Risky,
	Finds:  "A mark is to stand on a wrap, a land, a pin or a feature, in a hole or a cutout, or off the board; or `marking none` stands beside a mark.",
	Why:    "Ink on a contact keeps it from touching, and on a land from being soldered; off the board there is nothing to print on. Its centre is judged; how large a mark is no statement says.",
	Source: "common practice, no source",
	Bad:    platedWith(`marking "date code" on top at (0.5 mm, 10 mm)`),
	Good:   platedWith(`marking "date code" on top at (5 mm, 10 mm)`),
	Run: func(p *checks.Pass) {
		all := p.Board.Markings()
		none := slices.IndexFunc(all, func(x *board.Marking) bool { return x.Text.Is("none") })
		var list []*board.Marking
		for i, x := range all {
			switch {
			case none >= 0 && i != none && !x.Text.Is("none"):
				f := p.Report(x.Keyword, []string{x.Name.Text}, "a mark is stated, and marking none: the shop adds it, or it adds none")
				related(f, all[none].Keyword, "marking none")
			case !x.Placed() || p.Board.Outline() == nil:
			case !p.Board.OnBoard(x.Centre):
				p.Report(x.At, []string{x.Name.Text}, "the mark at %s lies off the board or in a cutout", board.Coordinates(x.Centre))
			default:
				list = append(list, x)
			}
		}
		marksOnMetal(p, list)
	},
}

// marksOnMetal finds the marks that stand on contacts, on lands or in holes.
func marksOnMetal(p *checks.Pass, list []*board.Marking) {
	if len(list) == 0 {
		return
	}
	boxes := make([]geom.Box, len(list))
	for i, x := range list {
		boxes[i] = geom.Box{Min: x.Centre, Max: x.Centre}
	}
	m, index, under := survey(p), geom.NewIndex(boxes), make([]*copper.Piece, len(list))
	m.Each(func(x *copper.Piece) {
		switch x.Kind {
		case copper.Wrap, copper.Land, copper.Ring, copper.Pin, copper.Pad, copper.Feature, copper.Drilled, copper.PlatedHole:
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
