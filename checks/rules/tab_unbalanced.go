package rules

import (
	"strings"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
)

var tabUnbalanced = &checks.Rule{
	Name: "tab_unbalanced", Group: checks.GroupTabs, Category: finding.Risky,
	Finds:  "The board's mass centre does not lie strictly inside the hull of the tabs' middles on the profile.",
	Why:    "A board held on one side only hangs from its tabs, sags in the oven and turns in the bath. The mass is the bare board's; parts are not known.",
	Source: "statics: a body rests only if its mass centre lies inside its supports; the rest common practice",
	Bad:    strings.Replace(platedWith("fabricator shop { limit tab_spacing maximum 200 mm }"), "tab t3 on north at middle", "tab t3 on south at middle", 1),
	Good:   platedWith(),
	Run: func(p *checks.Pass) {
		region, ok := p.Board.Region()
		tabs := figures.OutlineTabs(p.Board)
		if !ok || len(tabs) == 0 || p.Board.States("tab") != len(p.Board.Tabs()) {
			return
		}
		points := make([]geom.Point, len(tabs))
		for i, t := range tabs {
			points[i] = t.Edge.Point(t.Position)
		}
		centre := region.Centroid()
		if geom.StrictlyInside(geom.Hull(points), centre, board.Tolerance) {
			return
		}
		p.Report(tabs[0].Name.At, []string{tabs[0].Name.Text}, "the mass centre at %s is not inside the hull of the tabs: the board is held on one side only", board.Coordinates(centre))
	},
}
