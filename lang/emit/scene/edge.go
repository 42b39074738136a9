package scene

import (
	"fmt"
	"strings"

	"hemline/lang/board"
	"hemline/lang/geom"
)

const (
	// TabReach, mm, is how long a tab is drawn that states no length: the width
	// of the slot between board and frame, 2 mm in common practice.
	TabReach = 2.0
	// bodyDepth is how far a connector's body is drawn out of the board that states
	// no overhang, as a share of its width.
	bodyDepth = 0.4
	// bodyRise is how far a connector's body is drawn past either face, as a share of its width.
	bodyRise = 0.25
)

// BodyOut is how far a connector's body is drawn out of the board, nm: as far as it
// stands, or where the text does not say by its width.
func BodyOut(c *board.Connector) float64 {
	if c.Overhang.Given() {
		return c.Overhang.Value
	}
	return bodyDepth * c.Body.Value
}

func (m *maker) plating(p *board.Plating) Item {
	i := Item{Kind: "plating"}
	var line Part
	var longest board.Stretch
	line.Role, line.Width = Plated, p.Copper.Value/mm
	wraps := [2]Part{{Role: Wrap, Side: Top, Clipped: true}, {Role: Wrap, Side: Bottom, Clipped: true}}
	for _, s := range m.runs[p.Name.Text] {
		for w := range m.b.Walled(s) {
			line.Paths = append(line.Paths, chain(w.Segments(), w.Round()))
		}
		for _, f := range board.Faces {
			wraps[f].Paths = append(wraps[f].Paths, loops(s.Band(f)...)...)
		}
		if s.Length() > longest.Length() {
			longest = s
		}
	}
	length := m.b.PlatedLength(p)
	i.Facts = net(append([]Fact{{Label: "plated length", Value: length / mm, Unit: "mm"}}, m.shares(p)...), p.Net)
	for _, f := range board.Faces {
		if p.Wrap[f].Given() {
			i.Facts = append(i.Facts, Fact{Label: "wrap " + f.String(), Value: p.Wrap[f].Value / mm, Unit: "mm"})
		}
	}
	i.Facts = given(i.Facts, "copper", p.Copper)
	i.Facts = given(i.Facts, "extend", p.Extend)
	if f := m.b.FinishOf(p); f.Given() {
		i.Facts = append(i.Facts, Fact{Label: "finish", Text: f.Text})
	}
	if longest.Profile == nil {
		return i
	}
	i.Parts = append(i.Parts, line)
	for _, w := range wraps {
		if len(w.Paths) > 0 {
			i.Parts = append(i.Parts, w)
		}
	}
	// A third along the longest stretch: the middle is where gaps and names of edges are.
	i.At, i.Out = foot(longest.Profile, longest.From+longest.Length()/3)
	return i
}

// shares are how much of each profile that a plating runs on is plated.
func (m *maker) shares(p *board.Plating) []Fact {
	var facts []Fact
	var last *board.Profile
	for s := range m.b.FinishedBy(p) {
		if s.Profile != last {
			facts = append(facts, Fact{Label: "plated share of " + s.Profile.Name, Value: m.b.Finished(s.Profile).Share * 100, Unit: "%"})
		}
		last = s.Profile
	}
	return facts
}

// foot is the point of a profile at a distance along it, and the way out of
// the board there.
func foot(p *board.Profile, along float64) (Point, Point) {
	return at(p.Path.At(along)), way(p.Outward(along))
}

func given(facts []Fact, label string, v board.Value) []Fact {
	if v.Given() {
		return append(facts, Fact{Label: label, Value: v.Value / mm, Unit: "mm"})
	}
	return facts
}

// run is what every item on a stretch of an edge has: its facts, its ends and
// where it is pointed at.
func (m *maker) run(i *Item, e *board.Edge, from, to float64) []geom.Segment {
	a, b := e.Range(from, to)
	middle := (from + to) / 2
	i.At, i.Out = at(e.Point(middle)), way(e.Inward(middle).Scale(-1))
	i.Facts = append(i.Facts, Fact{Label: "edge", Text: e.Name},
		Fact{Label: "from", Value: from / mm, Unit: "mm"}, Fact{Label: "to", Value: to / mm, Unit: "mm"},
		Fact{Label: "width", Value: (to - from) / mm, Unit: "mm"})
	for _, p := range [...]float64{from, to} {
		i.Ends = append(i.Ends, End{At: at(e.Point(p)), In: way(e.Inward(p))})
	}
	if b-a <= board.Tolerance {
		return nil
	}
	return board.Stretch{Profile: e.Profile, From: a, To: b}.Segments()
}

func (m *maker) gap(g *board.Gap) Item {
	i := Item{Kind: "gap"}
	segs := m.run(&i, g.Edge, g.From, g.To)
	i.Facts = append(i.Facts, Fact{Label: "of", Text: g.Of.Text})
	switch {
	case g.Tab != nil:
		i.Facts = append(i.Facts, Fact{Label: "opened by", Text: "tab " + g.Name.Text})
	case g.Connector != nil:
		i.Facts = append(i.Facts, Fact{Label: "opened by", Text: "connector " + g.Name.Text})
	case g.For.Given():
		what := g.For.Text
		if g.ForTab(m.b) != nil {
			what = "tab " + what
		}
		i.Facts = append(i.Facts, Fact{Label: "for", Text: what})
	}
	if g.BridgedBy(m.b) != nil {
		i.Of = "bridged by its connector"
	}
	if len(segs) > 0 {
		i.Parts = []Part{{Role: Bare, Paths: []Path{chain(segs, false)}}}
	}
	return i
}

func (m *maker) tab(t *board.Tab) Item {
	i := Item{Kind: "tab"}
	segs := m.run(&i, t.Edge, t.From(), t.To())
	length, stated := t.Length.Value, t.Length.Given()
	if !stated {
		length = TabReach * mm
	}
	bands := geom.Band(segs, length, t.Edge.Profile.Cutout)
	m.cover(bands...)
	if len(bands) > 0 {
		i.Parts = append(i.Parts, Part{Role: Tab, Paths: loops(bands...), Nominal: !stated})
	}
	if m.b.Rooted(t) {
		i.Parts = append(i.Parts, Part{Role: Bare, Paths: []Path{chain(segs, false)}})
	}
	i.Facts = given(i.Facts, "length", t.Length)
	kinds := []string{"solid"}
	if t.Perforated {
		kinds[0] = "perforated"
		holes := m.perforation(t)
		m.cover(holes...)
		if len(holes) > 0 {
			i.Parts = append(i.Parts, Part{Role: Hole, Paths: loops(holes...)})
		}
		i.Facts = append(i.Facts, Fact{Label: "holes", Value: float64(len(holes))},
			Fact{Label: "hole", Value: t.Hole.Value / mm, Unit: "mm"}, Fact{Label: "pitch", Value: t.Pitch.Value / mm, Unit: "mm"})
		i.Facts = given(i.Facts, "inset", t.Inset)
	}
	if t.Premetallised {
		kinds = append(kinds, "premetallised")
	}
	i.Of = strings.Join(kinds, ", ")
	return i
}

// perforation is a tab's row of holes.
func (m *maker) perforation(t *board.Tab) (holes []*geom.Loop) {
	for _, centre := range t.Holes() {
		holes = append(holes, geom.Circle(centre, t.Hole.Value))
	}
	return holes
}

func (m *maker) castellation(c *board.Castellation) Item {
	i := Item{Kind: "castellation", Of: fmt.Sprintf("%d half holes", len(c.Centres))}
	if len(c.Centres) == 1 {
		i.Of = "1 half hole"
	}
	hole := Part{Role: HalfHole, Clipped: true}
	var lands []Part
	for _, f := range board.Faces {
		if outer := m.b.OuterLayer(f); m.b.LandsOn(c, outer) {
			lands = append(lands, Part{Role: Land, Side: sideOf(f), Clipped: true})
		}
	}
	for _, l := range m.b.CopperLayers() {
		if onLayer(m.b, l) == Inside && m.b.LandsOn(c, l) {
			lands = append(lands, Part{Role: Land, Side: Inside, Layer: l, Clipped: true})
		}
	}
	for n, p := range c.Centres {
		hole.Paths = append(hole.Paths, loops(geom.Circle(c.Edge.Point(p), c.Hole.Value))...)
		if c.LandWidth.Value > 0 && c.LandLength.Value > 0 {
			land := loops(c.Land(n))
			for f := range lands {
				lands[f].Paths = append(lands[f].Paths, land...)
			}
		}
	}
	for f := range lands {
		if lands[f].Less = hole.Paths; len(lands[f].Paths) > 0 {
			i.Parts = append(i.Parts, lands[f])
		}
	}
	if len(hole.Paths) > 0 {
		i.Parts = append(i.Parts, hole)
	}
	middle := (c.From + c.To) / 2
	i.At, i.Out = at(c.Edge.Point(middle)), way(c.Edge.Inward(middle).Scale(-1))
	i.Facts = append(i.Facts, Fact{Label: "edge", Text: c.Edge.Name}, Fact{Label: "half holes", Value: float64(len(c.Centres))})
	if len(c.Centres) > 1 {
		i.Facts = append(i.Facts, Fact{Label: "first at", Value: c.From / mm, Unit: "mm"}, Fact{Label: "last at", Value: c.To / mm, Unit: "mm"})
	} else {
		i.Facts = append(i.Facts, Fact{Label: "at", Value: c.From / mm, Unit: "mm"})
	}
	for _, f := range [...]struct {
		label string
		value board.Value
	}{{"pitch", c.Pitch}, {"hole", c.Hole}, {"land along the edge", c.LandWidth}, {"land inward", c.LandLength}} {
		i.Facts = given(i.Facts, f.label, f.value)
	}
	if len(c.Layers) > 0 {
		i.Facts = append(i.Facts, Fact{Label: "lands on", Text: strings.Join(c.LandLayers(), " ")})
	}
	if c.Left > 0 {
		i.Facts = append(i.Facts, Fact{Label: "left out", Value: float64(c.Left)})
	}
	if d := c.Short(); d > 0 {
		i.Facts = append(i.Facts, Fact{Label: "ends short by", Value: d / mm, Unit: "mm"})
	}
	if f := m.b.FinishOfHalfHoles(c); f.Given() {
		i.Facts = append(i.Facts, Fact{Label: "finish", Text: f.Text})
	}
	if c.Burrs.Given() {
		i.Facts = append(i.Facts, Fact{Label: "burrs", Text: c.Burrs.Text})
	}
	if len(c.Nets) > 0 {
		names := make([]string, len(c.Nets))
		for k, n := range c.Nets {
			names[k] = n.Text
		}
		i.Facts = append(i.Facts, Fact{Label: "net", Text: strings.Join(names, " ")})
	}
	return i
}

func (m *maker) connector(c *board.Connector) Item {
	i := Item{Kind: "connector"}
	middle := c.Position
	i.At, i.Out = at(c.Edge.Point(middle)), way(c.Edge.Inward(middle).Scale(-1))
	body := c.Edge.Standing(c.Position, c.Body.Value, -c.BodyReach.Value, -BodyOut(c))
	m.cover(body)
	i.Parts = []Part{{Role: Body, Paths: loops(body), Nominal: !c.Overhang.Given(), Rise: bodyRise * c.Body.Value / mm}}
	i.Facts = []Fact{{Label: "edge", Text: c.Edge.Name}, {Label: "at", Value: c.Position / mm, Unit: "mm"}, {Label: "body", Value: c.Body.Value / mm, Unit: "mm"}}
	i.Facts = given(i.Facts, "over the board", c.BodyReach)
	i.Facts = given(i.Facts, "out past the profile", c.Overhang)
	for _, p := range c.Pins {
		pin := c.Pad(p)
		m.cover(pin)
		i.Parts = append(i.Parts, Part{Role: Pin, Side: sideOf(p.Face), Layer: m.b.OuterLayer(p.Face), Paths: loops(pin)})
		i.Facts = append(i.Facts, Fact{Label: "pin on " + p.Face.String() + ", width", Value: p.Width.Value / mm, Unit: "mm"},
			Fact{Label: "length", Value: p.Length.Value / mm, Unit: "mm"})
	}
	if l := c.Legs; l != nil {
		for _, f := range l.Faces {
			for n := range c.LegsAt() {
				leg := c.Leg(n)
				m.cover(leg)
				i.Parts = append(i.Parts, Part{Role: Pin, Side: sideOf(f), Layer: m.b.OuterLayer(f), Paths: loops(leg)})
			}
			i.Facts = append(i.Facts, Fact{Label: "legs on " + f.String() + ", width", Value: l.Width.Value / mm, Unit: "mm"},
				Fact{Label: "length", Value: l.Length.Value / mm, Unit: "mm"}, Fact{Label: "from middle to middle", Value: l.Spacing.Value / mm, Unit: "mm"})
		}
	}
	if c.Mass.Given() {
		i.Facts = append(i.Facts, Fact{Label: "mass", Value: c.Mass.Value * 1000, Unit: "g"})
	}
	i.Facts = given(i.Facts, "clearance", c.Clearance)
	i.Facts = net(i.Facts, c.Net)
	return i
}

// relief is the mask taken off: over a plating the strip inward from its
// stretches, over half holes the land's width, each with its margin along the edge.
func (m *maker) relief(r *board.Relief) Item {
	i := Item{Kind: "relief", Of: "on " + strings.Join(r.FaceNames(), " and ")}
	i.Facts = given([]Fact{{Label: "over", Text: r.OverNames()}}, "reach", r.Reach)
	i.Facts = append(i.Facts, Fact{Label: "margin along the edge", Value: r.Beyond(m.scene.MaskMargin) / mm, Unit: "mm"})
	longest := 0.0
	var open [2][]*geom.Loop
	for _, o := range m.b.Openings(r, m.scene.MaskMargin) {
		open[o.Face] = append(open[o.Face], o.Loops()...)
		if o.Row != nil {
			at0 := o.Row.Centres[o.Hole]
			if longest == 0 {
				longest = o.Width
				i.At, i.Out = at(o.Row.Edge.Point(at0)), Point{}
			}
			continue
		}
		if s := o.Stretch; s.Length() > longest {
			longest = s.Length()
			i.At, i.Out = at(s.Profile.Path.At(s.From+longest*2/3)), Point{}
		}
	}
	for _, f := range r.Faces {
		if len(open[f]) > 0 {
			i.Parts = append(i.Parts, Part{Role: Opening, Side: sideOf(f), Paths: loops(open[f]...), Clipped: true})
		}
	}
	return i
}
