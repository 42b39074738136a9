package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var perforationWeb = &checks.Rule{
	Name: "perforation_web", Group: checks.GroupTabs, Category: finding.Unbuildable,
	Finds:  "The board left between a perforation's holes, where they are, is less than `perforation_web`. On an arc a row inside the profile has its holes nearer to each other than the pitch, which counts along the edge.",
	Why:    "Holes that nearly meet make the drill wander, and the row becomes a slot before it should.",
	Limits: []string{"perforation_web"},
	Source: "published tab rules, at least 0.25 mm; common practice",
	Bad:    platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 0.7 mm"),
	Good:   platedWith("tab t4 on north at 12 mm width 3 mm perforated hole 0.5 mm pitch 0.75 mm"),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("perforation_web")
		for _, t := range p.Board.Tabs() {
			what := func() string { return "board left between the holes of tab " + t.Name.Text }
			if web := webOf(t); t.HoleCount() > 1 && lacks(p, need, t.Pitch.At, length(web, t.Pitch), what) {
				f := p.Report(t.Pitch.At, []string{t.Name.Text}, "%s", tooSmall(what(), length(web, t.Pitch), need))
				relatedLimit(f, need)
			}
		}
	},
}

// webOf is the least board left between two neighbouring holes of a tab, nm. The
// pitch counts along the edge: on an arc the holes, inside it, are nearer.
func webOf(t *board.Tab) float64 {
	least := t.Pitch.Value
	if onArc(t) {
		for k := range t.HoleCount() - 1 {
			least = min(least, t.HoleAt(k).Dist(t.HoleAt(k+1)))
		}
	}
	return least - t.Hole.Value
}
