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
	Finds:  "The centre of mass of the board, with the parts whose mass is stated, lies outside the polygon that the tabs' middles span on the outline, or on its edge.",
	Why:    "Such a board can tip: it hangs from its tabs or turns about the line between two of them, sags in the oven and swings in the bath. The mass is the bare board's, and that of parts and connectors that state theirs; without a thickness it is the bare board's alone.",
	Source: "statics: a body rests only if its centre of mass lies inside its supports' polygon; the rest common practice",
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
		if _, c, known := figures.Weight(p.Board); known {
			centre = c
		}
		hull := geom.Hull(points)
		if geom.StrictlyInside(hull, centre, board.Tolerance) {
			return
		}
		where := "on the edge of the tabs' polygon"
		_, _, off := geom.Polygon(hull...).Nearest(centre)
		if d := length(off); above(d.Value, 0) {
			where = d.String() + " outside the tabs' polygon"
		}
		p.Report(tabs[0].Name.At, []string{tabs[0].Name.Text}, "the board's centre of mass at %s lies %s: the board can tip; it must lie inside", board.Coordinates(centre), where)
	},
}
