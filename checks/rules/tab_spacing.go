package rules

import (
	"cmp"
	"fmt"
	"slices"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var tabSpacing = &checks.Rule{
	Name: "tab_spacing", Group: checks.GroupTabs, Category: finding.Risky,
	Finds:  "Edges are plated and two neighbouring tabs lie farther apart along the outline than `tab_spacing`, middle to middle. Where the shop states none, a thin board's may be less far apart, and those with any plating on the outline between them less far than others.",
	Why:    "The free edge between them swings in the bath and in the router's wake, and its plating cracks. Of a board that states no thickness, what a thick one may have is asked.",
	Limits: []string{"tab_spacing"},
	Source: "25 to 38, 51 to 63 and 63 to 76 mm on plain boards of 0.51, 0.79 and 1.57 mm (industry mailing list on printed boards, 1997); 50.8 mm along plated edges (a fabricator's column on edge plating, trade magazine, March 2022), 25 and 40 mm on thin boards common practice, no source",
	Bad:    shop("limit tab_spacing maximum 45 mm") + platedWith(),
	Good:   shop("limit tab_spacing maximum 46 mm") + platedWith(),
	Run: func(p *checks.Pass) {
		tabs := figures.OutlineTabs(p.Board)
		if len(tabs) < 2 || p.Board.States("tab") != len(p.Board.Tabs()) || len(p.Board.Wall(p.Board.Outline()).Plated) == 0 {
			return
		}
		thickness, _ := p.Board.Thickness()
		wall := p.Board.Wall(p.Board.Outline())
		l := p.Board.Outline().Path.Perimeter()
		slices.SortStableFunc(tabs, func(a, b *board.Tab) int { return cmp.Compare(a.Edge.Along(a.Position), b.Edge.Along(b.Position)) })
		for i, a := range tabs {
			b := tabs[(i+1)%len(tabs)]
			d := b.Edge.Along(b.Position) - a.Edge.Along(a.Position)
			if i == len(tabs)-1 {
				d += l
			}
			from := a.Edge.Along(a.Position)
			most := p.Limits.TabSpacing(thickness, board.Overlap(wall, from, from+d) > board.Tolerance)
			way, round := "along the outline", ""
			if d > l/2+board.Tolerance { // they stand nearer each other the other way
				way, round = "the long way round the outline, with no tab on it", ", the long way round,"
			}
			at, other := later(a.PositionAt, b.PositionAt)
			if !exceeds(p, most, at, length(d), func() string {
				return fmt.Sprintf("the way from tab %s to tab %s along the outline%s", a.Name.Text, b.Name.Text, round)
			}) {
				continue
			}
			apart, allowed := quantity.Pair(inHundredths(d, most.Value), most.Quantity)
			f := p.Report(at, []string{a.Name.Text, b.Name.Text}, "tabs %s and %s are %s apart %s; %s allows at most %s %s", a.Name.Text, b.Name.Text, apart, way, most.Who, allowed, most.From())
			related(f, other, "the neighbouring tab")
			relatedLimit(f, most)
		}
	},
}
