package rules

import (
	"fmt"
	"math"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var castellationOnPlating = &checks.Rule{
	Name: "castellation_on_plating", Group: checks.GroupHalfHoles, Category: finding.Unbuildable,
	Finds:  "A half hole of another net stands on a plated stretch, or nearer to one than `gap_width`.",
	Why:    "Barrel and wall are plated in one pass: nothing parts them but the bare board that the final router needs between them.",
	Limits: []string{"gap_width"},
	Source: "the gap is cut by the final router bit, 1 to 3 mm; common practice",
	Bad:    platedWith("gap g of wall on west from 5 mm to 15 mm", "castellation row on west from 7.4 mm to 12 mm pitch 2 mm hole 1 mm land 1.6 mm by 1.2 mm net V5"),
	Good:   platedWith("gap g of wall on west from 5 mm to 15 mm", "castellation row on west from 7.5 mm to 12 mm pitch 2 mm hole 1 mm land 1.6 mm by 1.2 mm net V5"),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("gap_width")
		for _, c := range p.Board.Castellations() {
			for _, pl := range p.Board.Platings() {
				left, at := holesToPlating(p, c, pl, need.Value)
				if !below(left, need.Value) {
					continue
				}
				what := fmt.Sprintf("bare edge between the half hole of %s at %s and the plating %s", c.Name.Text, length(at), pl.Name.Text)
				var r *finding.Finding
				if left <= 0 {
					r = p.Report(c.Stretch, []string{c.Name.Text, pl.Name.Text}, "the half hole of %s at %s stands on the plating %s, of another net; %s asks for at least %s between them %s", c.Name.Text, length(at), pl.Name.Text, need.Who, need.Quantity, need.From())
				} else {
					r = p.Report(c.Stretch, []string{c.Name.Text, pl.Name.Text}, "%s", tooSmall(what, length(left), need))
				}
				related(r, pl.Name.At, "the plating, net %s", pl.Net.Text)
				relatedLimit(r, need)
			}
		}
	},
}

// holesToPlating is the least distance along the edge from a half hole of
// another net to a plating, and the position of that hole.
func holesToPlating(p *checks.Pass, c *board.Castellation, pl *board.Plating, reach float64) (least, at float64) {
	least = math.Inf(1)
	wall, l := p.Board.Wall(c.Edge.Profile), c.Edge.Profile.Path.Perimeter()
	for i, centre := range c.Centres {
		net := c.NetOf(i)
		if net.Given() && net.Text == pl.Net.Text {
			continue
		}
		from, to := c.Edge.Range(centre-c.Hole.Value/2, centre+c.Hole.Value/2)
		wall.PlatedIn(from-reach, to+reach, func(s board.Stretch) {
			if d := figures.Apart(from, to, s.From, s.To, l); s.Plating == pl && d < least {
				least, at = d, centre
			}
		})
	}
	return least, at
}
