package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/finding"
)

var tabNearConnector = &checks.Rule{
	Name: "tab_near_connector", Group: checks.GroupTabs, Category: finding.Risky,
	Finds:  "A tab's side lies nearer than `tab_connector` to a connector's body.",
	Why:    "Snapping or routing the tab strains the connector's joints, and the stub that stays keeps its mate from seating.",
	Limits: []string{"tab_connector"},
	Source: "100 mil target, an assembly column on tab positions",
	Bad:    nearJack("14.9 mm"),
	Good:   nearJack("15 mm"),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("tab_connector")
		for _, t := range p.Board.Tabs() {
			from, to := figures.TabRange(t)
			for _, c := range p.Board.Connectors() {
				if c.Edge.Profile != t.Edge.Profile {
					continue
				}
				bFrom, bTo := c.Edge.Range(c.Span())
				d := figures.Apart(from, to, bFrom, bTo, t.Edge.Profile.Path.Perimeter())
				if !below(d, need.Value) {
					continue
				}
				f := p.Report(t.PositionAt, []string{t.Name.Text, c.Name.Text}, "%s", tooSmall(fmt.Sprintf("from tab %s to the body of %s", t.Name.Text, c.Name.Text), length(d, t.Width), need))
				related(f, c.Body.At, "the connector's body")
				relatedLimit(f, need)
			}
		}
	},
}
