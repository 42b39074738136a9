package readback

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// model is what a board must have stated.
type model struct {
	b      *board.Board
	margin float64
	want   map[key][]string
}

func (m *model) add(table, row, column, value string) {
	k := key{table, tight(row), tight(column)}
	m.want[k] = append(m.want[k], tight(value))
}

// given adds a length that the text may leave out.
func (m *model) given(table, row, column string, v board.Value) {
	if v.Given() {
		m.add(table, row, column, length(v.Value))
	}
}

// length writes a length in nm as mm to the micrometre.
func length(nm float64) string {
	return strconv.FormatFloat(math.Round(nm/1e3)/1e3+0, 'f', -1, 64)
}

func thin(nm float64) string { return strconv.FormatFloat(math.Round(nm/10)/100, 'f', -1, 64) + "µm" }

func place(p geom.Point) string { return length(p.X) + "," + length(p.Y) }

func (m *model) all() {
	m.platings()
	m.stretches()
	m.tabs()
	for _, c := range m.b.Castellations() {
		m.row(c)
	}
	m.connectors()
	for _, c := range m.b.Cutouts() {
		if c.Profile != nil && c.Profile.Kind != "start" {
			m.cutout(c)
		}
	}
	for _, h := range m.b.Holes() {
		m.given("Holes", h.Name.Text, "⌀ finished", h.Diameter)
		m.add("Holes", h.Name.Text, "centre x, y", place(h.Centre))
		m.given("Holes", h.Name.Text, "land ⌀", h.Land)
	}
	m.copper()
	m.openings()
	for _, x := range m.b.Markings() {
		if x.Placed() {
			m.add("Marks by the shop", x.Text.Text, "centre x, y", place(x.Centre))
		}
	}
	m.stack()
}

func (m *model) platings() {
	const table = "Platings"
	for _, p := range m.b.Platings() {
		n := p.Name.Text
		if p.Copper.Given() {
			v := thin(p.Copper.Value)
			if p.Least.Given() {
				v += ", least " + thin(p.Least.Value)
			}
			m.add(table, n, "wall copper", v)
		}
		m.given(table, n, "wrap top", p.Wrap[board.Top])
		m.given(table, n, "wrap bottom", p.Wrap[board.Bottom])
		m.given(table, n, "artwork past profile", p.Extend)
		var layers []string
		for _, v := range p.FinishLayers {
			layers = append(layers, thin(v.Value))
		}
		name := p.Finish.Text
		if info := m.b.Info(); name == "" && info != nil {
			name = info.Finish.Text
		}
		if len(layers) > 0 || strings.ContainsAny(name, "0123456789") {
			m.add(table, n, "finish", name+strings.Join(layers, ","))
		}
	}
}

// stretches are the ends of what is plated, and those ends of gaps that are none
// of these.
func (m *model) stretches() {
	ends := map[string]bool{}
	names := m.b.StretchNames()
	for _, p := range m.b.Profiles() {
		for _, s := range m.b.Finished(p).Plated {
			if s.To-s.From >= p.Path.Perimeter()-board.Tolerance {
				continue // all round
			}
			for column, at := range map[string]float64{"from x, y": s.From, "to x, y": s.To} {
				end := place(p.Path.At(at))
				ends[end] = true
				m.add("Plated stretches", names[s], column, end)
			}
		}
	}
	for _, g := range m.b.Gaps() {
		if g.Edge == nil {
			continue
		}
		for _, at := range [...]float64{g.From, g.To} {
			if end := place(g.Edge.Point(at)); !ends[end] {
				ends[end] = true
				m.add("Gaps", "", "end", end)
			}
		}
	}
}

func (m *model) tabs() {
	for _, t := range m.b.Tabs() {
		if t.Edge == nil {
			continue
		}
		m.add("Tabs", t.Name.Text, "middle x, y", place(t.Edge.Point(t.Position)))
		m.given("Tabs", t.Name.Text, "width", t.Width)
		m.given("Tabs", t.Name.Text, "length", t.Length)
		if !t.Perforated {
			continue
		}
		s := fmt.Sprintf("perforated, %d× ⌀%s, pitch %s", len(t.Holes()), length(t.Hole.Value), length(t.Pitch.Value))
		if t.Inset.Given() {
			s += ", inset " + length(t.Inset.Value)
		}
		if t.Premetallised {
			s += ", premetallised, root bare once cut"
		}
		m.add("Tabs", t.Name.Text, "kind", s)
	}
}

// row is a row of half holes: each hole follows from a stated one by whole pitches.
func (m *model) row(c *board.Castellation) {
	const table = "Half holes, plated"
	if c.Edge == nil {
		return
	}
	for first := 0; first < len(c.Centres); {
		last := first
		for c.Pitch.Given() && last+1 < len(c.Centres) && math.Abs(c.Centres[first]+float64(last+1-first)*c.Pitch.Value-c.Centres[last+1]) < 10*board.Tolerance {
			last++
		}
		name := c.Name.Text
		switch whole := first == 0 && last == len(c.Centres)-1; {
		case !whole && first == last:
			name += fmt.Sprintf(".%d", first+1)
		case !whole:
			name += fmt.Sprintf(".%d to .%d", first+1, last+1)
		}
		m.add(table, name, "first x, y", place(c.Edge.Point(c.Centres[first])))
		m.add(table, name, "no.", strconv.Itoa(last-first+1))
		m.given(table, name, "⌀", c.Hole)
		if last > first {
			m.given(table, name, "pitch, along edge", c.Pitch)
		}
		land := length(c.LandWidth.Value) + "×" + length(c.LandLength.Value)
		if len(c.Layers) > 0 {
			land += "on" + strings.Join(c.LandLayers(), "")
		}
		m.add(table, name, "land", land)
		first = last + 1
	}
}

func (m *model) connectors() {
	const table = "Connectors"
	for _, c := range m.b.Connectors() {
		if c.Edge == nil {
			continue
		}
		m.add(table, c.Name.Text, "middle x, y", place(c.Edge.Point(c.Position)))
		body := length(c.Body.Value) + " wide"
		if c.BodyReach.Given() {
			body += ", " + length(c.BodyReach.Value) + " over the board"
		}
		if c.Overhang.Given() {
			body += ", " + length(c.Overhang.Value) + " past the profile"
		}
		m.add(table, c.Name.Text, "body", body)
		var list []string
		for _, p := range c.Pins {
			list = append(list, "pin "+p.Face.String()+length(p.Width.Value)+"×"+length(p.Length.Value))
		}
		if l := c.Legs; l != nil {
			words := "2 legs"
			for _, f := range l.Faces {
				words += f.String()
			}
			list = append(list, words+length(l.Width.Value)+"×"+length(l.Length.Value)+", "+length(l.Spacing.Value)+" from middle to middle")
		}
		if len(list) > 0 {
			m.add(table, c.Name.Text, "pins, legs", strings.Join(list, ";"))
		}
	}
}

// cutout works out shape and place from the path alone.
func (m *model) cutout(c *board.Cutout) {
	const table = "Cutouts"
	var arcs []geom.Segment
	var along geom.Point
	for _, s := range c.Profile.Path.Segments() {
		if s.Arc {
			arcs = append(arcs, s)
		} else if along == (geom.Point{}) {
			along = s.B.Sub(s.A)
		}
	}
	shape, centre := "", c.Profile.Path.Box().Center()
	switch c.Profile.Kind {
	case "circle":
		shape = "⌀" + length(2*arcs[0].A.Dist(arcs[0].C))
		centre = arcs[0].C
	case "slot":
		r, a, b := arcs[0].A.Dist(arcs[0].C), arcs[0].C, arcs[len(arcs)-1].C
		shape = "slot" + length(a.Dist(b)+2*r) + "×" + length(2*r)
		centre = a.Add(b).Scale(0.5)
		turned := math.Round(math.Mod(math.Atan2(along.Y, along.X)*180/math.Pi+360, 180)*1e3) / 1e3
		if turned != 0 && turned != 180 {
			shape += ",turned" + strconv.FormatFloat(turned, 'f', -1, 64) + "°"
		}
	default:
		box := c.Profile.Path.Box()
		shape = length(box.Max.X-box.Min.X) + "×" + length(box.Max.Y-box.Min.Y)
		if len(arcs) > 0 {
			m.add(table, c.Name.Text, "corner R", "R"+length(arcs[0].A.Dist(arcs[0].C)))
		}
	}
	m.add(table, c.Name.Text, "shape", shape)
	m.add(table, c.Name.Text, "centre x, y", place(centre))
}

// follows are the words for edges that something follows, where they have figures.
func (m *model) follows(table, row, column string, list []board.Along) {
	var words []string
	figures := false
	for _, a := range list {
		switch whole := math.Abs(a.To-a.From-a.Edge.Length) < 10*board.Tolerance; {
		case a.All:
			if len(words) == 0 {
				words = append(words, "all round the outline")
			}
		case whole:
			words = append(words, a.Edge.Name)
		default:
			words = append(words, a.Edge.Name+" from "+place(a.Edge.Point(a.From))+" to "+place(a.Edge.Point(a.To)))
		}
	}
	s := strings.Join(words, ";")
	figures = strings.ContainsAny(s, "0123456789")
	if figures {
		m.add(table, row, column, s)
	}
}

// copper is of planes, features and fences.
func (m *model) copper() {
	for _, p := range m.b.Planes() {
		m.given("Planes", "", "off a bare edge", p.Pullback)
		if p.Within != nil {
			m.add("Planes", "", "from corner to corner", place(p.Within.Min)+"to"+place(p.Within.Max))
		}
	}
	for _, f := range m.b.Features() {
		box := f.Shape.Box()
		shape := length(box.Max.X-box.Min.X) + "×" + length(box.Max.Y-box.Min.Y)
		if f.Shape.Segments()[0].Arc {
			shape = "⌀" + length(box.Max.X-box.Min.X)
		}
		m.add("Copper features", f.Name.Text, "shape", shape)
		m.add("Copper features", f.Name.Text, "centre x, y", place(box.Center()))
	}
	const table = "Via fences"
	for _, f := range m.b.Fences() {
		n := f.Name.Text
		vias := strconv.Itoa(len(f.Vias))
		if f.LeftOut > 0 {
			vias += fmt.Sprintf(", %d left out", f.LeftOut)
		}
		if f.Added {
			vias += ", to add"
		}
		m.add(table, n, "vias", vias)
		m.given(table, n, "hole", f.Hole)
		m.given(table, n, "land ⌀", f.Land)
		m.given(table, n, "inset", f.Inset)
		pitch := length(f.Pitch.Value)
		if f.Even {
			pitch = "≤" + pitch + ", even"
		}
		m.add(table, n, "pitch", pitch)
		m.follows(table, n, "along", f.Along)
	}
}

func (m *model) openings() {
	const table = "Solder mask openings"
	for _, r := range m.b.Reliefs() {
		var reach []string
		for _, o := range m.b.Openings(r, m.margin) {
			if s := length(o.Reach); !slices.Contains(reach, s) {
				reach = append(reach, s)
			}
		}
		if len(reach) > 0 {
			m.add(table, r.Name.Text, "reach from profile", strings.Join(reach, ","))
		}
		past := m.margin
		if r.Margin.Given() {
			past = r.Margin.Value
		}
		m.add(table, r.Name.Text, "past the ends", length(past))
		m.follows(table, r.Name.Text, "along", r.Along)
	}
}

func (m *model) stack() {
	const table = "Stack, top first"
	s := m.b.Stack()
	if s == nil {
		if info := m.b.Info(); info != nil && info.Thickness.Given() {
			m.add(table, "board", "thickness", length(info.Thickness.Value)+"mm")
		}
		return
	}
	for _, l := range s.Layers {
		v := length(l.Thickness.Value) + "mm"
		if l.Copper {
			v = thin(l.Thickness.Value)
		}
		m.add(table, l.Name.Text, "thickness", v)
	}
}

// outline is what the faces alone state of a rectangle or a circle.
func outline(b *board.Board) []string {
	o := b.Outline()
	box := o.Path.Box()
	switch o.Kind {
	case "circle":
		return []string{"⌀" + length(box.Max.X-box.Min.X)}
	case "rectangle":
		list := []string{length(box.Min.X), length(box.Max.X), length(box.Min.Y), length(box.Max.Y)}
		for _, s := range o.Path.Segments() {
			if s.Arc {
				return append(list, "4× R"+length(s.A.Dist(s.C)))
			}
		}
		return list
	}
	return nil
}
