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
			over   string
			face   board.Face
			clause string
		}
		clauses := []struct {
			name string
			of   func(*board.Relief) board.Value
		}{
			{"reach", func(x *board.Relief) board.Value { return x.Reach }},
			{"margin", func(x *board.Relief) board.Value { return x.Margin }},
		}
		first := map[place]*board.Relief{} // that states it
		for _, x := range p.Board.Reliefs() {
			said := map[*board.Relief]bool{x: true} // once for two reliefs, of one face and one clause
			for _, f := range x.Faces {
				for _, c := range clauses {
					b, k := c.of(x), place{x.Over.Text, f, c.name}
					if !b.Given() {
						continue
					}
					y := first[k]
					if y == nil {
						first[k] = x
						continue
					}
					a := c.of(y)
					if said[y] || a.Value == b.Value {
						continue
					}
					said[y] = true
					one, two := quantity.Pair(a.Quantity, b.Quantity)
					over := "castellation "
					if p.Board.PlatingNamed(x.Over.Text) != nil {
						over = "plating "
					}
					r := p.Report(b.At, []string{x.Name.Text, y.Name.Text}, "reliefs %s and %s are both over %s on %s and state a %s of %s and one of %s", y.Name.Text, x.Name.Text, over+x.Over.Text, f, c.name, one, two)
					related(r, a.At, "the other relief's")
				}
			}
		}
	},
}
