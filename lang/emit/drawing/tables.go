package drawing

import (
	"cmp"
	"fmt"
	"math"
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
		t.rows = append(t.rows, []string{p.Name.Text, named(p.Net), copper, stated(p.Wrap[board.Top]), stated(p.Wrap[board.Bottom]), stated(p.Extend), a.joined(p), a.finished(p)})
	}
	return t
}

// joined lists the layers that a plating joins.
func (a *author) joined(p *board.Plating) string {
	return cmp.Or(strings.Join(a.b.Joined(p), " "), "–")
}

func (a *author) stretches() table {
	t := table{title: "Plated stretches (mm, from the datum)", head: []string{"stretch", "net", "on", "from x, y", "to x, y", "length"}}
	for _, r := range a.runs {
		if r.Plating == nil {
			continue
		}
		path := r.Profile.Path
		from, to := pair(path.At(r.From)), pair(path.At(r.To))
		if r.Round() {
			from, to = "all round", "all round"
		}
		t.rows = append(t.rows, []string{r.label, named(r.Plating.Net), strings.Join(r.Edges(), " "), from, to, figure(r.Length() / mm)})
	}
	return t
}

func (a *author) gaps() table {
	t := table{title: "Gaps: not plated (mm)", head: []string{"gap", "in", "edge", "from x, y", "to x, y", "width", "for"}}
	for _, g := range a.b.Gaps() {
		if g.Edge == nil {
			continue
		}
		name, for_ := g.Name.Text, named(g.For)
		if g.Opened() {
			name = "–"
		}
		if g.Connector != nil {
			for_ = "connector " + for_
		}
		if g.ForTab(a.b) != nil {
			for_ = "tab " + for_
		}
		if g.BridgedBy(a.b) != nil {
			for_ += ", bridged by it"
		}
		t.rows = append(t.rows, []string{name, g.Of.Text, g.Edge.Name, pair(g.Edge.Point(g.From)), pair(g.Edge.Point(g.To)), figure((g.To - g.From) / mm), for_})
	}
	return t
}

func (a *author) tabs() table {
	t := table{title: "Tabs (mm)", head: []string{"tab", "edge", "middle x, y", "width", "length", "kind"}}
	for _, x := range a.b.Tabs() {
		if x.Edge == nil {
			continue
		}
		t.rows = append(t.rows, []string{x.Name.Text, x.Edge.Name, pair(x.Edge.Point(x.Position)), length(x.Width), stated(x.Length), tabKind(x)})
	}
	return t
}

// tabKind says how a tab comes away.
func tabKind(t *board.Tab) string {
	s := "solid"
	if t.Perforated {
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

func (a *author) halfHoles() table {
	t := table{title: "Half holes, plated (mm)", head: []string{"row", "edge", "first x, y", "last x, y", "no.", "⌀", "pitch", "land", "nets"}}
	for _, c := range a.b.Castellations() {
		if c.Edge == nil || len(c.Centres) == 0 {
			continue
		}
		n := len(c.Centres)
		var nets []string
		for _, x := range c.Nets {
			nets = append(nets, x.Text)
		}
		number, land := fmt.Sprint(n), length(c.LandWidth)+" × "+length(c.LandLength)
		if c.Left > 0 {
			number += fmt.Sprintf(", less %d", c.Left)
		}
		if len(c.Layers) > 0 {
			land += " on " + strings.Join(c.LandLayers(), " ")
		}
		add := func(name string, first, last int, number, nets string) {
			end := "–"
			if last > first {
				end = pair(c.Edge.Point(c.Centres[last]))
			}
			t.rows = append(t.rows, []string{name, c.Edge.Name, pair(c.Edge.Point(c.Centres[first])), end, number, length(c.Hole), stated(c.Pitch), land, nets})
		}
		if c.Pitch.Given() || n == 1 {
			add(c.Name.Text, 0, n-1, number, strings.Join(nets, " "))
			continue
		}
		for i := range c.Centres {
			add(fmt.Sprint(c.Name.Text, ".", i+1), i, i, "1", c.NetOf(i).Text)
		}
	}
	return t
}

func (a *author) cutouts() table {
	t := table{title: "Cutouts (mm)", head: []string{"cutout", "shape", "across x × y", "centre x, y", "rim", "plated"}}
	for _, c := range a.b.Cutouts() {
		if c.Profile == nil {
			continue
		}
		path, box := c.Profile.Path, c.Profile.Path.Box()
		shape := c.Kind
		switch shape {
		case "start":
			shape = "drawn path"
		case "slot":
			shape = "slot " + figure(slotLength(c)/mm) + " × " + length(c.Width) + ", turned " + figure(turned(c)) + "°"
		case "circle":
			shape = "⌀" + length(c.Width)
		}
		word := "no"
		switch wall := a.b.Finished(c.Profile); {
		case wall.Whole():
			word = "yes"
		case len(wall.Plated) > 0:
			word = "in part"
		}
		t.rows = append(t.rows, []string{c.Name.Text, shape, figure((box.Max.X-box.Min.X)/mm) + " × " + figure((box.Max.Y-box.Min.Y)/mm), pair(path.Centroid()), figure(path.Perimeter() / mm), word})
	}
	return t
}

// turned is the angle of a slot's length against x, degrees from 0 to under 180.
func turned(c *board.Cutout) float64 {
	for _, s := range c.Profile.Path.Segments() {
		if !s.Arc {
			t := s.Tangent(0)
			d := math.Mod(math.Atan2(t.Y, t.X)*180/math.Pi+360, 180)
			if d > 180-1e-6 {
				d = 0
			}
			return d
		}
	}
	return 0
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

func (a *author) openings() table {
	t := table{title: "Solder mask openings (mm)", head: []string{"opening", "over", "faces", "reach from profile", "past the ends"}}
	for _, r := range a.b.Reliefs() {
		var reach []string // in the order of the faces, or of what it is over
		for _, o := range a.b.Openings(r, a.scene.MaskMargin) {
			if s := wording.Millimetres(o.Reach); !slices.Contains(reach, s) {
				reach = append(reach, s)
			}
		}
		t.rows = append(t.rows, []string{r.Name.Text, r.OverNames() + r.Where(), strings.Join(r.FaceNames(), " "), cmp.Or(strings.Join(reach, ", "), "-"), wording.Millimetres(r.Beyond(a.scene.MaskMargin))})
	}
	return t
}

func (a *author) fences() table {
	t := table{title: "Via fences (mm)", head: []string{"fence", "vias", "hole", "land ⌀", "pitch", "inset", "net"}}
	for _, f := range a.b.Fences() {
		pitch := length(f.Pitch)
		if f.Even {
			pitch = "≤ " + pitch + ", even"
		}
		vias := fmt.Sprint(len(f.Vias))
		if f.LeftOut > 0 {
			vias += fmt.Sprintf(", %d left out", f.LeftOut)
		}
		if f.Added {
			vias += ", to add"
		}
		t.rows = append(t.rows, []string{f.Name.Text, vias, length(f.Hole), stated(f.Land), pitch, length(f.Inset), named(f.Net)})
	}
	return t
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

func (a *author) holes() table {
	t := table{title: "Holes (mm)", head: []string{"hole", "⌀ finished", "centre x, y", "wall", "net", "land ⌀"}}
	for _, h := range a.b.Holes() {
		t.rows = append(t.rows, []string{h.Name.Text, length(h.Diameter), pair(h.Centre), h.State(), named(h.Net), stated(h.Land)})
	}
	return t
}

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
		t.rows = append(t.rows, []string{"board", "finished thickness, nominal", length(th) + " mm", ""})
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
