package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var connectorsMeet = &checks.Rule{
	Name: "connectors_meet", Group: checks.GroupConnectors, Category: finding.Unbuildable,
	Finds:  "A connector's pin or body lies on what it may not touch: another connector's pin, a half hole, or under a body that says how far it reaches copper of another net.",
	Why:    "A body is metal on the wall's net: what it stands on is shorted to it through the mask. Two parts do not fit on one place.",
	Source: "common practice, no source",
	Bad:    platedWith(reaching, "feature c7 on top rectangle 1 mm by 1 mm at (2 mm, 18 mm) net V5"),
	Good:   platedWith(reaching, "feature c7 on top rectangle 1 mm by 1 mm at (3.6 mm, 18 mm) net V5"),
	Run:    runPairs("connectors_meet", nil),
}

// reaching is a connector whose body stands over the board, in its gap.
const reaching = `connector antenna on west at middle {
  body 9.5 mm reach 3 mm
  pin top width 1.3 mm length 4 mm
}
gap launch of wall on west at middle width 5 mm for antenna bridged`
