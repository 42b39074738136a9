package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/finding"
	"hemline/lang/geom"
)

var itemOutside = &checks.Rule{
	Name: "item_outside", Group: checks.GroupShape, Category: finding.Risky,
	Finds:  "A feature, a hole, a fence's via, a connector or a half hole lies off the board or in a cutout.",
	Why:    "Copper that is not on the board is cut away in the shop, silently or after a query; it was surely meant to be elsewhere.",
	Source: "common practice, no source",
	Bad:    platedWith("feature c7 on top circle 2 mm at (51 mm, 15 mm) net GND"),
	Good:   platedWith("feature c7 on top circle 2 mm at (48 mm, 15 mm) net GND"),
	Run: func(p *checks.Pass) {
		region, ok := p.Board.Region()
		if !ok {
			return
		}
		p.EachFeature(0, func(x *board.Feature) {
			if offBoard(p.Board, region, x.Shape) {
				p.Report(x.ShapeAt, []string{x.Name.Text}, "feature %s lies off the board or in a cutout, at least in part", x.Name.Text)
			}
		})
		for _, h := range p.Board.Holes() {
			if offBoard(p.Board, region, h.Path()) {
				p.Report(h.CentreAt, []string{h.Name.Text}, "hole %s lies off the board or in a cutout, at least in part", h.Name.Text)
			}
		}
		for _, c := range p.Board.Connectors() {
			connectorOutside(p, region, c)
		}
		for _, c := range p.Board.Castellations() {
			if n := holesOutside(p.Board, region, c); n > 0 {
				p.Report(c.Stretch, []string{c.Name.Text}, "%d of %s of castellation %s, or %s, %s off the board, in a cutout or on a rounded corner", n, wording.Plural(len(c.Centres), "half hole"), c.Name.Text, plural(n, "its land", "their lands"), plural(n, "lies", "lie"))
			}
		}
		for _, f := range p.Board.Fences() {
			n := 0
			for _, v := range f.Vias {
				if offBoard(p.Board, region, geom.Circle(v, f.Hole.Value)) {
					n++
				}
			}
			if n > 0 {
				p.Report(f.Inset.At, []string{f.Name.Text}, "%d of %s of fence %s %s off the board or in a cutout", n, wording.Plural(len(f.Vias), "via"), f.Name.Text, plural(n, "lies", "lie"))
			}
		}
	},
}

// offBoard tells whether any part of a shape is not on the board. Only a
// shape that comes to a profile is measured; one that just touches it is on
// the board.
func offBoard(b *board.Board, region geom.Region, shape *geom.Loop) bool {
	box := shape.Box()
	near := false
	var holes []*geom.Loop
	b.ProfilesNear(box, 0, func(p *board.Profile) {
		if p.Cutout {
			holes = append(holes, p.Path)
		}
		p.Near(box, 0, func(float64, float64) { near = true })
	})
	if !near {
		return !b.OnBoard(box.Center())
	}
	off := geom.AreaCovered([][]*geom.Loop{{shape}, {region.Outer}, holes}, func(cover []int) bool {
		return cover[0] > 0 && (cover[1] == 0 || cover[2] > 0)
	})
	return off > shape.Perimeter()*0.1 // a tenth of a nanometre all along
}

func connectorOutside(p *checks.Pass, region geom.Region, c *board.Connector) {
	from, to := c.Span()
	if !c.Edge.Closed && (below(from, 0) || above(to, c.Edge.Length)) {
		p.Report(c.PositionAt, []string{c.Name.Text}, "the body of connector %s reaches from %s to %s, past edge %s, which runs from 0.00 mm to %s",
			c.Name.Text, length(from, c.Body), length(to, c.Body), c.Edge.Name, length(c.Edge.Length, c.Body))
	}
	for _, pin := range c.Pins {
		if offBoard(p.Board, region, pinShape(c, pin)) {
			p.Report(pin.At, []string{c.Name.Text}, "the pin of connector %s on %s lies off the board or in a cutout, at least in part", c.Name.Text, pin.Face)
		}
	}
}

func holesOutside(b *board.Board, region geom.Region, c *board.Castellation) int {
	n := 0
	straight := c.Edge.To - c.Edge.From
	for _, at := range c.Centres {
		corner := !c.Edge.Closed && (below(at, c.Edge.Base) || above(at, c.Edge.Base+straight))
		if corner || offBoard(b, region, c.Edge.Standing(at, c.LandWidth.Value, 0, c.LandLength.Value)) {
			n++
		}
	}
	return n
}
