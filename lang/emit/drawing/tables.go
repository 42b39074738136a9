package drawing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/geom"
)

// blocks are what follows the faces, in order.
func (a *author) blocks() []*block {
	if a.o.Marked {
		return a.list(a.findings())
	}
	var list []*block
	if !a.legendOnFirst() {
		list = append(list, a.legend(a.columnW()))
	}
	list = append(list, a.list(a.findings())...)
	list = append(append(list, a.sections()...), a.details()...)
	if a.o.Field != nil {
		list = append(list, a.field())
	}
	return append(list, a.list(append(a.tables(), a.notes())...)...)
}

// tables are all that state what the faces show, with rows or without.
func (a *author) tables() []table {
	list := []table{a.platings(), a.stretches(), a.gaps(), a.tabs(), a.cutTabs(), a.halfHoles(), a.connectors()}
	if o := a.b.Outline(); o != nil && o.Kind == "start" {
		list = append(list, drawnPath("Outline", o))
	}
	list = append(list, a.cutouts())
	for _, c := range a.b.Cutouts() {
		if c.Profile != nil && c.Kind == "start" {
			list = append(list, drawnPath("Cutout "+c.Name.Text, c.Profile))
		}
	}
	return append(list, a.holes(), a.openings(), a.planes(), a.features(), a.fences(), a.marks(), a.stack())
}

// list makes blocks of the tables that have rows.
func (a *author) list(tables ...table) []*block {
	var list []*block
	for _, t := range tables {
		if len(t.rows) > 0 {
			list = append(list, t.shown().block(a.columnW()))
		}
	}
	return list
}

// shown is the table with every cell as the lettering has it.
func (t table) shown() table {
	for _, row := range t.rows {
		for i := range row {
			row[i] = shown(row[i], 0)
		}
	}
	return t
}

func pair(p geom.Point) string { return wording.Pair(p) }

// aside marks a figure that another place states, or that follows from what is
// stated: an auxiliary dimension (ISO 129-1), in brackets.
func aside(s string) string { return "(" + s + ")" }

// stated is a length of the text, or a dash where it states none.
func stated(v board.Value) string {
	if !v.Given() {
		return "–"
	}
	return length(v)
}

func named(n board.Name) string {
	if !n.Given() {
		return "–"
	}
	return n.Text
}

func (a *author) platings() table {
	t := table{title: "Platings (mm; wall copper on average)", head: []string{"plating", "net", "wall copper", "wrap top", "wrap bottom", "artwork past profile", "joins", "finish"}}
	for _, p := range a.b.Platings() {
		copper := "–"
		if p.Copper.Given() {
			copper = micrometres(p.Copper)
			if p.Least.Given() {
				copper += ", least " + micrometres(p.Least)
			}
		}
		t.rows = append(t.rows, []string{p.Name.Text, named(p.Net), copper, stated(p.Wrap[board.Top]), stated(p.Wrap[board.Bottom]), stated(p.Extend), a.joined(p), a.finish(p)})
	}
	return t
}

// finish is that of a plating, with what the text says of its metals' thickness.
func (a *author) finish(p *board.Plating) string {
	s := named(a.b.FinishOf(p))
	for i, v := range p.FinishLayers {
		s += map[bool]string{true: " ", false: ", "}[i == 0] + micrometres(v)
	}
	return s
}

// joined lists the layers that a plating joins.
func (a *author) joined(p *board.Plating) string {
	return cmp.Or(strings.Join(a.b.Joined(p), " "), "–")
}

func (a *author) stretches() table {
	t := table{title: "Plated stretches (mm, from the datum)", head: []string{"stretch", "net", "on", "from x, y", "to x, y", "(length)"}}
	for _, r := range a.runs {
		if r.Plating == nil {
			continue
		}
		path := r.Profile.Path
		from, to := pair(path.At(r.From)), pair(path.At(r.To))
		if r.Round() {
			from, to = "all round", "all round"
		}
		t.rows = append(t.rows, []string{r.label, named(r.Plating.Net), strings.Join(r.Edges(), " "), from, to, aside(figure(r.Length() / mm))})
	}
	return t
}

// gaps are the bare stretches that the text makes. Where one ends at a plated
// stretch that one's table states the place.
func (a *author) gaps() table {
	t := table{title: "Gaps: not plated (mm)", head: []string{"gap", "in", "edge", "from x, y", "to x, y", "(width)", "for"}}
	ends := a.plated()
	for _, g := range a.b.Gaps() {
		if g.Edge == nil {
			continue
		}
		name := g.Name.Text
		if g.Opened() {
			name = "–"
		}
		end := func(position float64) string {
			p := g.Edge.Point(position)
			if ends.holds(p) {
				return aside(pair(p))
			}
			ends.add(p)
			return pair(p)
		}
		t.rows = append(t.rows, []string{name, g.Of.Text, g.Edge.Name, end(g.From), end(g.To), aside(figure((g.To - g.From) / mm)), a.madeFor(g)})
	}
	return t
}

// madeFor is what a gap makes room for: what the text says, else the tabs that
// stand in it.
func (a *author) madeFor(g *board.Gap) string {
	word := named(g.For)
	switch {
	case g.ForTab(a.b) != nil:
		word = "tab " + word
	case g.Connector != nil || g.ForConnector(a.b) != nil:
		word = "connector " + word
	case !g.For.Given():
		var names []string
		for _, t := range a.b.Tabs() {
			if t.Edge == g.Edge && t.From() < g.To-board.Tolerance && g.From+board.Tolerance < t.To() {
				names = append(names, t.Name.Text)
			}
		}
		if len(names) > 0 {
			word = map[bool]string{true: "tab ", false: "tabs "}[len(names) == 1] + strings.Join(names, " ")
		}
	}
	if g.BridgedBy(a.b) != nil {
		word += ", bridged by it"
	}
	return word
}

// spots are places, the same within a micrometre.
type spots map[string]bool

func (s spots) add(p geom.Point)        { s[pair(p)] = true }
func (s spots) holds(p geom.Point) bool { return s[pair(p)] }

// plated are the ends of the plated stretches, which their table states.
func (a *author) plated() spots {
	list := spots{}
	for _, r := range a.runs {
		if r.Plating != nil && !r.Round() {
			list.add(r.Profile.Path.At(r.From))
			list.add(r.Profile.Path.At(r.To))
		}
	}
	return list
}

func (a *author) tabs() table {
	t := table{title: "Tabs (mm)", head: []string{"tab", "edge", "middle x, y", "width", "length", "kind"}}
	for _, x := range a.b.Tabs() {
		if x.Edge == nil {
			continue
		}
		t.rows = append(t.rows, []string{x.Name.Text, x.Edge.Name, pair(x.Edge.Point(x.Position)), length(x.Width), stated(x.Length), tabKind(x, true)})
	}
	return t
}

// cutTabs are the tabs as the bits leave them, which follows from what is stated.
func (a *author) cutTabs() table {
	t := table{title: "Tabs as routed (mm)", head: []string{"tab", "(bit ⌀)", "(root)", "(R at the root)", "(waist)"}}
	if a.o.Cut == nil {
		return t
	}
	for _, x := range a.b.Tabs() {
		if x.Edge != nil {
			c := a.o.Cut(x)
			t.rows = append(t.rows, []string{x.Name.Text, aside(figure(c.Bit / mm)), aside(figure(c.Root / mm)), aside("R" + figure(c.Radius/mm)), aside(figure(c.Waist / mm))})
		}
	}
	return t
}

// tabKind says how a tab comes away, with or without the figures of its holes.
func tabKind(t *board.Tab, figures bool) string {
	s := "solid"
	if t.Perforated {
		s = "perforated"
	}
	if t.Perforated && figures {
		s = fmt.Sprintf("perforated, %d× ⌀%s, pitch %s", t.HoleCount(), length(t.Hole), length(t.Pitch))
		if t.Inset.Given() {
			s += ", inset " + length(t.Inset)
		}
	}
	if t.Premetallised {
		s += ", premetallised, root bare once cut"
	}
	return s
}

// planes are the copper areas and how far they stay off the profile.
func (a *author) planes() table {
	t := table{title: "Planes (mm)", head: []string{"layer", "net", "off a bare edge", "at the walls that it joins"}}
	cut := slices.ContainsFunc(a.b.Planes(), func(p *board.Plane) bool { return p.Within != nil })
	if cut {
		t.head = append(t.head, "from corner to corner")
	}
	for _, p := range a.b.Planes() {
		var joined []string
		for _, x := range a.b.Platings() {
			if a.b.RunsTo(p, x) {
				joined = append(joined, x.Name.Text)
			}
		}
		words := "–"
		if len(joined) > 0 {
			words = "runs to " + strings.Join(joined, " ")
		}
		row := []string{p.Layer.Text, named(p.Net), stated(p.Pullback), words}
		if cut {
			row = append(row, corners(p))
		}
		t.rows = append(t.rows, row)
	}
	return t
}

// corners are those of the rectangle that a plane is cut to.
func corners(p *board.Plane) string {
	if p.Within == nil {
		return "all of the layer"
	}
	return pair(p.Within.Min) + " to " + pair(p.Within.Max)
}

// marks are those that have a place; the notes have the others.
func (a *author) marks() table {
	t := table{title: "Marks by the shop (mm)", head: []string{"mark", "face", "centre x, y"}}
	for _, x := range a.b.Markings() {
		if x.Placed() {
			t.rows = append(t.rows, []string{x.Text.Text, x.Face.String(), pair(x.Centre)})
		}
	}
	return t
}

// includes says what the finished thickness is measured over, as the language means it.
const includes = "finished thickness, nominal, over the copper of the outer layers; solder mask and the edge's plating on the faces not counted"

func (a *author) stack() table {
	t := table{title: "Stack, top first", head: []string{"layer", "material", "thickness", "at the plated edge"}}
	for _, l := range a.b.Stack().Layered() {
		if !l.Copper {
			kind := "dielectric"
			if l.Material.Answers() {
				kind += ", " + l.Material.Text
			}
			if l.Permittivity.Given() {
				kind += ", εr " + l.Permittivity.Quantity.String()
			}
			t.rows = append(t.rows, []string{l.Name.Text, kind, length(l.Thickness) + " mm", ""})
			continue
		}
		copper := "copper"
		if l.Base.Given() {
			copper += ", foil " + micrometres(l.Base)
		}
		t.rows = append(t.rows, []string{l.Name.Text, copper, micrometres(l.Thickness), a.atEdge(l.Name.Text)})
	}
	if th, ok := a.b.Thickness(); ok {
		// The sum of a stack that is stated follows from it.
		value := length(th) + " mm"
		if a.b.Stack() != nil {
			value = aside(value)
		}
		t.rows = append(t.rows, []string{"board", includes, value, ""})
	}
	return t
}

// atEdge says which platings a copper layer is joined to and which it keeps away from.
func (a *author) atEdge(layer string) string {
	var joined, away []string
	for _, p := range a.b.Platings() {
		if a.b.Joins(p, layer) {
			joined = append(joined, p.Name.Text)
		} else {
			away = append(away, p.Name.Text)
		}
	}
	var list []string
	if len(joined) > 0 {
		list = append(list, "joined to "+strings.Join(joined, ", "))
	}
	if len(away) > 0 {
		list = append(list, "not joined to "+strings.Join(away, ", "))
	}
	return strings.Join(list, "; ")
}

func (a *author) findings() table {
	title, lines := "Findings that stand", make([]string, len(a.o.Findings))
	if a.o.Marked {
		title = "Findings"
	}
	for i, f := range a.o.Findings {
		lines[i] = f.line()
	}
	t := numbered(title, lines)
	if a.o.Marked && len(t.rows) == 0 {
		t.rows = [][]string{{"–", "nothing was found"}}
	}
	return t
}

// line is a finding as a table lists it.
func (f Finding) line() string {
	return fmt.Sprintf("%s, %s (%s): %s", f.Category, f.Rule, f.Where, f.Message)
}
