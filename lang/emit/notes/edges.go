package notes

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

// plated lists every stretch of the finished wall, between two points.
func (m *maker) plated() {
	for _, p := range m.b.Profiles() {
		for _, s := range m.b.Finished(p).Plated {
			if s.Round() {
				m.say(Plated, at(s.Plating.Keyword), "Plate %s: all round %s, %s mm long.", m.labels[s], p.Name, wording.Millimetres(s.Length()))
				continue
			}
			m.say(Plated, at(s.Plating.Keyword), "Plate %s: %s, %s.", m.labels[s], edges(s), ends(s))
		}
	}
}

func edges(s board.Stretch) string {
	list := s.Edges()
	if len(list) == 0 {
		return "rounded corner"
	}
	return strings.Join(list, " ")
}

func ends(s board.Stretch) string {
	path := s.Profile.Path
	return fmt.Sprintf("from %s to %s, %s mm long", point(path.At(s.From)), point(path.At(s.To)), wording.Millimetres(s.Length()))
}

// bare lists the stretches that stay bare on profiles that have plated ones,
// each with what the spec says stands there.
func (m *maker) bare() {
	for _, p := range m.b.Profiles() {
		wall := m.b.Finished(p)
		if len(wall.Plated) == 0 {
			if !p.Cutout && m.b.Plated() {
				m.say(Bare, at(p.At), "Leave the outline bare all round.")
			}
			continue // a cutout that is not plated says so among the cutouts
		}
		for _, s := range wall.Bare {
			why, from := m.reasons(s)
			if len(from) == 0 {
				from = at(p.At)
			}
			m.say(Bare, from, "Leave bare: %s, %s%s.", edges(s), ends(s), why)
		}
	}
}

// reasons says what a bare stretch is for, as far as the spec does.
func (m *maker) reasons(s board.Stretch) (text string, from []source.Place) {
	var list []string
	gaps := m.b.GapsIn(s)
	for _, g := range gaps {
		from = append(from, g.Keyword)
		what := g.Title()
		switch {
		case g.Opened():
			// Its title says what it is for.
		case g.ForTab(m.b) != nil:
			what += ", for tab " + g.For.Text
		case g.For.Given():
			what += ", where connector " + g.For.Text + " launches"
		}
		switch {
		case g.BridgedBy(m.b) == nil:
		case g.Opened():
			what += ", whose metal closes the opening"
		default:
			what += " and its metal closes the opening"
		}
		if g.Opened() && slices.Contains(list, what) {
			continue // of another plating, by the same tab or connector
		}
		list = append(list, what)
	}
	var names []string
	for _, t := range m.b.TabsIn(s) {
		if from = append(from, t.Keyword); m.b.Rooted(t) {
			list = append(list, fmt.Sprintf("the root of premetallised tab %s, which is bare once the tab is cut", t.Name.Text))
			continue
		}
		if !slices.ContainsFunc(gaps, func(g *board.Gap) bool { return g.Tab == t }) { // its own gap names it
			names = append(names, t.Name.Text)
		}
	}
	if n := len(names); n > 0 {
		list = append(list, fmt.Sprintf("%s %s %s here", plural(n, "tab", "tabs"), listed(names), plural(n, "stands", "stand")))
	}
	var rows []string
	holes := 0
	for _, c := range m.b.CastellationsIn(s) {
		from = append(from, c.Keyword)
		rows, holes = append(rows, c.Name.Text), holes+len(c.Centres)
	}
	if len(rows) > 0 {
		list = append(list, fmt.Sprintf("%s %s %s plated", plural(holes, "half hole", "half holes"), listed(rows), plural(holes, "is", "are")))
	}
	if len(list) == 0 {
		return "", nil
	}
	return " (" + strings.Join(list, "; ") + ")", from
}

// layers says which layers a wall joins and which keep away.
func (m *maker) layers() {
	for _, p := range m.b.Platings() {
		joined := m.b.Joined(p)
		net := ""
		if p.Net.Given() {
			net = ", net " + p.Net.Text + ","
		}
		if n := len(joined); n > 0 {
			m.say(Layers, m.joins(p), "%s%s joins the copper of %s %s.", plating(p), net, plural(n, "layer", "layers"), listed(joined))
		} else if p.Net.Given() {
			m.say(Layers, at(p.Net.At), "%s is net %s.", plating(p), p.Net.Text)
		}
	}
	for _, l := range m.b.Layers() {
		m.away(l)
	}
	m.rooms()
}

// joins are the places that say which layers a plating joins.
func (m *maker) joins(p *board.Plating) (list []source.Place) {
	if p.LayersAt.Anchor != nil {
		return at(p.LayersAt)
	}
	list = at(p.Keyword)
	for _, plane := range m.b.Planes() {
		if plane.Net.Given() && plane.Net.Text == p.Net.Text {
			list = append(list, plane.Keyword)
		}
	}
	return list
}

// away says from which walls a layer keeps, and how far its planes do.
func (m *maker) away(layer string) {
	_, outer := m.b.FaceOf(layer)
	for _, p := range m.b.Platings() {
		if others, _, off := m.metal.OffWall(p, layer, m.room); off {
			m.offWall(p, layer, "", others)
		} else if m.metal.ByRectangles(p, layer) {
			m.offWall(p, layer, ", where no plane of its net lies,", m.room.WallInner)
		} else if outer && len(p.Layers) > 0 && !m.b.Joins(p, layer) { // without `layers`, tracks of its net may well meet it
			m.say(Layers, at(p.Keyword), "On layer %s join no copper to the wrap of plating %s.", layer, p.Name.Text)
		}
	}
	if !m.b.Plated() {
		return
	}
	for _, plane := range m.b.Planes() {
		if !m.b.SameLayer(plane.Layer.Text, layer) || !plane.Pullback.Given() {
			continue
		}
		var runs []string
		for _, p := range m.b.Platings() {
			if m.b.RunsTo(plane, p) {
				runs = append(runs, p.Name.Text)
			}
		}
		but := ""
		if len(runs) > 0 {
			but = fmt.Sprintf(", except along %s %s", plural(len(runs), "plating", "platings"), listed(runs))
		}
		net := ""
		if plane.Net.Given() {
			net = " " + plane.Net.Text
		}
		m.say(Layers, at(plane.Keyword), "Keep the plane%s on layer %s%s %s from the profile%s.", net, layer, inside(plane), length(plane.Pullback), but)
	}
}

// inside says which rectangle a plane is cut to.
func inside(p *board.Plane) string {
	if p.Within == nil {
		return ""
	}
	return fmt.Sprintf(", which lies within %s to %s alone,", point(p.Within.Min), point(p.Within.Max))
}

// offWall says how far a layer keeps from a wall that it does not join. Copper of
// the wall's own net may meet it; a plane of that net keeps what it states.
func (m *maker) offWall(p *board.Plating, layer, where string, others copper.Distance) {
	what, far := "copper", "away"
	if p.Net.Given() {
		what = "copper of other nets than " + p.Net.Text
	}
	if m.room != (copper.Room{}) {
		far = asked(others)
	}
	m.say(Layers, at(p.Keyword), "On layer %s%s keep %s %s from plating %s.", layer, where, what, far, p.Name.Text)
}

// sequence is the trade's order where edges are plated: both routs are always
// named, since a note that names one alone contradicts the other.
func (m *maker) sequence() {
	if !m.b.Plated() {
		return
	}
	m.say(Sequence, m.platings(), "First rout, before plating: cut the plated stretches.")
	roots := ""
	if len(m.b.Tabs()) > 0 {
		roots = " up to the roots of tabs"
	}
	last := "free the board; nothing is left to cut but what holds it"
	for _, p := range m.b.Profiles() {
		if len(m.b.Wall(p).Bare) > 0 {
			last = "cut the bare stretches" + roots + ", and nothing of the plated ones"
		}
	}
	m.say(Sequence, m.platings(), "Final rout, after plating: %s.", last)
	for _, t := range m.b.Tabs() {
		if m.b.Rooted(t) {
			through := ""
			if t.Perforated {
				through = " Drill its perforations through the copper of the faces."
			}
			m.say(Sequence, at(t.Keyword), "Tab %s, premetallised: plate the faces on over it into the frame, with the panel.%s There is no wall under it to plate; its root is bare once the tab is cut.", t.Name.Text, through)
		}
	}
}

// score is the trade's rule: a score is cut last, and its wall is bare laminate.
func (m *maker) score() {
	if m.b.Plated() {
		m.say(Score, m.platings(), "Cut no score along or across a plated stretch.")
	}
}

func (m *maker) mask() {
	for _, r := range m.b.Reliefs() {
		var walls, rows, what []string
		holes := 0
		for _, n := range r.Over {
			if c := m.b.CastellationNamed(n.Text); c != nil {
				rows, holes = append(rows, n.Text), holes+len(c.Centres)
			} else {
				walls = append(walls, n.Text)
			}
		}
		if n := len(walls); n > 0 {
			what = append(what, plural(n, "plating ", "platings ")+listed(walls))
		}
		if len(rows) > 0 {
			what = append(what, plural(holes, "half hole ", "half holes ")+listed(rows))
		}
		margin := wording.Millimetres(r.Beyond(m.margin)) + " mm"
		reach, past := length(r.Reach)+" from the profile inward", ", and "+margin+" past the ends of the copper"
		switch none := r.Beyond(m.margin) == 0; {
		case r.Reach.Given() && none:
			past = ""
		case !r.Reach.Given() && none:
			reach, past = "as far as the copper", ""
		case !r.Reach.Given():
			reach, past = margin+" beyond the copper, inward and past its ends", ""
		}
		m.say(Mask, at(r.Keyword), "Open the solder mask over %s%s on %s: %s%s.", listed(what), r.Where(), listed(r.FaceNames()), reach, past)
	}
	if m.b.Plated() {
		m.say(Mask, m.platings(), "Put no solder mask on a plated wall.")
	}
}
