package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

var cornerTooSharp = &checks.Rule{
	Name: "corner_too_sharp", Group: checks.GroupShape, Category: finding.Unbuildable,
	Finds:  "An inside corner, concave in the outline or of a cutout, has a radius under half of `router_bit`.",
	Why:    "A round bit cuts no sharp inside corner: board is left standing in it, and a part or a housing that should fit does not. Pieces that meet within half a degree of straight count as smooth. Of a round end as wide as its opening slot_narrow speaks, however it is drawn.",
	Limits: []string{"router_bit"},
	Source: "fabricators' published rout tables: inside radius at least half the bit, 0.4 to 1.27 mm",
	Bad:    platedWith("cutout window rectangle 10 mm by 6 mm corner 0.3 mm at (25 mm, 15 mm)"),
	Good:   platedWith("cutout window rectangle 10 mm by 6 mm corner 0.4 mm at (25 mm, 15 mm)"),
	Run: func(p *checks.Pass) {
		bit := p.Limits.Minimum("router_bit")
		for _, profile := range p.Board.Profiles() {
			switch profile.Kind {
			case "rectangle":
				if profile.Cutout {
					rectangleCorners(p, profile, bit)
				}
			case "start":
				if len(crossings(p, profile)) > 0 {
					continue // which side the board is on is not known
				}
				drawnCorners(p, profile, bit)
			}
		}
	},
}

func rectangleCorners(p *checks.Pass, profile *board.Profile, bit checks.Limit) {
	r := 0.0
	if len(profile.Corners) > 0 {
		r = profile.Edges[0].Base
	}
	if roundEnd(profile, r) {
		return
	}
	sharp(p, profile, profile.Edges[0].At, "the corners of cutout "+profile.Name, r, bit)
}

// roundEnd tells whether a rounding of a cutout is as round as the opening is
// wide: its bit cuts the opening too, so that its width is asked for, by slot_narrow.
func roundEnd(profile *board.Profile, radius float64) bool {
	return profile.Cutout && radius > 0 && narrowest(profile.Path, 3*radius) <= 2*radius+board.RadiusSlip
}

func drawnCorners(p *checks.Pass, profile *board.Profile, bit checks.Limit) {
	segs := profile.Path.Segments()
	for i, s := range segs {
		at, arc := profile.At, ""
		if c := profile.CornerAt(middleOf(profile, i)); c != nil {
			at, arc = c.At, fmt.Sprintf("the rounded corner between %s and %s", c.Before.Name, c.After.Name)
		} else if e := profile.EdgeAt(middleOf(profile, i)); e != nil {
			at, arc = e.At, "the inside arc "+e.Name
		}
		if profile.Turn((i+len(segs)-1)%len(segs)) < -board.Straight {
			sharp(p, profile, at, fmt.Sprintf("the inside corner at %s", board.Coordinates(s.A)), 0, bit)
		}
		if profile.Hollow(s) && (p.Weighs() || below(s.Radius(), bit.Value/2)) && !roundEnd(profile, s.Radius()) {
			sharp(p, profile, at, arc, s.Radius(), bit)
		}
	}
}

func sharp(p *checks.Pass, profile *board.Profile, at source.Place, what string, radius float64, bit checks.Limit) {
	half := quantity.Nanometres(bit.Value / 2)
	if !held(p, below(radius, half.Value), func() checks.Margin {
		return checks.Margin{At: at, What: "radius of " + what, Value: length(radius), Limit: halfOfBit(bit), Against: half}
	}) {
		return
	}
	f := p.Report(at, []string{profile.Name}, "radius of %s is %s; %s asks for at least %s, half of its smallest bit %s", what, length(radius), bit.Who, half, bit.From())
	relatedLimit(f, bit)
}

// halfOfBit is the bit's limit, with what it asks of a radius.
func halfOfBit(bit checks.Limit) checks.Limit {
	bit.Note = "half of its smallest bit"
	return bit
}
