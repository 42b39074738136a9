package scene

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// Build makes the scene of a board. What the text leaves open or says wrongly
// is left out. margin, nm, is how far mask openings go past the copper where
// their reliefs do not say.
func Build(b *board.Board, margin float64) *Scene {
	s := &Scene{MaskMargin: margin}
	if b.Info() != nil {
		s.Name, s.Title, s.Revision = b.Info().Name.Text, b.Info().Title.Text, b.Info().Revision.Text
	}
	if t, ok := b.Thickness(); ok {
		s.Thickness = t.Value / mm
	}
	s.Levels = Levels(b, s.Drawn())
	if r, ok := b.Region(); ok {
		s.Outline, s.Cutouts = loops(r.Outer), loops(r.Holes...)
	}
	m := &maker{b: b, scene: s, box: geom.EmptyBox(), seen: map[string]int{}}
	m.all()
	slices.SortStableFunc(s.Items, func(x, y Item) int { return cmp.Compare(order(x), order(y)) })
	m.edges()
	m.inner()
	if !m.box.Empty() {
		s.Min, s.Max = at(m.box.Min), at(m.box.Max)
	}
	return s
}

// order is where an item's statement stands among those of its text.
func order(i Item) uint64 {
	if i.Place.Anchor == nil {
		return 0
	}
	return i.Place.Anchor.Order
}

type maker struct {
	b     *board.Board
	scene *Scene
	box   geom.Box
	seen  map[string]int
	runs  map[string][]board.Stretch // plated stretches by plating
}

func (m *maker) all() {
	m.outline()
	m.runs = map[string][]board.Stretch{}
	for _, p := range m.b.Profiles() {
		for _, s := range m.b.Wall(p).Plated {
			m.runs[s.Plating.Name.Text] = append(m.runs[s.Plating.Name.Text], s)
		}
	}
	each(m, m.b.Cutouts(), m.cutout)
	each(m, m.b.Holes(), m.hole)
	each(m, m.b.Planes(), m.plane)
	each(m, m.b.Platings(), m.plating)
	each(m, m.b.Reliefs(), m.relief)
	each(m, m.b.StatedGaps(), m.gap)
	each(m, m.b.Castellations(), m.castellation)
	each(m, m.b.Features(), m.feature)
	each(m, m.b.Fences(), m.fence)
	each(m, m.b.Parts(), m.part)
	for _, x := range m.b.Markings() {
		if x.Placed() {
			m.add(Item{Kind: "marking", Name: x.Text.Text, Place: x.Whole, At: at(x.Centre), Of: "on " + x.Face.String(),
				Facts: []Fact{{Label: "x", Value: x.Centre.X / mm, Unit: "mm"}, {Label: "y", Value: x.Centre.Y / mm, Unit: "mm"}}})
		}
	}
	each(m, m.b.Connectors(), m.connector)
	each(m, m.b.Tabs(), m.tab)
	for _, g := range m.b.Gaps() {
		if g.Opened() { // after what opens it, which a place in its statement is first of all
			i := m.gap(g)
			i.Place, i.ID = g.Whole, g.Title()+" in "+g.Of.Text
			m.add(i)
		}
	}
}

// each adds the items of one kind.
func each[T interface{ Base() *board.Item }](m *maker, list []T, build func(T) Item) {
	for _, x := range list {
		i := build(x)
		i.Name, i.Place = x.Base().Name.Text, x.Base().Whole
		m.add(i)
	}
}

// add gives an item its id, the first of a name the plain one.
func (m *maker) add(i Item) {
	if i.ID == "" {
		i.ID = i.Kind
	}
	if i.Name != "" {
		i.ID += " " + i.Name
	}
	m.seen[i.ID]++
	if n := m.seen[i.ID]; n > 1 {
		i.ID = fmt.Sprintf("%s (%d)", i.ID, n)
	}
	m.scene.Items = append(m.scene.Items, i)
}

// cover grows the scene's box by loops.
func (m *maker) cover(list ...*geom.Loop) {
	for _, l := range list {
		m.box = m.box.Union(l.Box())
	}
}

func (m *maker) outline() {
	if m.b.OutlineItem() == nil && m.b.Outline() == nil && len(m.b.Open()) == 0 {
		return
	}
	i := Item{Kind: "outline"}
	if m.b.OutlineItem() != nil {
		i.Place = m.b.OutlineItem().Whole
	}
	if o := m.b.Outline(); o != nil {
		m.cover(o.Path)
		box := o.Path.Box()
		i.Parts = []Part{{Role: Profile, Paths: loops(o.Path)}}
		i.Of = shapeWord(o.Kind)
		i.At, i.Out = at(geom.Point{X: box.Min.X, Y: box.Max.Y}), Point{}
		i.Facts = []Fact{
			{Label: "width", Value: (box.Max.X - box.Min.X) / mm, Unit: "mm"},
			{Label: "height", Value: (box.Max.Y - box.Min.Y) / mm, Unit: "mm"},
			{Label: "length of the profile", Value: o.Path.Perimeter() / mm, Unit: "mm"},
		}
	}
	if t := m.scene.Thickness; t > 0 {
		i.Facts = append(i.Facts, Fact{Label: "thickness", Value: t, Unit: "mm"})
	}
	for _, open := range m.b.Open() {
		m.box = m.box.Union(geom.NewLoop(open.Pieces).Box())
		i.Parts = append(i.Parts, Part{Role: Profile, Paths: []Path{chain(open.Pieces, false)}}, Part{Role: Unclosed, Paths: []Path{chain([]geom.Segment{geom.Line(open.End, open.Start)}, false)}})
		i.At = at(open.End)
		if i.Place.Anchor == nil {
			i.Place = open.At
		}
		i.Facts = append(i.Facts, Fact{Label: open.Name + " does not close, by", Value: open.End.Dist(open.Start) / mm, Unit: "mm"})
	}
	m.add(i)
}

func shapeWord(kind string) string {
	if kind == "start" {
		return "drawn path"
	}
	return kind
}

func (m *maker) cutout(c *board.Cutout) Item {
	i := Item{Kind: "cutout", Of: shapeWord(c.Kind)}
	if c.Profile == nil {
		return i
	}
	m.cover(c.Profile.Path)
	box := c.Profile.Path.Box()
	i.Parts = []Part{{Role: Profile, Paths: loops(c.Profile.Path)}}
	i.At = at(c.Profile.Path.Centroid())
	if c.Width.Given() {
		i.Facts = append(i.Facts, Fact{Label: "narrowest", Value: c.Width.Value / mm, Unit: "mm"})
	}
	i.Facts = append(i.Facts,
		Fact{Label: "across in x", Value: (box.Max.X - box.Min.X) / mm, Unit: "mm"},
		Fact{Label: "across in y", Value: (box.Max.Y - box.Min.Y) / mm, Unit: "mm"},
		Fact{Label: "length of the profile", Value: c.Profile.Path.Perimeter() / mm, Unit: "mm"})
	return i
}

func (m *maker) hole(h *board.Hole) Item {
	i := Item{Kind: "hole", Of: h.Wall(), At: at(h.Centre)}
	drilled := Part{Role: Hole, Paths: loops(h.Path())}
	if h.Plated {
		drilled.Role = Via
	}
	m.cover(h.Path())
	if land := h.LandPath(); land != nil {
		m.cover(land)
		for _, side := range [...]Side{Top, Bottom} {
			i.Parts = append(i.Parts, Part{Role: Land, Side: side, Paths: loops(land), Less: loops(h.Path())})
		}
	}
	i.Parts = append(i.Parts, drilled)
	i.Facts = []Fact{{Label: "diameter", Value: h.Diameter.Value / mm, Unit: "mm"}}
	if h.Land.Given() {
		i.Facts = append(i.Facts, Fact{Label: "land", Value: h.Land.Value / mm, Unit: "mm"})
	}
	i.Facts = append(i.Facts, Fact{Label: "x", Value: h.Centre.X / mm, Unit: "mm"}, Fact{Label: "y", Value: h.Centre.Y / mm, Unit: "mm"})
	i.Facts = net(i.Facts, h.Net)
	return i
}

func (m *maker) feature(f *board.Feature) Item {
	i := Item{Kind: "feature", Of: "on " + f.Layer.Text, At: at(f.Centre)}
	if f.Shape == nil {
		return i
	}
	m.cover(f.Shape)
	box := f.Shape.Box()
	i.Parts = []Part{{Role: Copper, Side: onLayer(m.b, f.Layer.Text), Layer: f.Layer.Text, Paths: loops(f.Shape)}}
	i.Facts = []Fact{
		{Label: "across in x", Value: (box.Max.X - box.Min.X) / mm, Unit: "mm"},
		{Label: "across in y", Value: (box.Max.Y - box.Min.Y) / mm, Unit: "mm"},
		{Label: "x", Value: f.Centre.X / mm, Unit: "mm"},
		{Label: "y", Value: f.Centre.Y / mm, Unit: "mm"},
	}
	i.Facts = net(i.Facts, f.Net)
	return i
}

// part is where a weight is; it has no shape.
func (m *maker) part(p *board.Part) Item {
	return Item{Kind: "part", At: at(p.Centre), Facts: []Fact{{Label: "mass", Value: p.Mass.Value * 1000, Unit: "g"},
		{Label: "x", Value: p.Centre.X / mm, Unit: "mm"}, {Label: "y", Value: p.Centre.Y / mm, Unit: "mm"}}}
}

func (m *maker) fence(f *board.Fence) Item {
	i := Item{Kind: "fence", Of: fmt.Sprintf("%d vias", len(f.Vias))}
	i.Facts = given(given([]Fact{
		{Label: "vias", Value: float64(len(f.Vias))},
		{Label: "hole", Value: f.Hole.Value / mm, Unit: "mm"},
	}, "land", f.Land), "clearance", f.Clearance)
	if f.LeftOut > 0 {
		i.Facts = append(i.Facts, Fact{Label: "vias left out", Value: float64(f.LeftOut)})
	}
	if f.Added {
		i.Facts = append(i.Facts, Fact{Label: "in the artwork", Text: "not yet"})
	}
	i.Facts = net(append(i.Facts,
		Fact{Label: "pitch", Value: f.Pitch.Value / mm, Unit: "mm"},
		Fact{Label: "from the profile", Value: f.Inset.Value / mm, Unit: "mm"},
	), f.Net)
	if f.Even {
		i.Of += ", evenly all round"
	}
	if len(f.Vias) == 0 {
		return i
	}
	part := Part{Role: Via, Paths: make([]Path, 0, len(f.Vias))}
	var pads []Path
	for _, v := range f.Vias {
		via := geom.Circle(v, f.Hole.Value)
		m.cover(via)
		part.Paths = append(part.Paths, chain(via.Segments(), true))
		if f.Land.Given() {
			pad := geom.Circle(v, f.Land.Value)
			m.cover(pad)
			pads = append(pads, chain(pad.Segments(), true))
		}
	}
	if f.Land.Given() {
		for _, side := range [...]Side{Top, Bottom} {
			i.Parts = append(i.Parts, Part{Role: Land, Side: side, Paths: pads, Less: part.Paths})
		}
	}
	i.Parts = append(i.Parts, part)
	i.At = at(f.Vias[len(f.Vias)/3])
	return i
}

// plane is the board less a margin along the profile: along all of it, or on
// a layer that a plating of the same net joins along all but its stretches; what of
// that lies in its rectangle, where it has one.
func (m *maker) plane(p *board.Plane) Item {
	i := Item{Kind: "plane", Of: "on " + p.Layer.Text}
	i.Facts = net([]Fact{{Label: "from the profile", Value: p.Pullback.Value / mm, Unit: "mm"}}, p.Net)
	if len(m.scene.Outline) == 0 {
		return i
	}
	r, _ := m.b.Region()
	area := []*geom.Loop{r.Outer}
	if w := p.Within; w != nil {
		i.Facts = append(i.Facts, Fact{Label: "within", Text: strings.TrimPrefix(p.Rectangle(), " within ")})
		area = geom.Within(r.Outer, *w)
	}
	part := Part{Role: Plane, Side: onLayer(m.b, p.Layer.Text), Layer: p.Layer.Text, Paths: loops(area...), Less: slices.Clone(m.scene.Cutouts)}
	for _, profile := range m.b.Profiles() {
		part.Less = append(part.Less, m.margin(p, profile)...)
	}
	i.Parts = []Part{part}
	i.At = at(r.Centroid())
	if p.Within != nil {
		i.At = at(p.Within.Center())
		for _, l := range area[:min(len(area), 1)] {
			i.At = at(l.Centroid())
		}
	}
	return i
}

func (m *maker) margin(p *board.Plane, profile *board.Profile) []Path {
	wall := m.b.Wall(profile)
	var apart []board.Stretch
	for _, s := range wall.Plated {
		if !m.b.RunsTo(p, s.Plating) {
			apart = append(apart, s)
		}
	}
	if len(apart) == len(wall.Plated) {
		whole := board.Stretch{Profile: profile, To: profile.Path.Perimeter()}
		return loops(whole.Inward(p.Pullback.Value)...)
	}
	var out []Path
	bare := wall.Bare
	if onLayer(m.b, p.Layer.Text) == Inside {
		bare = m.b.Finished(profile).Bare // under premetallised tabs there is no wall to run to
	}
	for _, s := range append(apart, bare...) {
		out = append(out, loops(s.Inward(p.Pullback.Value)...)...)
	}
	return out
}

func net(facts []Fact, n board.Name) []Fact {
	if n.Given() {
		return append(facts, Fact{Label: "net", Text: n.Text})
	}
	return facts
}

func (m *maker) edges() {
	for _, e := range m.b.Edges() {
		middle := e.Position((e.From + e.To) / 2)
		tangent := e.Profile.Path.Tangent(e.Along(middle))
		if e.Reversed {
			tangent = tangent.Scale(-1)
		}
		m.scene.Edges = append(m.scene.Edges, Edge{
			Name: e.Name, Middle: at(e.Point(middle)), Out: way(e.Inward(middle).Scale(-1)), Way: way(tangent),
			Length: e.Length / mm, Cutout: e.Profile.Cutout, Closed: e.Closed,
		})
	}
}

// inner lists the inner layers in use, in the order of the stack.
func (m *maker) inner() {
	used := map[string]bool{}
	for _, i := range m.scene.Items {
		for _, p := range i.Parts {
			if p.Side == Inside {
				used[p.Layer] = true
			}
		}
	}
	for _, name := range m.b.CopperLayers() {
		if used[name] {
			m.scene.Inner = append(m.scene.Inner, name)
		}
	}
}
