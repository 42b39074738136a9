package rules

import (
	"slices"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var finishUnavailable = &checks.Rule{
	Name: "finish_unavailable", Group: checks.GroupPlating, Category: finding.Risky,
	Finds:  "The plating's `finish`, or for a plating that states none the board's, or a castellation's own, is not among those that the fabricator states for edges.",
	Why:    "A shop may put a finish on pads that it does not put on walls: hot-air levelled solder drips on a wall, silver tarnishes on a bare one. Silent where the fabricator states none.",
	Source: "common practice, no source",
	Bad:    shop("finishes ENIG ImmAg") + plated(append([]string{"finish HASL"}, wholeWraps...)...),
	Good:   shop("finishes ENIG ImmAg") + plated(append([]string{"finish ENIG"}, wholeWraps...)...),
	Run: func(p *checks.Pass) {
		shop := p.Limits.Shop()
		if shop == nil || len(shop.Finishes) == 0 {
			return
		}
		var known []string
		for _, f := range shop.Finishes {
			known = append(known, f.Text)
		}
		held := func(what string, name, own, finish board.Name) {
			if !finish.Given() || slices.Contains(known, finish.Text) {
				return
			}
			at, whose := finish.At, ""
			if !own.Given() {
				at, whose = name.At, ", as all of the board"
			}
			r := p.Report(at, []string{name.Text}, "%s %s is to be finished in %s%s; fabricator %s puts %s on plated edges", what, name.Text, finish.Text, whose, shop.Name.Text, joined(known))
			if !own.Given() {
				related(r, finish.At, "the board's finish")
			}
			related(r, shop.Finishes[0].At, "what fabricator %s offers on edges", shop.Name.Text)
		}
		for _, pl := range p.Board.Platings() {
			held("plating", pl.Name, pl.Finish, p.Board.FinishOf(pl))
		}
		for _, c := range p.Board.Castellations() {
			if c.Finish.Given() {
				held("castellation", c.Name, c.Finish, c.Finish)
			}
		}
	},
}
