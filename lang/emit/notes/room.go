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

// kept is what some layers' copper gives way to by one distance.
type kept struct {
	who string
	way
	on   []kinds
	from []source.Place
}

// kinds are what gives room on layers, in words.
type kinds struct {
	layers []string
	names  string
	lands  bool
}

// rooms says how far the copper of each layer keeps from what it gives way to; a
// distance is said once for all layers.
func (m *maker) rooms() {
	if m.room == (copper.Room{}) {
		return
	}
	var list []*kept
	for _, l := range m.b.Layers() {
		ways, from := m.waysOf(l)
		who, planes := m.keeper(l)
		for _, w := range ways {
			i := slices.IndexFunc(list, func(k *kept) bool { return k.who == who && k.Distance == w.Distance && k.bare == w.bare })
			if i < 0 {
				i, list = len(list), append(list, &kept{who: who, way: w})
			}
			list[i].add(l, w)
			for _, p := range append(planes, from...) {
				list[i].from = with(list[i].from, p)
			}
		}
	}
	for _, k := range list {
		m.say(Room, k.from, "%s.", k.said())
	}
}

// add adds a layer's way to those of the same distance.
func (k *kept) add(layer string, w way) {
	names, lands := w.names(), !w.bare && (w.kinds[copper.Land] || w.kinds[copper.Pad] || w.kinds[copper.Ring])
	i := slices.IndexFunc(k.on, func(x kinds) bool { return x.names == names && x.lands == lands })
	if i < 0 {
		i, k.on = len(k.on), append(k.on, kinds{names: names, lands: lands})
	}
	k.on[i].layers = append(k.on[i].layers, layer)
}

// said tells what room is given to, layer by layer where these differ.
func (k *kept) said() string {
	of := ""
	if !k.bare {
		of = " of other nets"
	}
	if len(k.on) == 1 {
		x := k.on[0]
		if x.lands {
			of += " and their lands"
		}
		return fmt.Sprintf("On %s keep %s %s from %s%s", counted("layer", "layers", x.layers), k.who, asked(k.Distance), x.names, of)
	}
	var list []string
	for _, x := range k.on {
		lands := ""
		if x.lands {
			lands = " with their lands"
		}
		list = append(list, fmt.Sprintf("on %s %s%s", listed(x.layers), x.names, lands))
	}
	what := "what is" + of
	if k.bare {
		what = "what is drilled and stays unplated"
	}
	return fmt.Sprintf("Keep %s %s from %s: %s", k.who, asked(k.Distance), what, strings.Join(list, ", "))
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
		return "planes", planes
	}
	if _, outer := m.b.FaceOf(layer); outer && m.b.Plated() {
		return "copper, wraps aside,", nil // they run on over premetallised tabs
	}
	return "copper", nil
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

// names lists the kinds that room is given to.
func (w way) names() string {
	var names []string
	for _, c := range called {
		if w.has(c.kind) {
			names = append(names, c.name)
		}
	}
	return listed(names)
}

// asked is a distance and who asks for it.
func asked(d copper.Distance) string {
	return fmt.Sprintf("%s (%s)", millimetres(d), d.Who)
}

func millimetres(d copper.Distance) string { return wording.Millimetres(d.By) + " mm" }
