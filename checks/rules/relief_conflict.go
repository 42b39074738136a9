package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

var reliefConflict = &checks.Rule{
	Name: "relief_conflict", Group: checks.GroupMask, Category: finding.Risky,
	Finds:  "Two reliefs over one plating or row of half holes have different reaches, or margins, on one face in one place; what one does not state counts as what it comes to.",
	Why:    "There is one opening there. The mask layer shows the larger, the notes ask for both, and the shop must guess which is meant.",
	Source: "common practice, no source",
	Bad:    platedWith("relief lid over wall on top bottom reach 1 mm", "relief more over wall on top reach 1.2 mm"),
	Good:   platedWith("relief lid over wall on bottom reach 1 mm", "relief more over wall on top reach 1.2 mm"),
	Run: func(p *checks.Pass) {
		type place struct {
			over string
			face board.Face
		}
		before := map[place][]*board.Relief{} // those that are for a part alone, and of each reach and margin the first
		said := map[[2]*board.Relief]bool{}   // once for two reliefs
		for _, x := range p.Board.Reliefs() {
			for _, f := range x.Faces {
				for _, over := range x.Over {
					k := place{over.Text, f}
					same := false
					for _, y := range before[k] {
						clause, a, b := openedApart(p, y, x, over.Text, f)
						same = same || clause == "" && len(x.Along) == 0 && len(y.Along) == 0
						if clause == "" || said[[2]*board.Relief{y, x}] || !x.Meets(y) {
							continue
						}
						said[[2]*board.Relief{y, x}] = true
						openedTwice(p, y, x, over.Text, f, clause, a, b)
						break
					}
					if !same {
						before[k] = append(before[k], x)
					}
				}
			}
		}
	},
}

// openedApart tells in which clause two reliefs open differently over something on a
// face, and how far each; "" where in none.
func openedApart(p *checks.Pass, x, y *board.Relief, over string, f board.Face) (clause string, a, b board.Value) {
	shop := p.Limits.MaskMargin()
	as := func(v board.Value, nm float64) board.Value {
		if v.Given() {
			return v
		}
		return board.Value{Quantity: quantity.Nanometres(nm)}
	}
	a, b = as(x.Reach, p.Board.ReachOver(x, over, f, shop)), as(y.Reach, p.Board.ReachOver(y, over, f, shop))
	if a.Value != b.Value {
		return "reach", a, b
	}
	a, b = as(x.Margin, shop), as(y.Margin, shop)
	if a.Value != b.Value {
		return "margin", a, b
	}
	return "", a, b
}

func openedTwice(p *checks.Pass, x, y *board.Relief, over string, f board.Face, clause string, a, b board.Value) {
	kind := "castellation "
	if p.Board.PlatingNamed(over) != nil {
		kind = "plating "
	}
	at := func(r *board.Relief, v board.Value) source.Place {
		if v.Given() {
			return v.At
		}
		return r.Name.At
	}
	one, two := quantity.Pair(a.Quantity, b.Quantity)
	r := p.Report(at(y, b), []string{y.Name.Text, x.Name.Text}, "reliefs %s and %s are both over %s on %s, with a %s of %s and one of %s", x.Name.Text, y.Name.Text, kind+over, f, clause, one, two)
	related(r, at(x, a), "the other relief's")
}
