package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/source"
)

var reliefIdle = &checks.Rule{
	Name: "relief_idle", Group: checks.GroupMask, Category: finding.Tidy,
	Finds:  "A relief lies over nothing: its plating has no plated stretch, or no wrap on a face that it names; or it names an edge on which what it is over has no copper.",
	Why:    "Either the relief or the plating is not what its author thinks it is.",
	Source: "common practice, no source",
	Bad:    platedWith("gap all of wall on west from 0 mm to west.length", "gap all2 of wall on east from 0 mm to east.length", "relief lid over wall on top bottom reach 1 mm"),
	Good:   platedWith("relief lid over wall on top bottom reach 1 mm"),
	Run: func(p *checks.Pass) {
		for _, x := range p.Board.Reliefs() {
			for _, over := range x.Over {
				if !overNothing(p, x, over) {
					alongNothing(p, x, over)
				}
			}
		}
	},
}

// overNothing finds that nothing of a plating is there for a relief to open.
func overNothing(p *checks.Pass, x *board.Relief, over board.Name) bool {
	pl := p.Board.PlatingNamed(over.Text)
	if pl == nil || pl.Faulty || p.Board.Outline() == nil {
		return false // where it runs is not known
	}
	if !p.Board.Runs(pl) {
		r := p.Report(over.At, []string{x.Name.Text, pl.Name.Text}, "relief %s lies over nothing: plating %s has no plated stretch", x.Name.Text, pl.Name.Text)
		related(r, pl.Name.At, "the plating")
		return true
	}
	for _, f := range x.Faces {
		if pl.Wrap[f].Value == 0 {
			r := p.Report(over.At, []string{x.Name.Text, pl.Name.Text}, "relief %s lies over nothing on %s: plating %s has no wrap there", x.Name.Text, f, pl.Name.Text)
			related(r, pl.Name.At, "the plating")
		}
	}
	return false
}

// alongNothing finds the edges that a relief names and that something it is over
// has no copper on.
func alongNothing(p *checks.Pass, x *board.Relief, over board.Name) {
	var at source.Place
	kind := "plating "
	if pl := p.Board.PlatingNamed(over.Text); pl != nil {
		if pl.Faulty {
			return
		}
		at = pl.Name.At
	} else {
		c := p.Board.CastellationNamed(over.Text)
		if c == nil {
			return
		}
		kind, at = "castellation ", c.Name.At
		for _, f := range x.Faces {
			if !p.Board.LandsOn(c, p.Board.OuterLayer(f)) {
				r := p.Report(over.At, []string{x.Name.Text, over.Text}, "relief %s lies over nothing on %s: castellation %s has no lands there", x.Name.Text, f, over.Text)
				related(r, at, "the castellation")
			}
		}
	}
	for _, a := range x.Along {
		if a.All || p.Board.CopperOf(over.Text, a) {
			continue
		}
		r := p.Report(a.At, []string{x.Name.Text, over.Text}, "relief %s names edge %s, where %s has no copper", x.Name.Text, a.Edge.Name, kind+over.Text)
		related(r, at, "%s", kind+over.Text)
	}
}
