package rules

import (
	"fmt"
	"slices"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/rout"
)

var edgeStanding = &checks.Rule{
	Name: "edge_standing", Group: checks.GroupShape, Category: finding.Unbuildable,
	Finds:  "A part of a drawn outline or cutout is reached by no bit of the shop's, down to `router_bit`: it lies in a slit, or in a throat, narrower than that. The bits' passes are run for it.",
	Why:    "What no bit reaches is not cut: board is left standing between the two sides. A part that only a finer bit reaches is cut by that. Inside corners are corner_too_sharp's, cutouts narrow throughout slot_narrow's.",
	Limits: []string{"router_bit", "slot_width", "plated_slot_width"},
	Source: "geometry of the bit",
	Bad:    standingExample("0.79 mm"),
	Good:   standingExample("0.8 mm"),
	Run: func(p *checks.Pass) {
		least := p.Limits.Minimum("router_bit")
		for _, group := range slits(boardBits(p).Left(), least.Value) {
			s := group[0]
			profile := s.Profile
			if need := widthNeeded(p, profile).Value; profile.Cutout && below(narrowest(profile.Path, need), need) {
				continue
			}
			at := profile.At
			if e := profile.EdgeAt((s.From + s.To) / 2); e != nil {
				at = e.At
			}
			what := lies(s)
			if len(group) > 1 {
				what += " and " + lies(group[1])
			}
			way := ""
			if width, known := rout.Passing(s, least.Value); known {
				way = fmt.Sprintf("the way to it takes one of about %s, and ", length(width))
			}
			f := p.Report(at, []string{profile.Name}, "%s: no bit reaches it; %sthe finest that %s has is %s %s: widen it",
				what, way, least.Who, quantity.Nanometres(least.Value), least.From())
			relatedLimit(f, least)
		}
	},
}

// lies says where a stretch lies, by the edges between its ends.
func lies(s board.Stretch) string {
	s.From, s.To = s.From+10*board.Tolerance, s.To-10*board.Tolerance
	return s.Where()
}

// standingExample is a board with a throat of a width.
func standingExample(width string) string {
	return shop("limit neck minimum 0.5 mm") + `board b { thickness 1.6 mm }
outline {
  start (0 mm, 0 mm)
  line s0 to (20 mm, 0 mm)
  line t1 to (20 mm, 10 mm)
  line p1 to (16 mm, 10 mm) corner 1.5 mm
  line p2 to (16 mm, 16 mm) corner 1.5 mm
  line p3 to (26 mm, 16 mm) corner 1.5 mm
  line p4 to (26 mm, 10 mm) corner 1.5 mm
  line p5 to (20 mm + ` + width + `, 10 mm)
  line t2 to (20 mm + ` + width + `, 0 mm)
  line s1 to (50 mm, 0 mm)
  line e to (50 mm, 30 mm)
  line n to (0 mm, 30 mm)
  close w
}`
}

// slits groups stretches of one profile that are nearer to each other than a
// distance, nm: the two sides of one slit.
func slits(list []board.Stretch, near float64) (groups [][]board.Stretch) {
	var sides [][]lying
	for _, s := range list {
		own := lying{box: geom.EmptyBox(), segs: s.Segments()}
		for _, g := range own.segs {
			own.box = own.box.Union(g.Box())
		}
		i := slices.IndexFunc(sides, func(group []lying) bool {
			return slices.ContainsFunc(group, func(other lying) bool { return own.within(other, near) })
		})
		if i < 0 || groups[i][0].Profile != s.Profile {
			groups, sides = append(groups, nil), append(sides, nil)
			i = len(groups) - 1
		}
		groups[i], sides[i] = append(groups[i], s), append(sides[i], own)
	}
	return groups
}

// lying is a stretch as it lies.
type lying struct {
	box  geom.Box
	segs []geom.Segment
}

func (a lying) within(b lying, near float64) bool {
	if a.box.DistanceTo(b.box) >= near {
		return false
	}
	return slices.ContainsFunc(a.segs, func(g geom.Segment) bool {
		return slices.ContainsFunc(b.segs, func(h geom.Segment) bool {
			if g.Box().DistanceTo(h.Box()) >= near {
				return false
			}
			d, _, _ := geom.Distance(g, h)
			return d < near
		})
	})
}
