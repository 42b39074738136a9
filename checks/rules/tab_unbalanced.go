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
	Finds:  "The centre of mass of the board, with the parts whose mass is stated, lies outside the polygon that the tabs' middles span on the outline, or on its edge; or it lies inside, and the tabs so nearly on one line that what each carries cannot be told.",
	Why:    "Such a board can tip: it hangs from its tabs or turns about the line between two of them, sags in the oven and swings in the bath. The mass is the laminate's, the copper's as far as the text states it, and that of parts and connectors that state theirs; without a thickness the centre is the outline's.",
	Source: "statics: a body rests only if its centre of mass lies inside its supports' polygon; the rest common practice",
	Bad:    strings.Replace(platedWith("fabricator shop { limit tab_spacing maximum 200 mm }"), " on north at", " on south at", 3),
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
		if mass, known := figures.MassOf(p.Board); known {
			centre = mass.Centre
		}
		untold := carriedBy(p).Unknown == figures.NearlyOneLine
		hull := geom.Hull(points)
		if geom.StrictlyInside(hull, centre, board.Tolerance) {
			if untold {
				p.Report(tabs[0].Name.At, []string{tabs[0].Name.Text}, "%s: set one of them farther off the line", figures.NearlyOneLine)
			}
			return
		}
		where := "on the edge of the tabs' polygon"
		_, _, off := geom.Polygon(hull...).Nearest(centre)
		if d := length(off); above(d.Value, 0) {
			where = d.String() + " outside the tabs' polygon"
		}
		also := ""
		if untold {
			also = "; what each tab carries cannot be told, so nearly on one line they lie"
		}
		p.Report(tabs[0].Name.At, []string{tabs[0].Name.Text}, "the board's centre of mass at %s lies %s: the board can tip; it must lie inside%s", board.Coordinates(centre), where, also)
	},
}
