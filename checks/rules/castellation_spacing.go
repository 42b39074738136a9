package rules

import (
	"cmp"
	"fmt"
	"slices"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var castellationSpacing = &checks.Rule{
	Name: "castellation_spacing", Group: checks.GroupHalfHoles, Category: finding.Unbuildable,
	Finds:  "The board left between neighbouring half holes, of one row or of two on an edge, is less than `castellation_spacing`.",
	Why:    "What is left between two barrels breaks out with them, and their solder bridges.",
	Limits: []string{"castellation_spacing"},
	Source: "0.4 to 0.6 mm in fabricators' guides on half holes",
	Bad:    exampleHead + "castellation row on west from 5 mm to 20 mm pitch 1.5 mm hole 1 mm land 1.6 mm by 1.2 mm net GND\n",
	Good:   exampleHead + "castellation row on west from 5 mm to 20 mm pitch 1.55 mm hole 1 mm land 1.6 mm by 1.2 mm net GND\n",
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("castellation_spacing")
		for _, c := range p.Board.Castellations() {
			left := c.Pitch.Value - c.Hole.Value
			if len(c.Centres) > 1 && below(left, need.Value) {
				relatedLimit(p.Report(c.Pitch.At, []string{c.Name.Text}, "%s", tooSmall("board left between the half holes of "+c.Name.Text, length(left, c.Pitch), need)), need)
			}
		}
		rowsApart(p, need)
	},
}

// rowsApart looks at rows that share an edge: at each hole and the next one
// along it, where that is another row's.
func rowsApart(p *checks.Pass, need checks.Limit) {
	type hole struct {
		at  float64
		row *board.Castellation
	}
	onEdge := map[*board.Edge][]hole{}
	for _, c := range p.Board.Castellations() {
		for _, at := range c.Centres {
			onEdge[c.Edge] = append(onEdge[c.Edge], hole{at, c})
		}
	}
	type pair struct{ a, b *board.Castellation }
	nearest := map[pair]float64{}
	var order []pair
	for _, holes := range onEdge {
		slices.SortStableFunc(holes, func(x, y hole) int { return cmp.Compare(x.at, y.at) })
		for i := range len(holes) - 1 {
			x, y := holes[i], holes[i+1]
			left := y.at - x.at - (x.row.Hole.Value+y.row.Hole.Value)/2
			if x.row == y.row || !below(left, need.Value) {
				continue
			}
			k := pair{x.row, y.row}
			if _, first := later(k.a.Stretch, k.b.Stretch); first == k.b.Stretch {
				k = pair{y.row, x.row}
			}
			if known, ok := nearest[k]; !ok {
				order = append(order, k)
				nearest[k] = left
			} else {
				nearest[k] = min(known, left)
			}
		}
	}
	for _, k := range order {
		r := p.Report(k.b.Stretch, []string{k.b.Name.Text, k.a.Name.Text}, "%s", tooSmall(fmt.Sprintf("board left between half holes of %s and %s", k.a.Name.Text, k.b.Name.Text), length(nearest[k]), need))
		related(r, k.a.Stretch, "the other row")
		relatedLimit(r, need)
	}
}
