package queries

import (
	"fmt"
	"slices"
	"strings"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/geom"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// each gathers what the platings say in one clause, or that they lack it.
func each(b *board.Board, clause string, say func(*board.Plating) Part) (said, lacking []Part) {
	for _, p := range b.Platings() {
		if s := say(p); s.Text != "" {
			s.Text, s.Edges = p.Name.Text+": "+s.Text, p.Edges()
			said = append(said, s)
			continue
		}
		lacking = append(lacking, in(clause, p))
	}
	return said, lacking
}

func in(clause string, p *board.Plating) Part {
	return Part{Text: fmt.Sprintf("`%s` in plating %s", clause, p.Name.Text), At: p.Keyword, Edges: p.Edges(), Insert: clause, In: "plating"}
}

func stated(v board.Value, text string) Part {
	if !v.Given() {
		return Part{}
	}
	return Part{Text: text, At: v.At}
}

// texted is what a name says, if anything.
func texted(n board.Name) Part {
	if !n.Answers() {
		return Part{}
	}
	return Part{Text: n.Text, At: n.At}
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
			return Part{Text: "none that no plating stated before it has", At: p.Keyword}
		case n == 0:
			return Part{}
		}
		slices.Sort(edges)
		what := "stretches"
		if n == 1 {
			what = "stretch"
		}
		return Part{Text: fmt.Sprintf("%d %s on %s, %s mm", n, what, strings.Join(slices.Compact(edges), " "), wording.Millimetres(b.PlatedLength(p))), At: p.Keyword}
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
		x := Part{At: g.Keyword, Edges: []string{g.Edge.Name}}
		switch {
		case g.Opened():
			x.Text = "its own gap in " + g.Of.Text
		case g.ForTab(b) != nil:
			x.Text = "for tab " + g.For.Text
		case g.For.Given():
			x.Text = "for " + g.For.Text
		case len(tabs) > 0:
			x.Text = "for tab " + strings.Join(tabs, " ")
		default:
			x.Text, x.Insert, x.In = fmt.Sprintf("`for` in gap %s, or a `tab` in it", g.Name.Text), "for", "gap"
			lacking = append(lacking, x)
			continue
		}
		x.Text = g.Name.Text + ": " + x.Text
		said = append(said, x)
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
				said = append(said, Part{Text: fmt.Sprintf("%s: %s %s", p.Name.Text, f, millimetres(w)), At: w.At, Edges: p.Edges()})
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
	return each(b, "net", func(p *board.Plating) Part { return texted(p.Net) })
}

func finishes(b *board.Board) (said, lacking []Part) {
	return each(b, "finish", func(p *board.Plating) Part { return texted(b.FinishOf(p)) })
}

func coppers(b *board.Board) (said, lacking []Part) {
	average, _, classed := b.ClassCopper()
	return each(b, "copper", func(p *board.Plating) Part {
		if !p.Copper.Given() && classed {
			return Part{Text: wording.Micrometres(average) + ", by the class", At: b.Info().Class.At}
		}
		return stated(p.Copper, wording.Micrometres(p.Copper.Value))
	})
}

func thinnest(b *board.Board) (said, lacking []Part) {
	_, least, ok := b.ClassCopper()
	if ok {
		said = []Part{{Text: wording.Micrometres(least) + ", by the class", At: b.Info().Class.At}}
	}
	own := false
	for _, p := range b.Platings() {
		switch {
		case p.Least.Given():
			own = true
			said = append(said, Part{Text: p.Name.Text + ": " + wording.Micrometres(p.Least.Value), At: p.Least.At, Edges: p.Edges()})
		case !ok:
			lacking = append(lacking, Part{Text: fmt.Sprintf("`least` in `copper` of plating %s", p.Name.Text), At: p.Keyword, Edges: p.Edges()})
		}
	}
	if !ok && (!own || halved(b)) {
		lacking = append(lacking[:0], inBoard(b, "class"))
	}
	return said, lacking
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
		return Part{Text: strings.Join(list, " "), At: where}
	})
}

// keptAway lists the inner layers that some wall does not join, notJoining the
// walls that do not join one.
func keptAway(b *board.Board) (list []string) {
	for _, l := range b.CopperLayers() {
		if _, outer := b.FaceOf(l); !outer && slices.ContainsFunc(b.Platings(), func(p *board.Plating) bool { return !b.Joins(p, l) }) {
			list = append(list, l)
		}
	}
	return list
}

func notJoining(b *board.Board, layer string) (list []string) {
	for _, p := range b.Platings() {
		if !b.Joins(p, layer) {
			list = append(list, p.Name.Text)
		}
	}
	return list
}

func kept(b *board.Board) bool { return b.Plated() && len(keptAway(b)) > 0 }

// pullbacks are how far planes keep from the walls that do not join them; other
// copper keeps what the shop asks, which is the notes' to say.
func pullbacks(b *board.Board) (said, lacking []Part) {
	for _, l := range keptAway(b) {
		from := ""
		if len(b.Platings()) > 1 {
			from = " from " + strings.Join(notJoining(b, l), " ")
		}
		found := false
		for _, p := range b.Planes() {
			if b.SameLayer(p.Layer.Text, l) && p.Pullback.Given() {
				found = true
				net := ""
				if p.Net.Given() {
					net = " " + p.Net.Text
				}
				said = append(said, Part{Text: l + from + ": plane" + net + " " + millimetres(p.Pullback) + p.Rectangle(), At: p.Pullback.At})
			}
		}
		if !found {
			where := source.Place{}
			if b.Stack() != nil {
				where = b.Stack().Keyword
			}
			lacking = append(lacking, Part{Text: fmt.Sprintf("`plane on %s`", l), At: where, Insert: "plane on " + syntax.Quote(l) + " pullback"})
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
		lacking = append(lacking, Part{Text: fmt.Sprintf("a `gap` between %s and %s, or `from` and `to` in `along`", x[0].Plating.Name.Text, x[1].Plating.Name.Text), At: x[1].Plating.Keyword})
	}
	if len(lacking) == 0 {
		said = []Part{{Text: "bare stretches lie between them", At: b.Platings()[0].Keyword}}
	}
	return said, lacking
}

func metal(b *board.Board) bool { return b.Plated() || halved(b) }

func reliefs(b *board.Board) (said, lacking []Part) {
	over := func(kind, name string, at source.Place, edges []string) {
		found := false
		for _, r := range b.Reliefs() {
			if r.Lies(name) {
				found = true
				reach := "as far as the copper"
				if r.Reach.Given() {
					reach = millimetres(r.Reach)
				}
				said = append(said, Part{Text: fmt.Sprintf("%s%s: %s on %s", name, r.Where(), reach, strings.Join(r.FaceNames(), " ")), At: r.Keyword, Edges: edges})
			}
		}
		if !found {
			lacking = append(lacking, Part{Text: fmt.Sprintf("`relief` over %s %s", kind, name), At: at, Edges: edges,
				Insert: fmt.Sprintf("relief %s over %s on top bottom", syntax.Quote(name+"_relief"), syntax.Quote(name)), Complete: true})
		}
	}
	for _, p := range b.Platings() {
		over("plating", p.Name.Text, p.Keyword, p.Edges())
	}
	for _, c := range b.Castellations() {
		over("castellation", c.Name.Text, c.Keyword, []string{c.Edge.Name})
	}
	return said, lacking
}

func routs(b *board.Board) (said, lacking []Part) {
	return []Part{{Text: "first rout before plating: plated stretches; final rout after it: the rest", At: b.Platings()[0].Keyword}}, nil
}

// continuity is answered by another test of the wall that the criteria state, by a
// limit of theirs that tells a wall from none, or by the one in the notes.
func continuity(b *board.Board, store *figures.Store) (said, lacking []Part) {
	stated, coupon, section := b.CriterionOf("continuity"), b.CriterionOf("coupon"), b.CriterionOf("microsection")
	switch other := coupon.Is("required") || section.Answers(); {
	case stated.Answers() && !other:
		if lacking = untold(b, stated, store); len(lacking) > 0 {
			return nil, lacking
		}
		return accepted("continuity")(b)
	case stated.Answers():
		return accepted("continuity")(b)
	case coupon.Is("required"):
		return []Part{{Text: "by the coupon", At: coupon.Clause}}, nil
	case section.Answers():
		return []Part{{Text: "by the microsections: " + section.Text, At: section.Clause}}, nil
	}
	if _, known := b.Thickness(); !known {
		return nil, []Part{inBoard(b, "thickness")}
	}
	copper := store.Conductors(b)
	for _, p := range b.Platings() {
		m, plates := copper.Continuity(p)
		switch {
		case !p.Copper.Given():
			lacking = append(lacking, in("copper", p))
		case plates && !m.Tells():
			why := fmt.Sprintf("the resistance of plating %s does not tell a wall from none", p.Name.Text)
			if m.Bounds {
				why = fmt.Sprintf("what planes carry past a missing wall of plating %s was not worked out", p.Name.Text)
			}
			lacking = append(lacking, Part{Text: "`coupon required`, `microsection` or `continuity` in `criteria`: " + why,
				Edges: p.Edges(), Insert: "coupon required", In: "criteria", Complete: true})
		default:
			said = append(said, Part{Text: p.Name.Text + ": along its longest stretch, as the fabrication notes state", At: p.Copper.At, Edges: p.Edges()})
		}
	}
	return said, lacking
}

// untold are the platings that a stated limit does not tell from none.
func untold(b *board.Board, stated board.Criterion, store *figures.Store) (lacking []Part) {
	copper := store.Conductors(b)
	for _, p := range b.Platings() {
		m, ok := copper.Continuity(p)
		if !ok {
			continue
		}
		var why []string
		if m.Rejects(stated.Maximum.Quantity) {
			why = append(why, "may reject sound boards")
		}
		if m.Passes(stated.Maximum.Quantity) {
			why = append(why, "may pass a board without that wall")
		}
		if len(why) == 0 {
			continue
		}
		what := "another maximum of `continuity`, "
		if !m.Tells() {
			what = ""
		}
		lacking = append(lacking, Part{Text: fmt.Sprintf("%s`coupon required` or `microsection` in `criteria`: at plating %s a maximum of %s %s", what, p.Name.Text, stated.Maximum.Quantity, strings.Join(why, " and ")),
			At: stated.Clause, Edges: p.Edges(), Insert: "coupon required", In: "criteria", Complete: true})
	}
	return lacking
}

// energised tells whether the board says that its wall may carry a voltage.
func energised(b *board.Board) bool {
	i := b.Info()
	return i != nil && (i.Voltage.Given() || i.Hazard.Given() && i.Hazard.Text != "none")
}

func voltage(b *board.Board) (said, lacking []Part) {
	if v := b.Info().Voltage; v.Given() {
		return []Part{{Text: "at most " + v.Quantity.String() + " to other copper", At: v.At}}, nil
	}
	return nil, []Part{inBoard(b, "voltage")}
}

func hazard(b *board.Board) (said, lacking []Part) {
	if i := b.Info(); i != nil && i.Hazard.Given() {
		return []Part{{Text: i.HazardText(), At: i.Hazard.At}}, nil
	}
	return nil, []Part{inBoard(b, "hazard")}
}

// finishLayers are how thick the finish on the wall is.
func finishLayers(b *board.Board) (said, lacking []Part) {
	for _, p := range b.Platings() {
		if len(p.FinishLayers) > 0 {
			var list []string
			for _, v := range p.FinishLayers {
				list = append(list, wording.Micrometres(v.Value))
			}
			said = append(said, Part{Text: fmt.Sprintf("%s: %s, %s", p.Name.Text, p.Finish.Text, strings.Join(list, ", ")), At: p.FinishLayers[0].At, Edges: p.Edges()})
			continue
		}
		x := Part{Text: fmt.Sprintf("`thickness` in `finish` of plating %s", p.Name.Text), At: p.Keyword, Edges: p.Edges(), Insert: "thickness", In: "plating", Behind: p.Finish.At}
		if !p.Finish.Given() {
			x.Insert = "finish"
		}
		lacking = append(lacking, x)
	}
	return said, lacking
}

func shields(b *board.Board) bool { return b.Info() != nil && b.Info().Shielding.Given() }

func frequency(b *board.Board) (said, lacking []Part) {
	if f := b.Info().Frequency; f.Given() {
		return []Part{{Text: f.Quantity.String(), At: f.At}}, nil
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
		if covers(p, b.Wall(b.Outline())) {
			continue
		}
		list = append(list, Part{Text: fmt.Sprintf("`pullback` in plane on %s", p.Layer.Text), At: p.Keyword})
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
				list = append(list, Part{Text: fmt.Sprintf("a `plating` of its net at feature %s", f.Name.Text), At: f.Keyword})
			}
		}
	}
	return list
}

// covers tells whether the platings of a plane's net leave nothing bare of what of a
// wall the plane comes to.
func covers(p *board.Plane, w *board.Wall) bool {
	if !p.Net.Given() {
		return p.Within != nil && !slices.ContainsFunc(slices.Concat(w.Bare, w.Plated), p.Touches)
	}
	return !slices.ContainsFunc(w.Bare, p.Touches) &&
		!slices.ContainsFunc(w.Plated, func(s board.Stretch) bool { return s.Plating.Net.Text != p.Net.Text && p.Touches(s) })
}

func touching(b *board.Board) bool                  { return len(reaching(b)) > 0 }
func touches(b *board.Board) (said, lacking []Part) { return nil, reaching(b) }
