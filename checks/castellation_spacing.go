package checks

import (
	"fmt"
	"hemline/lang/finding"
	"math"
)

var castellationSpacing = &Rule{
	Name: "castellation_spacing", Group: GroupHalfHoles, Category: finding.Unbuildable,
	Finds:  "The board left between neighbouring half holes, of one row or of two on an edge, is less than `castellation_spacing`.",
	Why:    "What is left between two barrels breaks out with them, and their solder bridges.",
	Limits: []string{"castellation_spacing"},
	Source: "0.4 to 0.6 mm in fabricators' guides on half holes",
	Bad:    exampleHead + "castellation row on west from 5 mm to 20 mm pitch 1.5 mm hole 1 mm land 1.6 mm by 1.2 mm net GND\n",
	Good:   exampleHead + "castellation row on west from 5 mm to 20 mm pitch 1.55 mm hole 1 mm land 1.6 mm by 1.2 mm net GND\n",
	run: func(p *Pass) {
		need := p.Limits.Minimum("castellation_spacing")
		for _, c := range p.Board.Castellations {
			left := c.Pitch.Value - c.Hole.Value
			if len(c.Centres) > 1 && below(left, need.Value) {
				relatedLimit(p.report(c.Pitch.At, []string{c.Name.Text}, "%s", tooSmall("board left between the half holes of "+c.Name.Text, length(left, c.Pitch), need)), need)
			}
		}
		p.rowsApart(need)
	},
}

// rowsApart looks at the ends of rows that share an edge.
func (p *Pass) rowsApart(need Limit) {
	for i, a := range p.Board.Castellations {
		for _, b := range p.Board.Castellations[:i] {
			if a.Edge != b.Edge {
				continue
			}
			left := math.Inf(1)
			for _, x := range a.Centres {
				for _, y := range b.Centres {
					left = math.Min(left, math.Abs(x-y)-(a.Hole.Value+b.Hole.Value)/2)
				}
			}
			if !below(left, need.Value) {
				continue
			}
			r := p.report(a.Stretch, []string{a.Name.Text, b.Name.Text}, "%s", tooSmall(fmt.Sprintf("board left between half holes of %s and %s", b.Name.Text, a.Name.Text), length(left), need))
			related(r, b.Stretch, "the other row")
			relatedLimit(r, need)
		}
	}
}
