package rules

import (
	"fmt"
	"slices"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
)

var castellationCorner = &checks.Rule{
	Name: "castellation_corner", Group: checks.GroupHalfHoles, Category: finding.Risky,
	Finds:  "A half hole's edge lies nearer than `castellation_corner` to the end of its board edge: the point where that meets the next one, which a round may have cut off; or the hole is drilled into another edge.",
	Why:    "The corner beyond the last hole has nothing behind it and breaks off with the barrel.",
	Limits: []string{"castellation_corner"},
	Source: "a fabricator's capability table",
	Bad:    squareHead + "castellation row on west from 1.4 mm to 20 mm pitch 2 mm hole 1 mm land 1.6 mm by 1.2 mm net GND\n",
	Good:   squareHead + "castellation row on west from 1.5 mm to 20 mm pitch 2 mm hole 1 mm land 1.6 mm by 1.2 mm net GND\n",
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("castellation_corner")
		for _, c := range p.Board.Castellations() {
			if c.Edge.Closed {
				continue
			}
			drilledInto(p, c)
			left := min(c.From, c.Edge.Length-c.To) - c.Hole.Value/2
			what := func() string {
				return fmt.Sprintf("distance from the half holes of castellation %s to the end of edge %s", c.Name.Text, c.Edge.Name)
			}
			if lacks(p, need, c.Stretch, length(left), what) {
				relatedLimit(p.Report(c.Stretch, []string{c.Name.Text}, "%s", tooSmall(what(), length(left), need)), need)
			}
		}
	},
}

// drilledInto finds the first half hole of a row that is drilled into an edge across
// from its own: the other side of a slot or a notch, or another cutout.
func drilledInto(p *checks.Pass, c *board.Castellation) {
	own := c.Edge
	for n, at := range c.Centres {
		centre, r := own.Point(at), c.Hole.Value/2
		var into *board.Edge
		deep := 0.0
		p.Board.ProfilesNear(geom.BoxOf(centre), r, func(x *board.Profile) {
			x.Near(geom.BoxOf(centre), r, func(from, to float64) {
				e := x.EdgeAt((from + to) / 2)
				if e == nil || e == own {
					return
				}
				for _, g := range x.Path.Stretch(from, to) {
					if _, _, d := g.Nearest(centre); r-d > max(deep, board.Tolerance) {
						into, deep = e, r-d
					}
				}
			})
		})
		if into == nil || neighbours(own, into) {
			continue // the next edge's end is held by the limit
		}
		f := p.Report(c.Stretch, []string{c.Name.Text}, "half hole %d of castellation %s, at %s, is drilled %s into edge %s across from it", n+1, c.Name.Text, board.Coordinates(centre), length(deep), into.Name)
		related(f, into.At, "edge %s", into.Name)
		return
	}
}

// neighbours tells whether two edges of one profile follow on each other.
func neighbours(a, b *board.Edge) bool {
	edges := a.Profile.InOrder()
	i, n := slices.Index(edges, a), len(edges)
	return edges[(i+1)%n] == b || edges[(i+n-1)%n] == b
}
