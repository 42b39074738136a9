package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/finding"
)

var spanShort = &checks.Rule{
	Name: "span_short", Group: checks.GroupPlating, Category: finding.Risky,
	Finds:  "A plated stretch is shorter than `span_length`; one ends at the root of a premetallised tab too, under which there is no wall.",
	Why:    "A short island of plating has little to hold on to and is torn at both ends by the final router.",
	Limits: []string{"span_length"},
	Source: "common practice, no source",
	Bad:    platedWith("gap g1 of wall on east from 10 mm to 13 mm", "gap g2 of wall on east from 14.9 mm to 20 mm"),
	Good:   platedWith("gap g1 of wall on east from 10 mm to 13 mm", "gap g2 of wall on east from 15 mm to 20 mm"),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("span_length")
		for _, profile := range p.Board.Profiles() {
			for _, whole := range p.Board.Wall(profile).Plated {
				for s := range p.Board.Walled(whole) {
					if !p.Weighs() && !below(s.Length(), need.Value) {
						continue
					}
					at := alongAt(s.Plating, profile, (s.From+s.To)/2).At
					what := fmt.Sprintf("stretch of plating %s, %s,", s.Plating.Name.Text, s.Where())
					if !lacks(p, need, at, length(s.Length()), func() string { return what }) {
						continue
					}
					r := p.Report(at, []string{s.Plating.Name.Text}, "%s", tooSmall(what, length(s.Length()), need))
					relatedLimit(r, need)
				}
			}
		}
	},
}
