package rules

import (
	"fmt"
	"strings"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

var wallCopper = &checks.Rule{
	Name: "wall_copper", Group: checks.GroupPlating, Category: finding.Risky,
	Finds:  "The wall's `copper` is under what the board's class asks or the fabricator's limit `wall_copper`, or its `least` under what the class asks.",
	Why:    "Thin copper on a wall cracks with the first change of temperature, and carries less. IPC-6012 asks for 20 µm on average in classes 1 and 2 and 25 µm in class 3. A shop can build it thin all the same, so it is risky and not unbuildable.",
	Limits: []string{"wall_copper"},
	Source: "IPC-6012, average copper of plated holes and walls, from memory and as a fabricator cites it",
	Bad:    strings.Replace(plated(wholeWraps...), "copper 25 um", "copper 18 um", 1),
	Good:   plated(wholeWraps...),
	Run: func(p *checks.Pass) {
		need := wallNeed(p)
		for _, pl := range p.Board.Platings() {
			thinnest(p, pl)
			if !pl.Copper.Given() || !lacks(p, need, pl.Copper.At, pl.Copper.Quantity, func() string { return "copper on the wall of plating " + pl.Name.Text }) {
				continue
			}
			r := p.Report(pl.Copper.At, []string{pl.Name.Text}, "%s", tooSmall("copper on the wall of plating "+pl.Name.Text, pl.Copper.Quantity, need))
			relatedLimit(r, need)
			r.Fix = toLeast(p, "plate the wall thicker", pl.Copper.At, need, pl.Copper.Unit)
		}
	},
}

// wallNeed is the fabricator's limit, or what the class asks where that is more.
func wallNeed(p *checks.Pass) checks.Limit {
	need := p.Limits.Minimum("wall_copper")
	average, _, ok := p.Board.ClassCopper()
	if ok && average > need.Value {
		need.Quantity, need.Who = quantity.Nanometres(average).As(quantity.Micrometre), fmt.Sprintf("class %g", p.Board.Info().Class.Value)
		need.Note, need.At = "IPC-6012, on average", p.Board.Info().Class.At
	}
	return need
}

// thinnest holds the thinnest spot that a plating states to what the class asks there.
func thinnest(p *checks.Pass, pl *board.Plating) {
	_, least, ok := p.Board.ClassCopper()
	if !ok || !pl.Least.Given() || !below(pl.Least.Value, least) {
		return
	}
	class := p.Board.Info().Class
	got, asked := quantity.Pair(pl.Least.Quantity, quantity.Nanometres(least).As(quantity.Micrometre))
	r := p.Report(pl.Least.At, []string{pl.Name.Text}, "the thinnest copper on the wall of plating %s is %s; class %g asks for at least %s (IPC-6012, at the thinnest spot)", pl.Name.Text, got, class.Value, asked)
	related(r, class.At, "class %g asks for it", class.Value)
}
