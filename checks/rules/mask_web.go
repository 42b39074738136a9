package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var maskWeb = &checks.Rule{
	Name: "mask_web", Group: checks.GroupMask, Category: finding.Risky,
	Finds:  "The mask left between a relief's opening and the next opening, or a feature's own, is under `mask_web`.",
	Why:    "A sliver of mask narrower than the shop can hold comes off in the bath and lands where it bridges or hides a joint. A feature's own opening is taken as its copper with `mask_margin` round it; one of the wall's net that lies in the opening is not meant.",
	Limits: []string{"mask_web", "mask_margin"},
	Source: "0.076 to 0.15 mm in fabricators' design rules",
	Bad:    platedWith("relief lid over wall on top bottom reach 0.9 mm", "feature c7 on top rectangle 1 mm by 1 mm at (1.57 mm, 15 mm) net V5"),
	Good:   platedWith("relief lid over wall on top bottom reach 0.9 mm", "feature c7 on top rectangle 1 mm by 1 mm at (1.58 mm, 15 mm) net V5"),
	Run: func(p *checks.Pass) {
		need, margin := p.Limits.Minimum("mask_web"), p.Limits.Minimum("mask_margin")
		for _, x := range p.Board.Reliefs() {
			for _, f := range x.Faces {
				webToFeatures(p, x, f, need, margin)
			}
			if c := p.Board.CastellationNamed(x.Over.Text); c != nil {
				webBetweenHoles(p, x, c, need)
			}
		}
		webBetweenOpenings(p, need)
	},
}

func webToFeatures(p *checks.Pass, x *board.Relief, f board.Face, need, margin checks.Limit) {
	pl := p.Board.PlatingNamed(x.Over.Text)
	if pl == nil || pl.Wrap[f].Value == 0 {
		return
	}
	for _, ft := range p.Board.Features() {
		if !p.Board.SameLayer(ft.Layer.Text, p.Board.OuterLayer(f)) {
			continue
		}
		left, short := webAt(p, ft, pl, x.Reach.Value, need, margin)
		if !short {
			continue
		}
		r := p.Report(ft.ShapeAt, []string{ft.Name.Text, x.Name.Text}, "%s",
			tooSmall(fmt.Sprintf("mask on %s between the opening of %s and that of %s", f, x.Name.Text, ft.Name.Text), length(max(left, 0)), need))
		related(r, x.Reach.At, "the opening's reach")
		relatedLimit(r, need)
	}
}

// webAt is the mask left between a feature's own opening and one over a plating
// that reaches so far inward; short tells whether it is too little, and not none
// at all in one opening of both.
func webAt(p *checks.Pass, ft *board.Feature, pl *board.Plating, reach float64, need, margin checks.Limit) (left float64, short bool) {
	near := nearWall(p, ft.Shape, reach+margin.Value+need.Value, reach, false,
		func(s board.Stretch) bool { return s.Plating == pl },
		func(s board.Stretch) float64 { return stripDistance(ft.Shape, s, reach) })
	left = near.d - margin.Value
	return left, near.ok && below(left, need.Value) && (left > board.Tolerance || otherNet(ft.Net, pl))
}

func webBetweenHoles(p *checks.Pass, x *board.Relief, c *board.Castellation, need checks.Limit) {
	if len(c.Centres) < 2 {
		return
	}
	left := c.Pitch.Value - c.LandWidth.Value - 2*x.Margin.Value
	if !below(left, need.Value) {
		return
	}
	r := p.Report(c.Pitch.At, []string{c.Name.Text, x.Name.Text}, "%s", tooSmall("mask between the openings of neighbouring half holes of "+c.Name.Text, length(max(left, 0), c.Pitch), need))
	relatedLimit(r, need)
}

// webBetweenOpenings looks at the mask that is left on a bare stretch between
// two openings along the edge.
func webBetweenOpenings(p *checks.Pass, need checks.Limit) {
	if len(p.Board.Reliefs()) == 0 {
		return
	}
	margin := map[string]*board.Relief{}
	for _, x := range p.Board.Reliefs() {
		margin[x.Over.Text] = x
	}
	for _, profile := range p.Board.Profiles() {
		wall := p.Board.Wall(profile)
		for _, s := range wall.Bare {
			beside := besides(wall, s)
			if len(beside) == 0 {
				continue
			}
			a, b := margin[beside[0].Plating.Name.Text], margin[beside[len(beside)-1].Plating.Name.Text]
			if a == nil || b == nil {
				continue
			}
			left := s.Length() - a.Margin.Value - b.Margin.Value
			if !below(left, need.Value) {
				continue
			}
			r := p.Report(a.Name.At, []string{a.Name.Text}, "%s", tooSmall("mask left "+s.Where(), length(max(left, 0)), need))
			if b != a {
				r.Items = append(r.Items, b.Name.Text)
				related(r, b.Name.At, "the other opening")
			}
			relatedLimit(r, need)
		}
	}
}
