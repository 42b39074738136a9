package rules

import (
	"cmp"
	"fmt"
	"slices"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/emit/wording"
	"hemline/lang/finding"
)

var itemOutside = &checks.Rule{
	Name: "item_outside", Group: checks.GroupShape, Category: finding.Risky,
	Finds:  "A feature, a hole, a fence's via, a connector, a half hole or the centre of a part lies off the board or in a cutout.",
	Why:    "Copper that is not on the board is cut away in the shop, silently or after a query; it was surely meant to be elsewhere.",
	Source: "common practice, no source",
	Bad:    platedWith("feature c7 on top circle 2 mm at (51 mm, 15 mm) net GND"),
	Good:   platedWith("feature c7 on top circle 2 mm at (48 mm, 15 mm) net GND"),
	Run: func(p *checks.Pass) {
		if p.Board.Outline() == nil {
			return
		}
		for _, c := range p.Board.Connectors() {
			bodyOutside(p, c)
		}
		for _, x := range p.Board.Parts() {
			if !p.Board.OnBoard(x.Centre) {
				p.Report(x.CentreAt, []string{x.Name.Text}, "the centre of part %s, at %s, lies off the board or in a cutout", x.Name.Text, board.Coordinates(x.Centre))
			}
		}
		m := survey(p)
		type row struct {
			of      *board.Item
			members map[int32]bool
			piece   *copper.Piece
		}
		off := map[*board.Item]*row{}
		var list []*row
		for _, x := range m.Off() {
			r := off[x.Of()]
			if r == nil {
				r = &row{of: x.Of(), members: map[int32]bool{}, piece: x}
				off[x.Of()] = r
				list = append(list, r)
			}
			if r.members[x.Member] = true; earlier(x, r.piece) {
				r.piece = x
			}
		}
		slices.SortFunc(list, func(a, b *row) int { return copper.Order(a.piece, b.piece) })
		for _, r := range list {
			p.Report(placeOf(m, r.piece), []string{r.of.Name.Text}, "%s", outsideWords(m, r.piece, len(r.members)))
		}
	},
}

func earlier(a, b *copper.Piece) bool {
	return cmp.Or(cmp.Compare(a.Member, b.Member), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Layers, b.Layers)) < 0
}

// outsideWords say that something lies off the board; n of a row.
func outsideWords(m *copper.Map, x *copper.Piece, n int) string {
	const outside = "off the board or in a cutout"
	lie := "lie"
	if n == 1 {
		lie = "lies"
	}
	switch i := x.Item.(type) {
	case *board.Castellation:
		its := "their lands,"
		if n == 1 {
			its = "its land,"
		}
		return fmt.Sprintf("%d of %s of castellation %s, or %s %s %s or on a rounded corner", n, wording.Plural(len(i.Centres), "half hole"), x.Name(), its, lie, outside)
	case *board.Fence:
		return fmt.Sprintf("%d of %s of fence %s %s %s", n, wording.Plural(len(i.Vias), "via"), x.Name(), lie, outside)
	}
	return named(m, x, x.Layers) + " lies " + outside + ", at least in part"
}

// bodyOutside finds a body that hangs over the end of its edge.
func bodyOutside(p *checks.Pass, c *board.Connector) {
	from, to := c.Span()
	if !c.Edge.Closed && (below(from, 0) || above(to, c.Edge.Length)) {
		p.Report(c.PositionAt, []string{c.Name.Text}, "the body of connector %s reaches from %s to %s, past edge %s, which runs from 0.00 mm to %s",
			c.Name.Text, length(from, c.Body), length(to, c.Body), c.Edge.Name, length(c.Edge.Length, c.Body))
	}
}
