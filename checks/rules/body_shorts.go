package rules

import (
	"slices"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/finding"
)

var bodyShorts = &checks.Rule{
	Name: "body_shorts", Group: checks.GroupConnectors, Category: finding.Unbuildable,
	Finds:  "A connector's body stands on plated stretches, or on their wraps, of two nets.",
	Why:    "The body is metal: soldered or screwed on, it joins the two walls.",
	Source: "common practice, no source",
	Bad: platedWith(otherWall("from 0 mm to 10 mm"), "gap apart of wall on east from 0 mm to 13 mm", "connector jack on east at 12 mm { body 8 mm }",
		"gap launch of wall on east at 11.5 mm width 3 mm for jack"),
	Good: platedWith(otherWall("from 0 mm to 10 mm"), "gap apart of wall on east from 0 mm to 13 mm", "connector jack on east at 18 mm { body 8 mm }",
		"gap launch of wall on east at 18 mm width 3 mm for jack"),
	Run: func(p *checks.Pass) {
		first := map[*board.Connector]*board.Plating{}
		list := slices.Clone(shorts(p)["body_shorts"])
		slices.SortStableFunc(list, func(a, b short) int { return copper.Order(a.other, b.other) })
		for _, s := range list {
			c, pl := s.subject.Item.(*board.Connector), s.other.Item.(*board.Plating)
			if first[c] == nil {
				first[c] = pl
			}
			if pl == first[c] || !otherNet(first[c].Net, pl) {
				continue
			}
			f := p.Report(c.Body.At, []string{c.Name.Text, pl.Name.Text}, "the body of connector %s stands on plating %s%s and plating %s%s, and joins them",
				c.Name.Text, first[c].Name.Text, ofNet(first[c].Net), pl.Name.Text, ofNet(pl.Net))
			related(f, first[c].Name.At, "plating %s", first[c].Name.Text)
			related(f, pl.Name.At, "plating %s", pl.Name.Text)
		}
	},
}
