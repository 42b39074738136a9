package rules

import (
	"hemline/checks"
	"hemline/lang/finding"
)

var reliefIdle = &checks.Rule{
	Name: "relief_idle", Group: checks.GroupMask, Category: finding.Tidy,
	Finds:  "A relief lies over nothing: its plating has no plated stretch, or no wrap on a face that it names.",
	Why:    "Either the relief or the plating is not what its author thinks it is.",
	Source: "common practice, no source",
	Bad:    platedWith("gap all of wall on west from 0 mm to west.length", "gap all2 of wall on east from 0 mm to east.length", "relief lid over wall on top bottom reach 1 mm"),
	Good:   platedWith("relief lid over wall on top bottom reach 1 mm"),
	Run: func(p *checks.Pass) {
		for _, x := range p.Board.Reliefs() {
			pl := p.Board.PlatingNamed(x.Over.Text)
			if pl == nil || pl.Faulty {
				continue
			}
			if !p.Board.Runs(pl) {
				r := p.Report(x.Over.At, []string{x.Name.Text, pl.Name.Text}, "relief %s lies over nothing: plating %s has no plated stretch", x.Name.Text, pl.Name.Text)
				related(r, pl.Name.At, "the plating")
				continue
			}
			for _, f := range x.Faces {
				if pl.Wrap[f].Value == 0 {
					r := p.Report(x.Over.At, []string{x.Name.Text, pl.Name.Text}, "relief %s lies over nothing on %s: plating %s has no wrap there", x.Name.Text, f, pl.Name.Text)
					related(r, pl.Name.At, "the plating")
				}
			}
		}
	},
}
