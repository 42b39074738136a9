package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
)

var outlineCrosses = &checks.Rule{
	Name: "outline_crosses", Group: checks.GroupShape, Category: finding.Unbuildable,
	Finds:  "An outline or cutout crosses or touches itself.",
	Why:    "What lies inside a path that crosses itself is a matter of opinion; a router and a viewer may hold different ones.",
	Source: "the Gerber layer format specification asks for a profile of one simple contour",
	Bad:    "outline {\n  start (0 mm, 0 mm)\n  line a to (60 mm, 0 mm)\n  line b to (0 mm, 40 mm)\n  line c to (40 mm, 40 mm)\n  close d\n}\n",
	Good:   "outline {\n  start (0 mm, 0 mm)\n  line a to (60 mm, 0 mm)\n  line b to (60 mm, 40 mm)\n  line c to (0 mm, 40 mm)\n  close d\n}\n",
	Run: func(p *checks.Pass) {
		for _, profile := range p.Board.Profiles() {
			for _, c := range crossings(p, profile) {
				a, b := edgeBefore(profile, c.I), edgeBefore(profile, c.J)
				at, other := later(a.At, b.At)
				x := p.Report(at, []string{profile.Name}, "%s meets itself at %s, where %s and %s cross or touch", profileNamed(profile.Name, profile.Cutout), board.Coordinates(c.At), a.Name, b.Name)
				related(x, other, "the other piece")
			}
		}
	},
}

// edgeBefore is the edge that a profile's segment is of; of a round the edge before it.
func edgeBefore(p *board.Profile, i int) *board.Edge {
	for n := len(p.Path.Segments()); ; i = (i + n - 1) % n {
		if e := p.EdgeAt(middleOf(p, i)); e != nil {
			return e
		}
	}
}

// middleOf is the middle of a profile's segment, along its path.
func middleOf(p *board.Profile, i int) float64 {
	return p.Path.Start(i) + p.Path.Segments()[i].Length()/2
}

// crossings lists where a profile meets itself; only a drawn one can.
func crossings(p *checks.Pass, profile *board.Profile) []geom.Crossing {
	if profile.Kind != "start" {
		return nil
	}
	type key struct{ *board.Profile }
	return checks.Once(p, key{profile}, func() []geom.Crossing { return profile.Path.Crossings(board.Tolerance) })
}
