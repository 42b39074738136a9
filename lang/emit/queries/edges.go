package queries

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/geom"
	"hemline/lang/source"
)

// each gathers what the platings say in one clause, or that they lack it.
func each(b *board.Board, clause string, say func(*board.Plating) Part) (said, lacking []Part) {
	for _, p := range b.Platings() {
		if s := say(p); s.Text != "" {
			s.Text = p.Name.Text + ": " + s.Text
			said = append(said, s)
			continue
		}
		lacking = append(lacking, in(clause, p))
	}
	return said, lacking
}

func in(clause string, p *board.Plating) Part {
	return Part{fmt.Sprintf("`%s` in plating %s", clause, p.Name.Text), p.Keyword}
}

func stated(v board.Value, text string) Part {
	if !v.Given() {
		return Part{}
	}
	return Part{text, v.At}
}

func millimetres(v board.Value) string { return wording.Millimetres(v.Value) + " mm" }

func stretches(b *board.Board) (said, lacking []Part) {
	return each(b, "along", func(p *board.Plating) Part {
		n, edges := 0, []string{}
		for s := range b.FinishedBy(p) {
			n++
			edges = append(edges, s.Edges()...)
		}
		switch {
		case n == 0 && b.Runs(p):
			return Part{"none that no plating stated before it has", p.Keyword}
		case n == 0:
			return Part{}
		}
		slices.Sort(edges)
		what := "stretches"
		if n == 1 {
			what = "stretch"
		}
		return Part{fmt.Sprintf("%d %s on %s, %s mm", n, what, strings.Join(slices.Compact(edges), " "), wording.Millimetres(b.PlatedLength(p))), p.Keyword}
	})
}

func gapped(b *board.Board) bool { return len(b.Gaps()) > 0 }

// gaps are told by what stands in them.
func gaps(b *board.Board) (said, lacking []Part) {
	for _, g := range b.Gaps() {
		var tabs []string
		for _, t := range b.Tabs() {
			if t.Edge == g.Edge && t.From() < g.To && g.From < t.To() {
				tabs = append(tabs, t.Name.Text)
			}
		}
		switch {
		case g.Opened():
			said = append(said, Part{g.Name.Text + ": its own gap", g.Keyword})
		case g.ForTab(b) != nil:
			said = append(said, Part{g.Name.Text + ": for tab " + g.For.Text, g.Keyword})
		case g.For.Given():
			said = append(said, Part{g.Name.Text + ": for " + g.For.Text, g.Keyword})
		case len(tabs) > 0:
			said = append(said, Part{g.Name.Text + ": for tab " + strings.Join(tabs, " "), g.Keyword})
		default:
			lacking = append(lacking, Part{fmt.Sprintf("`for` in gap %s, a `tab` in it, or note \"gap %s: …\"", g.Name.Text, g.Name.Text), g.Keyword})
		}
	}
	return said, lacking
}

// ends tells whether a plated stretch stops anywhere.
func ends(b *board.Board) bool {
	return slices.ContainsFunc(b.Profiles(), func(p *board.Profile) bool {
		w := b.Wall(p)
		return len(w.Plated) > 0 && len(w.Bare) > 0
	})
}

func wraps(b *board.Board) (said, lacking []Part) {
	for _, p := range b.Platings() {
		for _, f := range board.Faces {
			if w := p.Wrap[f]; w.Given() {
				said = append(said, Part{fmt.Sprintf("%s: %s %s", p.Name.Text, f, millimetres(w)), w.At})
			} else {
				lacking = append(lacking, in("wrap "+f.String(), p))
			}
		}
	}
	return said, lacking
}

func extensions(b *board.Board) (said, lacking []Part) {
	return each(b, "extend", func(p *board.Plating) Part { return stated(p.Extend, millimetres(p.Extend)) })
}

func nets(b *board.Board) (said, lacking []Part) {
	return each(b, "net", func(p *board.Plating) Part { return Part{p.Net.Text, p.Net.At} })
}

func finishes(b *board.Board) (said, lacking []Part) {
	return each(b, "finish", func(p *board.Plating) Part { return Part{p.Finish.Text, p.Finish.At} })
}

func coppers(b *board.Board) (said, lacking []Part) {
	average, _, classed := b.ClassCopper()
	return each(b, "copper", func(p *board.Plating) Part {
		if !p.Copper.Given() && classed {
			return Part{wording.Micrometres(average) + ", by the class", b.Info().Class.At}
		}
		return stated(p.Copper, wording.Micrometres(p.Copper.Value))
	})
}

func thinnest(b *board.Board) (said, lacking []Part) {
	_, least, ok := b.ClassCopper()
	if !ok {
		return nil, []Part{inBoard(b, "class")}
	}
	return []Part{{wording.Micrometres(least) + ", by the class", b.Info().Class.At}}, nil
}

func joined(b *board.Board) (said, lacking []Part) {
	return each(b, "layers", func(p *board.Plating) Part {
		list := b.Joined(p)
		if len(list) == 0 {
			return Part{}
		}
		where := p.LayersAt
		if where.Anchor == nil {
			where = p.Keyword
		}
		return Part{strings.Join(list, " "), where}
	})
}

// keptAway lists the inner layers that some wall does not join.
func keptAway(b *board.Board) (list []string) {
	for _, l := range b.CopperLayers() {
		if _, outer := b.FaceOf(l); !outer && slices.ContainsFunc(b.Platings(), func(p *board.Plating) bool { return !b.Joins(p, l) }) {
			list = append(list, l)
		}
	}
	return list
}

func kept(b *board.Board) bool { return b.Plated() && len(keptAway(b)) > 0 }

func pullbacks(b *board.Board) (said, lacking []Part) {
	for _, l := range keptAway(b) {
		found := false
		for _, p := range b.Planes() {
			if b.SameLayer(p.Layer.Text, l) && p.Pullback.Given() {
				found = true
				said = append(said, Part{l + ": " + millimetres(p.Pullback), p.Pullback.At})
			}
		}
		if !found {
			where := source.Place{}
			if b.Stack() != nil {
				where = b.Stack().Keyword
			}
			lacking = append(lacking, Part{fmt.Sprintf("`plane on %s`, or note \"layer pullback: …\"", l), where})
		}
	}
	return said, lacking
}

// cut between nets: two stretches of other nets that meet or overlap.
func meetings(b *board.Board) (pairs [][2]board.Stretch, apart bool) {
	for _, profile := range b.Profiles() {
		wall := b.Wall(profile)
		list := wall.Plated
		other := func(a, b board.Stretch) bool { return a.Plating.Net.Text != b.Plating.Net.Text }
		if !slices.ContainsFunc(list, func(s board.Stretch) bool { return other(s, list[0]) }) {
			continue
		}
		apart = true
		place := map[board.Stretch]int{}
		for i, s := range list {
			place[s] = i
		}
		for i, s := range list {
			var near []int
			wall.PlatedIn(s.From, s.To, func(o board.Stretch) {
				if k := place[o]; k > i && other(s, o) {
					near = append(near, k)
				}
			})
			slices.Sort(near)
			for _, k := range near {
				pairs = append(pairs, [2]board.Stretch{s, list[k]})
			}
		}
	}
	return pairs, apart
}

func shared(b *board.Board) bool { _, two := meetings(b); return two }

func boundaries(b *board.Board) (said, lacking []Part) {
	pairs, _ := meetings(b)
	for _, x := range pairs {
		lacking = append(lacking, Part{fmt.Sprintf("a `gap` between %s and %s, or `from` and `to` in `along`", x[0].Plating.Name.Text, x[1].Plating.Name.Text), x[1].Plating.Keyword})
	}
	if len(lacking) == 0 {
		said = []Part{{"bare stretches lie between them", b.Platings()[0].Keyword}}
	}
	return said, lacking
}

func metal(b *board.Board) bool { return b.Plated() || halved(b) }

func reliefs(b *board.Board) (said, lacking []Part) {
	over := func(kind, name string, at source.Place) {
		found := false
		for _, r := range b.Reliefs() {
			if r.Over.Text == name {
				found = true
				said = append(said, Part{fmt.Sprintf("%s: %s on %s", name, millimetres(r.Reach), strings.Join(r.FaceNames(), " ")), r.Keyword})
			}
		}
		if !found {
			lacking = append(lacking, Part{fmt.Sprintf("`relief` over %s %s, or note \"mask opening: …\"", kind, name), at})
		}
	}
	for _, p := range b.Platings() {
		over("plating", p.Name.Text, p.Keyword)
	}
	for _, c := range b.Castellations() {
		over("castellation", c.Name.Text, c.Keyword)
	}
	return said, lacking
}

func routs(b *board.Board) (said, lacking []Part) {
	return []Part{{"first rout before plating: plated stretches; final rout after it: the rest", b.Platings()[0].Keyword}}, nil
}

func continuity(b *board.Board) (said, lacking []Part) {
	if _, known := b.Thickness(); !known {
		return nil, []Part{inBoard(b, "thickness")}
	}
	return each(b, "copper", func(p *board.Plating) Part {
		return stated(p.Copper, "along its longest stretch, as the fabrication notes state")
	})
}

// energised tells whether the board says what its wall may carry.
func energised(b *board.Board) bool {
	return b.Info() != nil && (b.Info().Voltage.Given() || b.Info().Hazard.Given())
}

func voltage(b *board.Board) (said, lacking []Part) {
	i := b.Info()
	if i.Voltage.Given() {
		said = append(said, Part{"at most " + i.Voltage.Quantity.String() + " to other copper", i.Voltage.At})
	} else {
		lacking = append(lacking, inBoard(b, "voltage"))
	}
	if i.Hazard.Given() {
		return append(said, Part{i.HazardText(), i.Hazard.At}), lacking
	}
	return said, append(lacking, inBoard(b, "hazard"))
}

func shields(b *board.Board) bool { return b.Info() != nil && b.Info().Shielding.Given() }

func frequency(b *board.Board) (said, lacking []Part) {
	if f := b.Info().Frequency; f.Given() {
		return []Part{{f.Quantity.String(), f.At}}, nil
	}
	return nil, []Part{inBoard(b, "frequency")}
}

// reaching lists the copper that comes up to the profile where no plating of
// its net does.
func reaching(b *board.Board) (list []Part) {
	for _, p := range b.Planes() {
		if !p.Pullback.Given() || p.Pullback.Value > board.Tolerance || b.Outline() == nil {
			continue
		}
		if covers(b, p.Net, b.Wall(b.Outline())) {
			continue
		}
		list = append(list, Part{fmt.Sprintf("`pullback` in plane on %s, or note \"copper profile: …\"", p.Layer.Text), p.Keyword})
	}
	for _, f := range b.Features() {
		if f.Shape == nil {
			continue
		}
		for _, profile := range b.Profiles() {
			d, on, _ := geom.LoopDistance(profile.Path, f.Shape)
			if d > board.Tolerance {
				continue
			}
			_, s, _ := profile.Path.Nearest(on)
			meant := false
			b.Wall(profile).PlatedIn(s, s, func(x board.Stretch) { meant = meant || f.Net.Given() && x.Plating.Net.Text == f.Net.Text })
			if !meant {
				list = append(list, Part{fmt.Sprintf("a `plating` of its net at feature %s, or note \"copper profile: …\"", f.Name.Text), f.Keyword})
			}
		}
	}
	return list
}

// covers tells whether one net's platings leave nothing of a wall bare.
func covers(b *board.Board, net board.Name, w *board.Wall) bool {
	if len(w.Bare) > 0 || !net.Given() {
		return false
	}
	return !slices.ContainsFunc(w.Plated, func(s board.Stretch) bool { return s.Plating.Net.Text != net.Text })
}

func touching(b *board.Board) bool                  { return len(reaching(b)) > 0 }
func touches(b *board.Board) (said, lacking []Part) { return nil, reaching(b) }
