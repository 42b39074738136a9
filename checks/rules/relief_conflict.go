package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var reliefConflict = &checks.Rule{
	Name: "relief_conflict", Group: checks.GroupMask, Category: finding.Risky,
	Finds:  "Two reliefs over one plating or row of half holes state different reaches, or margins, for one face.",
	Why:    "There is one opening there. The mask layer shows the larger, the notes ask for both, and the shop must guess which is meant.",
	Source: "common practice, no source",
	Bad:    platedWith("relief lid over wall on top bottom reach 1 mm", "relief more over wall on top reach 1.2 mm"),
	Good:   platedWith("relief lid over wall on bottom reach 1 mm", "relief more over wall on top reach 1.2 mm"),
	Run: func(p *checks.Pass) {
		type place struct {
			over string
			face board.Face
		}
		first := map[place]*board.Relief{}
		for _, x := range p.Board.Reliefs() {
			for i, f := range x.Faces {
				k := place{x.Over.Text, f}
				y := first[k]
				if y == nil {
					first[k] = x
					continue
				}
				if i > 0 && first[place{x.Over.Text, x.Faces[0]}] == y && x != y {
					continue // it is said of the other face
				}
				what, a, b := "reach", y.Reach, x.Reach
				if a.Value == b.Value {
					what, a, b = "margin", y.Margin, x.Margin
				}
				if x == y || a.Value == b.Value || !b.Given() || !a.Given() {
					continue
				}
				one, two := quantity.Pair(a.Quantity, b.Quantity)
				r := p.Report(b.At, []string{x.Name.Text, y.Name.Text}, "reliefs %s and %s are both over %s on %s and state a %s of %s and one of %s", y.Name.Text, x.Name.Text, x.Over.Text, f, what, one, two)
				related(r, a.At, "the other relief's")
			}
		}
	},
}
