package checks

import (
	"hemline/lang/finding"
	"hemline/lang/geom"
)

var slotNarrow = &Rule{
	Name: "slot_narrow", Group: GroupShape, Category: finding.Unbuildable,
	Finds:  "A cutout is narrower than `slot_width`, or where its edge is plated `plated_slot_width`.",
	Why:    "No bit of the shop's fits into it. A plated slot is cut with a bit and then loses twice the plating, so its limit is another one.",
	Limits: []string{"slot_width", "plated_slot_width"},
	Source: "fabricators' capability tables: 0.8 to 2.54 mm unplated, 0.5 to 1.45 mm plated",
	Bad:    platedWith("cutout window slot 6 mm by 0.9 mm at (25 mm, 15 mm)"),
	Good:   platedWith("cutout window slot 6 mm by 1 mm at (25 mm, 15 mm)"),
	run: func(p *Pass) {
		for _, c := range p.Board.Cutouts {
			need, what := p.Limits.Minimum("slot_width"), "width of "
			if len(p.Board.Wall(c.Profile).Plated) > 0 {
				need, what = p.Limits.Minimum("plated_slot_width"), "width of the plated "
			}
			at, width := c.Width.At, c.Width.Quantity
			if !c.Width.Given() {
				at, width = c.Name.At, length(narrowest(c.Profile.Path, need.Value))
			}
			if !below(width.Value, need.Value) {
				continue
			}
			f := p.report(at, []string{c.Name.Text}, "%s", tooSmall(what+c.Name.Text, width, need))
			relatedLimit(f, need)
		}
	},
}

// narrowest is the least distance across a drawn opening between two pieces
// that do not meet, or need where none is nearer than that.
func narrowest(path *geom.Loop, need float64) float64 {
	segs := path.Segments()
	boxes := make([]geom.Box, len(segs))
	for i, s := range segs {
		boxes[i] = s.Box()
	}
	index, least := geom.NewIndex(boxes), need
	for i, s := range segs {
		index.Search(boxes[i].Grow(need), func(j int) bool {
			if j < i+2 || i == 0 && j == len(segs)-1 {
				return true
			}
			d, a, b := geom.Distance(s, segs[j])
			if d < least && path.Contains(a.Add(b).Scale(0.5)) {
				least = d
			}
			return true
		})
	}
	return least
}
