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

type naming struct {
	kind copper.Kind
	name string
}

// called names the kinds of pieces that copper gives way to, in the order in
// which a note has them. Lands and pads go with what they are of.
var called = []naming{
	{copper.Feature, "features"}, {copper.Pin, "pins"}, {copper.Barrel, "half holes"}, {copper.Via, "vias"}, {copper.PlatedHole, "plated holes"},
	{copper.Wrap, "wraps"}, {copper.Strip, "strips of platings"}, {copper.Drilled, "unplated holes"}, {copper.Perforation, "perforations"},
}

// partOf is what a land or a pad is of.
var partOf = map[copper.Kind]copper.Kind{copper.Land: copper.Barrel, copper.Pad: copper.Via, copper.Ring: copper.PlatedHole}

// way is a distance that the copper of a layer keeps, and from what: from copper
// of other nets, or from bare board.
type way struct {
	copper.Distance
	bare  bool
	kinds [copper.Kinds]bool
}

// rooms says how far the copper of each layer keeps from what it gives way to;
// layers that keep the same are in one note.
func (m *maker) rooms() {
	if m.room == (copper.Room{}) {
		return
	}
	type note struct {
		layers []string
		keeps  string
		from   []source.Place
		stated map[source.Place]bool
	}
	var list []*note
	for _, l := range m.b.Layers() {
		ways, from := m.waysOf(l)
		if len(ways) == 0 {
			continue
		}
		who, planes := m.keeper(l)
		keeps := who + " " + distances(ways)
		i := slices.IndexFunc(list, func(n *note) bool { return n.keeps == keeps })
		if i < 0 {
			i = len(list)
			list = append(list, &note{keeps: keeps, stated: map[source.Place]bool{}})
		}
		n := list[i]
		n.layers = append(n.layers, l)
		for _, p := range append(planes, from...) {
			if !n.stated[p] {
				n.stated[p] = true
				n.from = append(n.from, p)
			}
		}
	}
	for _, n := range list {
		m.say(Layers, n.from, "On %s %s %s.", plural(len(n.layers), "layer", "layers"), listed(n.layers), n.keeps)
	}
}

// keeper says what of a layer's copper gives way: its planes, or where it has
// none whatever copper lies there.
func (m *maker) keeper(layer string) (says string, planes []source.Place) {
	for _, x := range m.b.Planes() {
		if m.b.SameLayer(x.Layer.Text, layer) {
			planes = append(planes, x.Keyword)
		}
	}
	if len(planes) > 0 {
		return "keep planes", planes
	}
	if _, outer := m.b.FaceOf(layer); outer && m.b.Plated() {
		return "keep copper, wraps aside,", nil // they run on over premetallised tabs
	}
	return "keep copper", nil
}

// waysOf lists what a layer gives way to, each distance once, and what states it.
func (m *maker) waysOf(layer string) (list []way, from []source.Place) {
	seen := map[*board.Item]bool{}
	m.metal.GivesWay(layer, m.room, func(p copper.Way) {
		if !seen[p.Of()] {
			seen[p.Of()] = true
			from = append(from, p.Of().Keyword)
		}
		bare := !p.Kind.Copper()
		i := slices.IndexFunc(list, func(w way) bool { return w.Distance == p.Distance && w.bare == bare })
		if i < 0 {
			i = len(list)
			list = append(list, way{Distance: p.Distance, bare: bare})
		}
		list[i].kinds[p.Kind] = true
	})
	slices.SortFunc(list, func(a, b way) int { return a.first() - b.first() })
	return list, from
}

// first is where the first of its kinds stands among those that notes name.
func (w way) first() int {
	return slices.IndexFunc(called, func(c naming) bool { return w.has(c.kind) })
}

// has tells whether any piece of a kind, or a land of it, is among those kept from.
func (w way) has(k copper.Kind) bool {
	for part, of := range partOf {
		if of == k && w.kinds[part] {
			return true
		}
	}
	return w.kinds[k]
}

// distances writes ways as parts of a sentence.
func distances(ways []way) string {
	var list []string
	for _, w := range ways {
		var names []string
		for _, c := range called {
			if w.has(c.kind) {
				names = append(names, c.name)
			}
		}
		from := listed(names)
		if !w.bare {
			from += " of other nets"
			if w.kinds[copper.Land] || w.kinds[copper.Pad] || w.kinds[copper.Ring] {
				from += " and their lands"
			}
		}
		list = append(list, fmt.Sprintf("%s from %s", asked(w.Distance), from))
	}
	return strings.Join(list, ", ")
}

// asked is a distance and who asks for it.
func asked(d copper.Distance) string {
	return fmt.Sprintf("%s mm (%s)", wording.Millimetres(d.By), d.Who)
}
