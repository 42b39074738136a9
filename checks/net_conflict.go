package checks

import (
	"fmt"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var netConflict = &Rule{
	Name: "net_conflict", Group: GroupPlating, Category: finding.Unbuildable,
	Finds:  "Plated stretches of two nets touch, overlap, or lie nearer than `gap_width` along the edge.",
	Why:    "One pass of the plating line covers both: two nets on one wall are one net. The final router has to part them, and it needs its own width to do so.",
	Limits: []string{"gap_width"},
	Source: "the gap is cut by the final router bit, 1 to 3 mm; common practice",
	Bad:    platedWith(otherWall("from 0 mm to 20 mm"), "gap apart of wall on east from 0 mm to 21 mm"),
	Good:   platedWith(otherWall("from 0 mm to 19 mm"), "gap apart of wall on east from 0 mm to 21 mm"),
	run: func(p *Pass) {
		need := p.Limits.Minimum("gap_width")
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
					if !below(start-a.To, need.Value) {
						break
					}
					if a.Plating.Net.Text != b.Plating.Net.Text {
						conflict(p, a, b, max(start-a.To, 0), need)
					}
				}
			}
		}
	},
}

func conflict(p *Pass, a, b board.Stretch, apart float64, need Limit) {
	at, other := later(alongAt(a.Plating, a.Profile, a.To).At, alongAt(b.Plating, b.Profile, b.From).At)
	on := []string{a.Plating.Name.Text, b.Plating.Name.Text}
	names := fmt.Sprintf("%s (net %s) and %s (net %s)", a.Plating.Name.Text, a.Plating.Net.Text, b.Plating.Name.Text, b.Plating.Net.Text)
	var r *finding.Finding
	if apart <= board.Tolerance {
		r = p.report(at, on, "%s meet, %s; %s asks for at least %s between them %s", names, spot(b.Profile, b.From), need.Who, need.Quantity, need.from())
	} else {
		r = p.report(at, on, "%s", tooSmall("bare edge between "+names+", "+spot(b.Profile, b.From)+",", length(apart), need))
	}
	related(r, other, "the other net's plating")
	relatedLimit(r, need)
}
