package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var reliefShort = &checks.Rule{
	Name: "relief_short", Group: checks.GroupMask, Category: finding.Unbuildable,
	Finds:  "A relief reaches inward less than the wrap, or the half holes' land, plus `mask_margin`.",
	Why:    "Mask that is printed up to the copper's edge lands on the copper on every other board: registration is what the margin is for.",
	Limits: []string{"mask_margin"},
	Source: "0.025 to 0.076 mm in fabricators' design rules",
	Bad:    platedWith("relief lid over wall on top bottom reach 0.87 mm"),
	Good:   platedWith("relief lid over wall on top bottom reach 0.875 mm"),
	Run: func(p *checks.Pass) {
		margin := p.Limits.Minimum("mask_margin")
		for _, x := range p.Board.Reliefs() {
			for _, over := range x.Over {
				if x.Reach.Given() {
					reachHeld(p, x, over.Text, margin)
				}
			}
		}
	},
}

// reachHeld holds how far a relief reaches to one of the things that it is over.
func reachHeld(p *checks.Pass, x *board.Relief, over string, margin checks.Limit) {
	copper, what := 0.0, ""
	if pl := p.Board.PlatingNamed(over); pl != nil {
		for _, f := range x.Faces {
			if w := pl.Wrap[f]; w.Value > copper {
				copper, what = w.Value, fmt.Sprintf("the wrap of plating %s on %s", pl.Name.Text, f)
			}
		}
	} else if c := p.Board.CastellationNamed(over); c != nil {
		copper, what = c.LandLength.Value, "the land of castellation "+c.Name.Text
	}
	need := margin
	need.Quantity = quantity.Nanometres(copper + margin.Value)
	if what == "" || !held(p, below(x.Reach.Value, need.Value), func() checks.Margin {
		return checks.Margin{At: x.Reach.At, What: fmt.Sprintf("reach of relief %s, over %s,", x.Name.Text, what), Value: x.Reach.Quantity, Limit: beyond(margin), Against: need.Quantity}
	}) {
		return
	}
	a, b := quantity.Pair(x.Reach.Quantity, need.Quantity)
	r := p.Report(x.Reach.At, []string{x.Name.Text, over}, "relief %s reaches %s inward; %s is %s, and %s asks for %s beyond it, %s in all %s",
		x.Name.Text, a, what, length(copper, x.Reach), margin.Who, margin.Quantity.As(x.Reach.Unit), b, margin.From())
	relatedLimit(r, margin)
	if up := upTo(need.Quantity, x.Reach.Unit); reliefFits(p, x, x.Reach.Value, up.Value) {
		r.Fix = set(p, "widen the opening", x.Reach.At, up, x.Reach.Unit)
	}
}

// beyond is the limit of a mask opening's margin, with what it asks of a reach.
func beyond(margin checks.Limit) checks.Limit {
	margin.Note = margin.Quantity.String() + " beyond that"
	return margin
}
