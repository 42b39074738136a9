package rules

import (
	"fmt"
	"math"
	"slices"

	"hemline/checks"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/rout"
)

var edgeShared = &checks.Rule{
	Name: "edge_shared", Group: checks.GroupShape, Category: finding.Unbuildable,
	Finds:  "On an outline or a cutout that is plated in part a bit of the shop's, down to `router_bit`, cuts plated and bare edge at once: it fills the opening from side to side, or comes within 0.1 mm of the side across; or where plated meets bare in a rounding, or beside one, the two passes would end the copper more than 0.15 mm from there, or the final bit cross its edge at less than 30 degrees. All passes are run for it, with where the bits are let down and lifted.",
	Why:    "What the first pass cuts is plated, also where it is to stay bare; what the final one cuts is bare, also where it was plated. A finer bit that keeps from the rest is taken where the shop has one. Sharp inside corners are corner_too_sharp's.",
	Limits: []string{"router_bit"},
	Source: "geometry of the bit; 0.1 mm and 0.15 mm, about a routed outline's tolerance, are our own judgement",
	Bad:    sharedExample("0.89 mm"),
	Good:   sharedExample("0.9 mm"),
	Run: func(p *checks.Pass) {
		least := p.Limits.Minimum("router_bit")
		strays := boardBits(p).Strays()
		for i, s := range strays {
			if slices.ContainsFunc(strays, func(o rout.Stray) bool { return o.Profile == s.Profile && o.Kind > s.Kind }) {
				continue // the other pass tells of the same opening
			}
			if i > 0 && s.Length() == 0 && strays[i-1].Profile == s.Profile && strays[i-1].Length() == 0 {
				continue // the other end of the same copper
			}
			at := s.Profile.At
			if e := s.Profile.EdgeAt((s.From + s.To) / 2); e != nil {
				at = e.At
			}
			f := p.Report(at, []string{s.Profile.Name}, "%s; %s has none finer than %s %s: widen the opening or its rounding, plate all of it, or ask for a finer bit",
				shares(s), least.Who, quantity.Nanometres(least.Value), least.From())
			relatedLimit(f, least)
		}
	},
}

// shares says what a bit does to edge that another pass is to cut.
func shares(s rout.Stray) string {
	switch {
	case s.Length() == 0 && s.Off > rout.Astray:
		return fmt.Sprintf("%s: plated meets bare here, in or beside a rounding that the bit all but fits: the copper would end up to %s from here, %s at most are meant",
			s.Profile.Where(s.From), length(s.Off), length(rout.Astray))
	case s.Length() == 0:
		return fmt.Sprintf("%s: plated meets bare here, where the bits of the two passes have no room to stay apart: the final one, %s, would cross the copper's edge at %.0f°, 30° are needed so that it does not tear",
			s.Profile.Where(s.From), length(s.Bit), s.Angle*180/math.Pi)
	}
	which, edge, so := "first", "bare edge, which is then plated", "this edge, which stays bare"
	if s.Kind == rout.Final {
		which, edge, so = "final", "plated edge and takes its copper off", "this plated edge"
	}
	bit := fmt.Sprintf("%s bit, %s", which, length(s.Bit))
	if s.Lead {
		bit += ", let down or lifted there"
	}
	if s.Gap == 0 {
		return fmt.Sprintf("%s: the %s, cuts this %s", lies(s.Stretch), bit, edge)
	}
	return fmt.Sprintf("%s: the %s, comes within %s of %s, %s at least are needed", lies(s.Stretch), bit, length(s.Gap), so, length(rout.Grazing))
}

// sharedExample is a board with a slot of a width that is plated along one side.
func sharedExample(width string) string {
	return platedWith("cutout link slot 8 mm by "+width+" at (25 mm, 15 mm)", "plating side { along link.rim from 1 mm to 6 mm; net GND; wrap top bottom 0.8 mm; extend 0.1 mm }")
}
