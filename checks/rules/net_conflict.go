package rules

import (
	"fmt"
	"math"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var netConflict = &checks.Rule{
	Name: "net_conflict", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "Plated stretches of two nets touch, overlap, or lie nearer than `gap_width` along the edge, or may touch at worst, each end off by the tolerance of `gaps`.",
	Why:    "One pass of the plating line covers both: two nets on one wall are one net. The final router has to part them, and it needs its own width to do so.",
	Limits: []string{"gap_width"},
	Source: "the gap is cut by the final router bit, 1 to 3 mm; common practice",
	Bad:    platedWith(otherWall("from 0 mm to 20 mm"), "gap apart of wall on east from 0 mm to 21 mm"),
	Good:   platedWith(otherWall("from 0 mm to 19 mm"), "gap apart of wall on east from 0 mm to 21 mm"),
	Least: func(p *checks.Pass, limit string) float64 {
		least := math.Inf(1)
		otherAlong(p, p.Limits.Minimum(limit).Value, func(_, _ board.Stretch, apart float64) { least = min(least, math.Round(apart)) })
		return least
	},
	Run: func(p *checks.Pass) {
		if p.Measures() {
			return // Least tells of them
		}
		need := p.Limits.Minimum("gap_width")
		ends := 2 * p.Limits.Tolerances(p.Board)("gaps").Value
		near := max(leastOfNets(need), ends+2*board.Tolerance)
		if p.Weighs() {
			near += checks.MarginBeyond
		}
		otherAlong(p, near, func(a, b board.Stretch, apart float64) { conflict(p, a, b, apart, need) })
	},
}

// otherAlong calls visit with each two stretches of two nets that follow each
// other along a profile nearer than a distance, the first one first.
func otherAlong(p *checks.Pass, near float64, visit func(a, b board.Stretch, apart float64)) {
	for _, profile := range p.Board.Profiles() {
		list := p.Board.Wall(profile).Plated
		l := profile.Path.Perimeter()
		for i, a := range list {
			for k := 1; k < len(list); k++ {
				j := (i + k) % len(list)
				b := list[j]
				start := b.From
				if j < i {
					start += l
				}
				if !below(start-a.To, near) {
					break
				}
				if otherWalls(a.Plating, b.Plating) {
					visit(a, b, max(start-a.To, 0))
				}
			}
		}
	}
}

// otherWalls tells whether two platings are of two nets, or of none.
func otherWalls(a, b *board.Plating) bool { return a != b && (!b.Net.Given() || otherNet(b.Net, a)) }

func conflict(p *checks.Pass, a, b board.Stretch, apart float64, need checks.Limit) {
	at, other := later(alongAt(a.Plating, a.Profile, a.To).At, alongAt(b.Plating, b.Profile, b.From).At)
	on := []string{a.Plating.Name.Text, b.Plating.Name.Text}
	names := fmt.Sprintf("plating %s%s and plating %s%s", a.Plating.Name.Text, ofNet(a.Plating.Net), b.Plating.Name.Text, ofNet(b.Plating.Net))
	var r *finding.Finding
	what := "bare edge between " + names + ", " + b.Profile.Where(b.From) + ","
	short := held(p, apart <= board.Tolerance || below(apart, leastOfNets(need)), func() checks.Margin {
		m := checks.Margin{At: at, What: what, Value: length(apart), Limit: need, Against: need.Quantity}
		return atWorstOf(p, m, move{"gaps", 2})
	})
	switch {
	case !short:
		if r = reportNothingLeft(p, at, on, what, apart, move{"gaps", 2}); r != nil {
			related(r, other, "the other net's plating")
		}
		return
	case apart <= board.Tolerance:
		r = p.Report(at, on, "%s meet, %s; %s asks for at least %s between them %s", names, b.Profile.Where(b.From), need.Who, need.Quantity, need.From())
	default:
		r = p.Report(at, on, "%s", tooSmall(what, length(apart), need))
	}
	related(r, other, "the other net's plating")
	relatedLimit(r, need)
}
