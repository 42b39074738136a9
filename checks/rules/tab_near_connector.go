package rules

import (
	"hemline/checks"
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
	Run:    runPairs("tab_near_connector", nil),
}
