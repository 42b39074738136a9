package checks

import (
	"fmt"

	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var wrapLand = &Rule{
	Name: "wrap_land", Group: GroupPlating, Category: finding.Unbuildable,
	Finds:  "A wrap is there, but turns over its face by less than `wrap_land`.",
	Why:    "The land on the face is what holds the wall. Where it is too narrow, the plating peels off at the edge when the board is routed, handled or soldered.",
	Limits: []string{"wrap_land"},
	Source: "a fabricator's column on edge plating (trade magazine, March 2022, p. 56–58): 15 mil on each face",
	Bad:    plated(`wrap top 0.3 mm`, `wrap bottom 0.8 mm`),
	Good:   plated(`wrap top 0.381 mm`, `wrap bottom 0.8 mm`),
	run: func(p *Pass) {
		need := p.Limits.Minimum("wrap_land")
		for _, pl := range p.Board.Platings {
			for _, f := range board.Faces {
				w := pl.Wrap[f]
				if !w.Given() || w.Value == 0 || !below(w.Value, need.Value) {
					continue // none at all is wrap_missing's
				}
				x := p.report(w.At, []string{pl.Name.Text}, "%s", tooSmall(fmt.Sprintf("wrap on %s", f), w.Quantity, need))
				relatedLimit(x, need)
				x.Fix = edit("widen the wrap", w.At, fmt.Sprintf("wrap %s %s", f, written(need.Quantity, w.Unit)))
			}
		}
	},
}

// written is a quantity as the language writes it, in a unit that it comes
// out exact in if there is one.
func written(q quantity.Quantity, unit *quantity.Unit) string {
	if s := q.As(unit); exact(s) {
		return s.String()
	}
	for more := 0; more < 6; more++ {
		if r := q.As(quantity.Millimetre); exact(r) || more == 5 {
			return r.Text(more)
		}
	}
	return q.String()
}

// exact tells whether a quantity's short form means the very same value.
func exact(q quantity.Quantity) bool { return builtIn(q.String()).Value == q.Value }
