package notes

import (
	"fmt"
	"slices"

	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/source"
)

// layers says that tables have the walls' nets, the layers that walls join, and
// how far planes keep from the profiles.
func (m *maker) layers() {
	var from []source.Place
	for _, p := range m.b.Platings() {
		if p.Net.Given() || len(m.b.Joined(p)) > 0 {
			for _, x := range m.joins(p) {
				from = with(from, x)
			}
		}
	}
	if says := "Each wall has the net that %s states."; len(from) > 0 {
		if slices.ContainsFunc(m.b.Platings(), func(p *board.Plating) bool { return len(m.b.Joined(p)) > 0 }) {
			says = "Each wall has the net, and joins the copper of the layers, that %s states."
		}
		m.say(Layers, from, says, table("Platings"))
	}
	var planes []source.Place
	runs, cut := "", ""
	for _, x := range m.b.Planes() {
		if !x.Pullback.Given() {
			continue
		}
		planes = append(planes, x.Keyword)
		if slices.ContainsFunc(m.b.Platings(), func(p *board.Plating) bool { return m.b.RunsTo(x, p) }) {
			runs = "; they run to the walls that it names"
		}
		if x.Within != nil {
			cut = ", and within their corners,"
		}
	}
	if len(planes) > 0 {
		m.say(Layers, planes, "Keep planes from the profile%s as %s states%s.", cut, table("Planes"), runs)
	}
}

// joins are the places that say of which net a plating is and which layers it joins.
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

// apart is what layers keep from platings, in words before and behind their names.
type apart struct {
	where, keep, more string
	layers, platings  []string
	from              []source.Place
}

// walls says how far copper keeps from the walls that a layer does not join, and
// from their wraps. What is alike but for the layers, and then but for the
// platings, is said once.
func (m *maker) walls() {
	if m.room == (copper.Room{}) {
		return
	}
	var list []apart
	for _, p := range m.b.Platings() {
		first := len(list)
		for _, l := range m.b.Layers() {
			x, off := m.off(p, l)
			if !off {
				continue
			}
			i := slices.IndexFunc(list[first:], func(y apart) bool { return x.where == y.where && x.keep == y.keep })
			if i < 0 {
				x.platings, x.from = []string{p.Name.Text}, at(p.Keyword)
				i, list = len(list)-first, append(list, x)
			}
			list[first+i].layers = append(list[first+i].layers, l)
		}
	}
	for i, x := range list {
		if slices.ContainsFunc(list[:i], x.like) {
			continue
		}
		for _, y := range list[i+1:] {
			if x.like(y) {
				x.platings, x.from = append(x.platings, y.platings...), append(x.from, y.from...)
			}
		}
		m.say(Walls, x.from, "On %s%s %s %s%s.", counted("layer", "layers", x.layers), x.where, x.keep, counted("plating", "platings", x.platings), x.more)
	}
}

func (x apart) like(y apart) bool {
	return x.where == y.where && x.keep == y.keep && slices.Equal(x.layers, y.layers)
}

// off says what a layer keeps from a plating that it does not join, and where.
// Copper of the wall's own net may meet the wall; a plane of that net keeps what
// it states.
func (m *maker) off(p *board.Plating, layer string) (x apart, ok bool) {
	what := "copper"
	if p.Net.Given() {
		what = "copper of other nets than " + p.Net.Text
	}
	if others, _, off := m.metal.OffWall(p, layer, m.room); off {
		return apart{keep: fmt.Sprintf("keep %s %s from", what, asked(others))}, true
	}
	if m.metal.ByRectangles(p, layer) {
		return apart{where: ", where no plane of its net lies,", keep: fmt.Sprintf("keep %s %s from", what, asked(m.room.WallInner))}, true
	}
	// Without `layers`, tracks of its net may well meet it.
	if _, outer := m.b.FaceOf(layer); outer && len(p.Layers) > 0 && !m.b.Joins(p, layer) {
		return apart{keep: "join no copper to the wrap of", more: "; keep what is not its own " + asked(m.room.Wrap) + " off it"}, true
	}
	return apart{}, false
}

// edges says how far copper keeps from bare edges, and beside tabs, the trade's
// rule: copper under a tab tears when it is cut.
func (m *maker) edges() {
	m.bareEdges()
	var names []string
	var from []source.Place
	for _, t := range m.b.Tabs() {
		if !t.Premetallised {
			names, from = append(names, t.Name.Text), append(from, t.Keyword)
		}
	}
	if len(names) == 0 {
		return
	}
	which, beside := "tabs", ""
	if len(names) < len(m.b.Tabs()) {
		which = counted("tab", "tabs", names)
	}
	if m.tabGap != (copper.Distance{}) {
		beside = ", and " + asked(m.tabGap) + " to either side"
	}
	m.say(Edges, from, "Keep every layer free of copper at %s%s.", which, beside)
}

// bareEdges says how far copper keeps from bare edges, if the board has any.
func (m *maker) bareEdges() {
	if m.room == (copper.Room{}) {
		return
	}
	var from []source.Place
	for _, p := range m.b.Profiles() {
		if len(m.b.Finished(p).Bare) > 0 {
			from = append(from, p.At)
		}
	}
	if len(from) == 0 {
		return
	}
	far := asked(m.room.EdgeOuter) + " from bare edges"
	if layers := m.b.Layers(); slices.ContainsFunc(layers, func(l string) bool { _, outer := m.b.FaceOf(l); return !outer }) {
		far += " on outer layers, " + asked(m.room.EdgeInner) + " on inner ones"
		if m.room.EdgeOuter.Who == m.room.EdgeInner.Who {
			far = fmt.Sprintf("from bare edges %s on outer and %s on inner layers (%s)", millimetres(m.room.EdgeOuter), millimetres(m.room.EdgeInner), m.room.EdgeInner.Who)
		}
	}
	var stand []string
	if slices.ContainsFunc(m.b.Connectors(), func(c *board.Connector) bool { return len(c.Pins) > 0 }) {
		stand = append(stand, "pins")
	}
	if len(m.b.Castellations()) > 0 {
		stand = append(stand, "half holes")
	}
	if slices.ContainsFunc(m.b.Tabs(), m.b.Rooted) {
		stand = append(stand, "wraps over premetallised tabs")
	}
	except := ""
	if len(stand) > 0 {
		except = "; " + listed(stand) + " stand nearer"
	}
	m.say(Edges, from, "Keep copper %s%s.", far, except)
}
