package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var reliefMissing = &checks.Rule{
	Name: "relief_missing", Group: checks.GroupMask, Category: finding.Risky,
	Finds:  "A wrap has no relief on a face where the opposite face has one.",
	Why:    "Mask on the wrap keeps the housing from touching and the solder from wetting. Nothing is worked out from a note.",
	Source: "a fabricator's fabrication-drawing guide; common practice",
	Bad:    platedWith("relief lid over wall on top reach 1 mm"),
	Good:   platedWith("relief lid over wall on top bottom reach 1 mm"),
	Run: func(p *checks.Pass) {
		for _, pl := range p.Board.Platings() {
			var relieved [2]*board.Relief
			for _, x := range p.Board.Reliefs() {
				if x.Lies(pl.Name.Text) {
					for _, f := range x.Faces {
						relieved[f] = x
					}
				}
			}
			for _, f := range board.Faces {
				other := relieved[1-f]
				if other == nil || relieved[f] != nil || pl.Wrap[f].Value == 0 || p.Board.States("relief") != len(p.Board.Reliefs()) {
					continue
				}
				r := p.Report(pl.Wrap[f].At, []string{pl.Name.Text}, "the wrap of plating %s on %s has no relief, its wrap on %s has one: mask covers the first", pl.Name.Text, f, 1-f)
				related(r, other.Name.At, "the relief on the other face")
			}
		}
	},
}
