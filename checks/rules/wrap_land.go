package rules

import (
	"slices"
	"strings"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var wrapLand = &checks.Rule{
	Name: "wrap_land", Group: checks.GroupPlating, Category: finding.Unbuildable,
	Finds:  "A wrap is there, but turns over its face by less than `wrap_land`; or by so little that nothing of it is left at worst, the profile off by the tolerance of `outline`, a cutout's by that of `cutouts`.",
	Why:    "The land on the face is what holds the wall. Where it is too narrow, the plating peels off at the edge when the board is routed, handled or soldered.",
	Limits: []string{"wrap_land"},
	Source: "a fabricator's column on edge plating (trade magazine, March 2022, p. 56–58): 15 mil on each face",
	Bad:    plated(`wrap top 0.3 mm`, `wrap bottom 0.8 mm`),
	Good:   plated(`wrap top 0.381 mm`, `wrap bottom 0.8 mm`),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("wrap_land")
		for _, pl := range p.Board.Platings() {
			for _, w := range pl.Wraps() {
				if w.Width.Value == 0 {
					continue // none at all is wrap_missing's
				}
				what := "wrap on " + w.On()
				if !held(p, below(w.Width.Value, need.Value), func() checks.Margin {
					m := checks.Margin{At: w.Width.At, What: what, Value: w.Width.Quantity, Limit: need, Against: need.Quantity}
					return atWorstOf(p, m, thinnestProfile(p, pl)...)
				}) {
					for _, a := range pl.Along {
						if reportNothingLeft(p, w.Width.At, []string{pl.Name.Text}, what, w.Width.Value, ofProfile(p.Board, a.Edge.Profile)...) != nil {
							break
						}
					}
					continue
				}
				x := p.Report(w.Width.At, []string{pl.Name.Text}, "%s", tooSmall(what, w.Width.Quantity, need))
				relatedLimit(x, need)
				up := upTo(need.Quantity, w.Width.Unit)
				if !slices.ContainsFunc(w.Faces, func(f board.Face) bool { return !wrapFits(p, pl, f, up.Value) }) {
					x.Fix = p.Edit("widen the wrap: "+sayLeast(need, up, w.Width.Unit), w.Width.At, "wrap "+strings.ReplaceAll(w.On(), " and ", " ")+" "+written(up, w.Width.Unit))
				}
			}
		}
	},
}

// thinnestProfile are the moves of the profile, of those that a plating runs along, that is off by most.
func thinnestProfile(p *checks.Pass, pl *board.Plating) (most []move) {
	least := -1.0
	for _, a := range pl.Along {
		moves := ofProfile(p.Board, a.Edge.Profile)
		if _, sum, _ := leavesNothing(p, 0, moves); sum > least {
			most, least = moves, sum
		}
	}
	return most
}

// written is a quantity as an author would write it: in the unit given if it
// comes out exact in it with few decimals, else in millimetres.
func written(q quantity.Quantity, unit *quantity.Unit) string {
	if unit != nil && unit.Dim == q.Dim {
		if s, ok := q.Exact(unit, 4); ok {
			return s
		}
	}
	if s, ok := q.Exact(quantity.Millimetre, 9); ok && q.Dim == quantity.Length {
		return s
	}
	return q.String()
}
