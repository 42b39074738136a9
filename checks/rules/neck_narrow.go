package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/source"
)

var neckNarrow = &checks.Rule{
	Name: "neck_narrow", Group: checks.GroupShape, Category: finding.Risky,
	Finds:  "The board left between two openings, or between an opening and the outline, is narrower than `neck`.",
	Why:    "A narrow neck breaks in the rout, or when the board is plated, snapped out or clamped.",
	Limits: []string{"neck"},
	Source: "common practice, no source",
	Bad:    platedWith("cutout window rectangle 10 mm by 6 mm corner 1 mm at (25 mm, 3.9 mm)"),
	Good:   platedWith("cutout window rectangle 10 mm by 6 mm corner 1 mm at (25 mm, 4 mm)"),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("neck")
		profiles := p.Board.Profiles()
		pairs(profiles, need.Value, func(a, b *board.Profile) {
			if outside(a, b) {
				return // cutout_outside's
			}
			d, at, _ := geom.LoopDistance(a.Path, b.Path)
			if d <= board.Tolerance || !below(d, need.Value) {
				return
			}
			place, other := later(nameAt(a), nameAt(b))
			f := p.Report(place, profileItems(a, b), "%s", tooSmall(fmt.Sprintf("board left between %s and %s at %s", a.Name, b.Name, board.Coordinates(at)), length(d), need))
			related(f, other, "the other side of the neck")
			relatedLimit(f, need)
		})
	},
}

// profileItems are what a finding between two profiles is on: the cutouts; the
// outline is no second item.
func profileItems(a, b *board.Profile) []string {
	switch {
	case !a.Cutout:
		return []string{b.Name}
	case !b.Cutout:
		return []string{a.Name}
	}
	return []string{a.Name, b.Name}
}

// nameAt is where a profile is named.
func nameAt(p *board.Profile) source.Place {
	if p.Cutout {
		return p.Edges[0].At
	}
	return p.At
}

// pairs calls visit with every two profiles whose boxes come within reach.
func pairs(profiles []*board.Profile, reach float64, visit func(a, b *board.Profile)) {
	if len(profiles) < 2 {
		return
	}
	boxes := make([]geom.Box, len(profiles))
	for i, p := range profiles {
		boxes[i] = p.Path.Box()
	}
	index := geom.NewIndex(boxes)
	for i, p := range profiles {
		index.Search(boxes[i].Grow(reach), func(j int) bool {
			if j > i {
				visit(p, profiles[j])
			}
			return true
		})
	}
}
