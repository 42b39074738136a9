package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var wallCurrent = &checks.Rule{
	Name: "wall_current", Group: checks.GroupPhysics, Category: finding.Risky,
	Finds:  "The board's `current` is above what the wall carries for its `rise`.",
	Why:    "The wall is a conductor as high as the board and as thick as its plating, and its wraps are one with it, of the foil and the plating as far as the stack says. Planes that it is tied to are not counted: where the current enters all of it runs in the wall. Where that cannot be worked out, as outside the formula's validity (10 to 100 K, up to 35 A, copper of 17.5 to 105 µm), `not_verified` says so. Of thicker copper and of what is wider than 10.16 mm as much counts as the formula reaches.",
	Source: "curve fit to IPC-2221, I = 0.048·ΔT^0.44·A^0.725 with A in square mils; conservative against IPC-2152",
	Bad:    radio2("current 5 A; rise 10 K"),
	Good:   radio2("current 4 A; rise 10 K"),
	Run:    func(p *checks.Pass) { shortOf(p, "current") },
}
