package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var outlineOpen = &checks.Rule{
	Name: "outline_open", Group: checks.GroupShape, Category: finding.Unbuildable,
	Finds:  "A drawn outline or cutout does not come back to its start.",
	Why:    "An outline that is not closed bounds nothing: the shop cannot tell board from waste, and will ask.",
	Source: "common practice; the Gerber layer format specification asks for a closed profile",
	Bad:    "outline {\n  start (0 mm, 0 mm)\n  line south to (60 mm, 0 mm)\n  line east to (60 mm, 40 mm)\n  line north to (0 mm, 40 mm)\n}\n",
	Good:   "outline {\n  start (0 mm, 0 mm)\n  line south to (60 mm, 0 mm)\n  line east to (60 mm, 40 mm)\n  line north to (0 mm, 40 mm)\n  close west\n}\n",
	Run: func(p *checks.Pass) {
		for _, o := range p.Board.Open() {
			p.Report(o.At, []string{o.Name}, "%s ends at %s, %s from its start at %s; add `close NAME` or a piece that ends there",
				profileNamed(o.Name, o.Name != "outline"), board.Coordinates(o.End), length(o.End.Dist(o.Start)), board.Coordinates(o.Start))
		}
	},
}
