package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/source"
)

var neckNarrow = &checks.Rule{
	Name: "neck_narrow", Group: checks.GroupShape, Category: finding.Risky,
	Finds:  "The board left between two openings, between an opening and the outline, or across a neck of the outline, is narrower than `neck`; or a notch in the outline is.",
	Why:    "A narrow neck breaks in the rout, or when the board is plated, snapped out or clamped.",
	Limits: []string{"neck"},
	Source: "common practice, no source",
	Bad:    platedWith("cutout window rectangle 10 mm by 6 mm corner 1 mm at (25 mm, 3.9 mm)"),
	Good:   platedWith("cutout window rectangle 10 mm by 6 mm corner 1 mm at (25 mm, 4 mm)"),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("neck")
		reach := need.Value
		if p.Measures() {
			reach = min(reach, checks.MostMeasured)
		}
		profiles := p.Board.Profiles()
		if p.Weighs() {
			reach += checks.MarginBeyond
		}
		pairs(profiles, reach, func(a, b *board.Profile) {
			if outside(a, b) {
				return // cutout_outside's
			}
			d, at, _ := geom.LoopDistance(a.Path, b.Path)
			place, other := later(nameAt(a), nameAt(b))
			what := func() string {
				return fmt.Sprintf("board left between %s and %s at %s", a.Name, b.Name, board.Coordinates(at))
			}
			if d <= board.Tolerance || d > reach || !lacks(p, need, place, length(d), what) {
				return
			}
			f := p.Report(place, profileItems(a, b), "%s", tooSmall(what(), length(d), need))
			related(f, other, "the other side of the neck")
			relatedLimit(f, need)
		})
		for _, x := range profiles {
			acrossItself(p, x, need, reach)
		}
	},
}

// acrossItself holds a profile to itself: the outline across a neck of the board
// or a notch in it, a cutout across what board stands between two parts of it;
// as far as reach.
func acrossItself(p *checks.Pass, x *board.Profile, need checks.Limit, reach float64) {
	for _, inside := range [...]bool{true, false} {
		if x.Cutout && inside {
			continue // the opening's own width is slot_narrow's
		}
		d, at := across(x.Path, reach, inside)
		if d >= reach {
			continue
		}
		what := "board left across a neck of "
		if !inside && !x.Cutout {
			what = "width of a notch in "
		}
		what += x.Name + " at " + board.Coordinates(at)
		if lacks(p, need, nameAt(x), length(d), func() string { return what }) {
			relatedLimit(p.Report(nameAt(x), []string{x.Name}, "%s", tooSmall(what, length(d), need)), need)
		}
	}
}

// across is the least distance, under reach, between two pieces of a path that
// face each other with the inside of it between them, or the outside, and where.
func across(path *geom.Loop, reach float64, inside bool) (least float64, at geom.Point) {
	segs := path.Segments()
	boxes := make([]geom.Box, len(segs))
	for i, s := range segs {
		boxes[i] = s.Box()
	}
	index := geom.NewIndex(boxes)
	least = reach
	for i, s := range segs {
		index.Search(boxes[i].Grow(reach), func(j int) bool {
			if j < i+2 || i == 0 && j == len(segs)-1 {
				return true
			}
			d, a, b := geom.Distance(s, segs[j])
			middle := a.Add(b).Scale(0.5)
			if d > board.Tolerance && d < least && path.Contains(middle) == inside && faces(segs, i, a, b) && faces(segs, j, b, a) {
				least, at = d, a
			}
			return true
		})
	}
	return least, at
}

// profileItems are what a finding between two profiles is on: the cutouts; the
// outline is no second item.
func profileItems(a, b *board.Profile) []string {
	switch {
	case !a.Cutout:
		return []string{b.Name}
	case !b.Cutout:
		return []string{a.Name}
	}
	return []string{a.Name, b.Name}
}

// nameAt is where a profile is named.
func nameAt(p *board.Profile) source.Place {
	if p.Cutout {
		return p.Edges[0].At
	}
	return p.At
}

// pairs calls visit with every two profiles whose boxes come within reach.
func pairs(profiles []*board.Profile, reach float64, visit func(a, b *board.Profile)) {
	if len(profiles) < 2 {
		return
	}
	boxes := make([]geom.Box, len(profiles))
	for i, p := range profiles {
		boxes[i] = p.Path.Box()
	}
	index := geom.NewIndex(boxes)
	for i, p := range profiles {
		index.Search(boxes[i].Grow(reach), func(j int) bool {
			if j > i {
				visit(p, profiles[j])
			}
			return true
		})
	}
}
