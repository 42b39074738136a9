package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
)

var reliefMissing = &checks.Rule{
	Name: "relief_missing", Group: checks.GroupMask, Category: finding.Risky,
	Finds:  "A wrap has no relief on a face where the opposite face has one, all along or in part.",
	Why:    "Mask on the wrap keeps the housing from touching and the solder from wetting. Nothing is worked out from a note.",
	Source: "a fabricator's fabrication-drawing guide; common practice",
	Bad:    platedWith("relief lid over wall on top reach 1 mm"),
	Good:   platedWith("relief lid over wall on top bottom reach 1 mm"),
	Run: func(p *checks.Pass) {
		for _, pl := range p.Board.Platings() {
			var relieved [2]*board.Relief
			for _, x := range p.Board.Reliefs() {
				if x.Lies(pl.Name.Text) {
					for _, f := range x.Faces {
						relieved[f] = x
					}
				}
			}
			for _, f := range board.Faces {
				other := relieved[1-f]
				if other == nil || pl.Wrap[f].Value == 0 || p.Board.States("relief") != len(p.Board.Reliefs()) {
					continue
				}
				if relieved[f] != nil {
					if bare := opened(p, pl, 1-f, f); above(bare, 0) {
						r := p.Report(pl.Wrap[f].At, []string{pl.Name.Text}, "the wrap of plating %s on %s has no relief along %s where its wrap on %s has one: mask covers it there", pl.Name.Text, f, length(bare), 1-f)
						related(r, other.Name.At, "a relief on the other face")
					}
					continue
				}
				r := p.Report(pl.Wrap[f].At, []string{pl.Name.Text}, "the wrap of plating %s on %s has no relief, its wrap on %s has one: mask covers the first", pl.Name.Text, f, 1-f)
				related(r, other.Name.At, "the relief on the other face")
			}
		}
	},
}

// opened is how much of a plating's edges reliefs open on one face and not on the other, nm.
func opened(p *checks.Pass, pl *board.Plating, on, not board.Face) (sum float64) {
	var open [2]map[*board.Profile]geom.Intervals
	for f := range open {
		open[f] = map[*board.Profile]geom.Intervals{}
	}
	add := func(to map[*board.Profile]geom.Intervals, s board.Stretch) {
		to[s.Profile] = append(to[s.Profile], geom.OnRing(s.From, s.To, s.Profile.Path.Perimeter())...)
	}
	for _, x := range p.Board.Reliefs() {
		if !x.Lies(pl.Name.Text) {
			continue
		}
		for _, o := range p.Board.Openings(x, p.Limits.MaskMargin()) {
			if o.Row == nil && o.Over == pl.Name.Text {
				add(open[o.Face], o.Stretch)
			}
		}
	}
	plated := map[*board.Profile]geom.Intervals{}
	for s := range p.Board.PlatedBy(pl) {
		add(plated, s)
	}
	union := func(list geom.Intervals) geom.Intervals { return geom.Union(list, board.Tolerance) }
	for profile, list := range open[on] {
		bare := geom.Subtract(union(list), union(open[not][profile]), board.Tolerance)
		sum += geom.Intersect(bare, union(plated[profile]), board.Tolerance).Total()
	}
	return sum
}
