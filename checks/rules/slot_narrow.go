package rules

import (
	"math"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
)

var slotNarrow = &checks.Rule{
	Name: "slot_narrow", Group: checks.GroupShape, Category: finding.Unbuildable,
	Finds:  "A cutout is narrower than `slot_width`, or where its edge is plated `plated_slot_width`.",
	Why:    "No bit of the shop's fits into it. A plated slot is cut with a bit and then loses twice the plating, so its limit is another one.",
	Limits: []string{"slot_width", "plated_slot_width"},
	Source: "fabricators' capability tables: 0.8 to 2.54 mm unplated, 0.5 to 1.45 mm plated",
	Bad:    platedWith("cutout window slot 6 mm by 0.9 mm at (25 mm, 15 mm)"),
	Good:   platedWith("cutout window slot 6 mm by 1 mm at (25 mm, 15 mm)"),
	Run: func(p *checks.Pass) {
		for _, c := range p.Board.Cutouts() {
			need, what := widthNeeded(p, c.Profile), "width of cutout "
			if len(p.Board.Wall(c.Profile).Plated) > 0 {
				what = "width of plated cutout "
			}
			at, width := c.Width.At, c.Width.Quantity
			if !c.Width.Given() {
				within := need.Value
				if p.Weighs() {
					within += checks.MarginBeyond
				}
				if at, width = c.Name.At, length(narrowest(c.Profile.Path, within)); width.Value >= within {
					continue
				}
			}
			if !lacks(p, need, at, width, func() string { return what + c.Name.Text }) {
				continue
			}
			f := p.Report(at, []string{c.Name.Text}, "%s", tooSmall(what+c.Name.Text, width, need))
			relatedLimit(f, need)
		}
	},
}

// widthNeeded is how wide a cutout has to be.
func widthNeeded(p *checks.Pass, profile *board.Profile) checks.Limit {
	if len(p.Board.Wall(profile).Plated) > 0 {
		return p.Limits.Minimum("plated_slot_width")
	}
	return p.Limits.Minimum("slot_width")
}

// narrowest is the least distance across a drawn opening between two pieces
// that face each other, or from side to side of it, or need where none is less.
func narrowest(path *geom.Loop, need float64) float64 {
	segs := path.Segments()
	boxes := make([]geom.Box, len(segs))
	for i, s := range segs {
		boxes[i] = s.Box()
	}
	box := path.Box()
	index, least := geom.NewIndex(boxes), min(need, box.Max.X-box.Min.X, box.Max.Y-box.Min.Y)
	for i, s := range segs {
		index.Search(boxes[i].Grow(need), func(j int) bool {
			if j < i+2 || i == 0 && j == len(segs)-1 {
				return true
			}
			d, a, b := geom.Distance(s, segs[j])
			if d < least && path.Contains(a.Add(b).Scale(0.5)) && faces(segs, i, a, b) && faces(segs, j, b, a) {
				least = d
			}
			return true
		})
	}
	return least
}

// facing is the least cosine between a piece's normal and the way across for
// the piece to face what lies there. The two sides of a rounded corner do not,
// though their ends are near each other: a bit that fits the rounding reaches
// into it.
const facing = 0.87

// faces tells whether the piece number i, at its point a, bounds a narrow
// place whose other side is at b: it faces b, or a is a corner that stands out
// towards it.
func faces(segs []geom.Segment, i int, a, b geom.Point) bool {
	across := b.Sub(a).Unit()
	_, at, _ := segs[i].Nearest(a)
	if math.Abs(segs[i].Tangent(at).Cross(across)) >= facing {
		return true
	}
	switch {
	case at <= board.Tolerance:
		i = (i + len(segs) - 1) % len(segs)
	case at < segs[i].Length()-board.Tolerance:
		return false
	}
	before, after := segs[i], segs[(i+1)%len(segs)]
	return before.Tangent(before.Length()).Dot(across) > 0 && after.Tangent(0).Dot(across) < 0
}
