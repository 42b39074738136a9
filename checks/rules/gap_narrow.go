package rules

import (
	"fmt"
	"math"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var gapNarrow = &checks.Rule{
	Name: "gap_narrow", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "A bare stretch between two plated ones of one net is narrower than `gap_width`.",
	Why:    "The gap is cut by the final router after plating, so it cannot be narrower than the bit, and a bit that just fits tears the copper at both ends.",
	Limits: []string{"gap_width"},
	Source: "at least the final router bit, 1 to 3 mm; common practice",
	Bad:    platedWith("gap g of wall on east at middle width 1.9 mm"),
	Good:   platedWith("gap g of wall on east at middle width 2 mm"),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("gap_width")
		for _, profile := range p.Board.Profiles() {
			wall := p.Board.Wall(profile)
			if len(wall.Plated) == 0 {
				continue // an opening that nothing plates is no gap
			}
			for _, s := range wall.Bare {
				if !p.Weighs() && !below(s.Length(), need.Value) || partsNets(wall, s) {
					continue
				}
				at, on, what := profile.At, []string{profile.Name}, "bare stretch "+s.Where()
				if g := gapAt(p, s); g != nil {
					what = fmt.Sprintf("bare stretch at %s, %s,", g.Title(), s.Where())
					at, on = g.Stretch, []string{g.Name.Text}
				} else if beside := besides(wall, s); len(beside) > 0 {
					a, b := beside[0], beside[len(beside)-1]
					at, _ = later(alongAt(a.Plating, profile, s.To).At, alongAt(b.Plating, profile, s.From).At)
					if on = []string{a.Plating.Name.Text}; b.Plating != a.Plating {
						on = append(on, b.Plating.Name.Text)
					}
				}
				if !lacks(p, need, at, length(s.Length()), func() string { return what }) {
					continue
				}
				r := p.Report(at, on, "%s", tooSmall(what, length(s.Length()), need))
				relatedLimit(r, need)
				if g := gapAt(p, s); g != nil && math.Abs(g.To-g.From-s.Length()) <= board.Tolerance {
					r.Fix = widen(p, g, need.Value)
				}
			}
		}
	},
}

// besides lists the plated stretches that a bare one lies between.
func besides(wall *board.Wall, s board.Stretch) []board.Stretch {
	var list []board.Stretch
	wall.PlatedIn(s.From, s.To, func(b board.Stretch) { list = append(list, b) })
	return list
}

// partsNets tells whether a bare stretch lies between two nets, which is net_conflict's.
func partsNets(wall *board.Wall, s board.Stretch) bool {
	for _, b := range besides(wall, s) {
		for _, c := range besides(wall, s) {
			if b.Plating.Net.Text != c.Plating.Net.Text {
				return true
			}
		}
	}
	return false
}
