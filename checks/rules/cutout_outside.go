package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
)

var cutoutOutside = &checks.Rule{
	Name: "cutout_outside", Group: checks.GroupShape, Category: finding.Unbuildable,
	Finds:  "A cutout leaves the board, or two cutouts overlap.",
	Why:    "An opening that runs over the outline is part of the outline, and two that overlap are one: stated as they are, it is not clear what edge there is to plate or to rout.",
	Source: "common practice, no source",
	Bad:    platedWith("cutout window rectangle 10 mm by 6 mm corner 1 mm at (25 mm, 2 mm)"),
	Good:   platedWith("cutout window rectangle 10 mm by 6 mm corner 1 mm at (25 mm, 15 mm)"),
	Run: func(p *checks.Pass) {
		if p.Board.Outline() != nil {
			for _, c := range p.Board.Cutouts() {
				if outside(p.Board.Outline(), c.Profile) {
					p.Report(c.Name.At, []string{c.Name.Text}, "cutout %s leaves the board", c.Name.Text)
				}
			}
		}
		pairs(p.Board.Profiles(), 0, func(a, b *board.Profile) {
			if !a.Cutout || !b.Cutout || !outside(a, b) {
				return
			}
			at, other := later(nameAt(a), nameAt(b))
			f := p.Report(at, []string{a.Name, b.Name}, "cutouts %s and %s overlap", a.Name, b.Name)
			related(f, other, "the other cutout")
		})
	},
}

// outside tells whether an opening is not where it should be with regard to
// another profile: inside an outline, apart from a cutout.
func outside(a, b *board.Profile) bool {
	if _, meet := geom.Cross(a.Path, b.Path, board.Tolerance); meet {
		return true
	}
	within := a.Path.Contains(b.Path.At(0))
	if !a.Cutout {
		return !within
	}
	return within || b.Path.Contains(a.Path.At(0))
}
