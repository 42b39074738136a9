package board

import (
	"math"
	"time"

	"hemline/lang/geom"
	"hemline/lang/syntax"
)

func (m *meaning) plating(r *syntax.Reading, base Item) *Plating {
	p := &Plating{Item: base, Along: m.along(r, "the plating"), Net: nameOf(r.Get("net"), 0), Finish: nameOf(r.Get("finish"), 0)}
	for _, w := range r.All("wrap") {
		f, ok := m.face(w.Values[0])
		if !ok {
			continue
		}
		if p.Wrap[f].Given() {
			m.report(syntax.RuleRepeated, w.Place(), "the wrap on %s is stated twice", f)
			continue
		}
		p.Wrap[f] = m.quantity(w, 1, notNegative)
		if p.Wrap[f].Given() {
			p.Wrap[f].At = w.Place()
		}
	}
	p.Copper = m.quantity(r.Get("copper"), 0, positive)
	p.Extend = m.quantity(r.Get("extend"), 0, notNegative)
	if layers := r.Get("layers"); layers != nil {
		p.LayersAt = layers.Place()
		for i, v := range layers.Values {
			if word, _ := v.Word(); word == syntax.All && v.Expr.Op == syntax.OpName {
				p.AllLayers = true
				continue
			}
			if m.layer(v) {
				p.Layers = append(p.Layers, nameOf(layers, i))
			}
		}
	}
	return p
}

// layer holds a layer's name to the stack.
func (m *meaning) layer(v syntax.Value) bool {
	m.reads.stack = true
	name, _ := v.Word()
	stack := m.env.stack()
	for _, k := range stack.copper() {
		if k == name {
			return true
		}
	}
	if _, ok := stack.alias(name); ok {
		return true
	}
	if stack == nil || !stack.Faulty { // a faulty one may lack just this layer
		m.unknown(v.Place(), layerNames, name)
	}
	return false
}

// place reads where a gap stands: `at P width W`, or `from A to B`.
func (m *meaning) place(r *syntax.Reading, e *Edge, what string) (span, bool) {
	if from := r.Get("from"); from != nil {
		if w := r.Get("width"); w != nil {
			m.report(syntax.RuleRepeated, w.Place(), "from and to say how wide %s is; leave out width", what)
		}
		return m.stretch(from, e, what)
	}
	width := r.Get("width")
	if width == nil {
		if r.Get("at") != nil && !r.Stands("width") {
			m.report(RuleMissing, r.Get("at").Place(), "expected width beside at: how wide %s is", what)
		}
		return span{}, false
	}
	w := m.quantity(width, 0, positive)
	p, ok := m.middle(r, e)
	if !ok || !w.Given() {
		return span{}, false
	}
	s := span{from: p.Value - w.Value/2, to: p.Value + w.Value/2, at: r.Get("at").Place().Cover(width.Place()), position: p, width: w}
	return s, m.onEdge(e, s.from, s.to, s.at, what)
}

func (m *meaning) gap(r *syntax.Reading, base Item) *Gap {
	g := &Gap{Item: base, Of: nameOf(r.Get("of"), 0), For: nameOf(r.Get("for"), 0), Closed: r.Get("closed") != nil}
	if g.Edge, g.EdgeAt = m.edgeOf(r); g.Edge == nil || !g.Of.Given() {
		return nil
	}
	s, ok := m.place(r, g.Edge, "the gap")
	if !ok {
		return nil
	}
	g.From, g.To, g.Stretch, g.Position, g.Width = s.from, s.to, s.at, s.position, s.width
	return g
}

func (m *meaning) connector(r *syntax.Reading, base Item) *Connector {
	c := &Connector{Item: base, Net: nameOf(r.Get("net"), 0)}
	c.Edge, _ = m.edgeOf(r)
	at, ok := m.middle(r, c.Edge)
	c.Body = m.quantity(r.Get("body"), 0, positive)
	c.Clearance = m.quantity(r.Get("clearance"), 0, notNegative)
	for _, p := range r.All("pin") {
		f, good := m.face(p.Values[0])
		pin := Pin{Face: f, Width: m.quantity(p.Get("width"), 0, positive), Length: m.quantity(p.Get("length"), 0, positive), At: p.Place()}
		if good && pin.Width.Given() && pin.Length.Given() {
			c.Pins = append(c.Pins, pin)
		}
	}
	if !ok || !c.Body.Given() {
		return nil
	}
	c.Position, c.PositionAt = at.Value, r.Get("at").Place()
	if !m.onEdge(c.Edge, c.Position, c.Position, c.PositionAt, "the connector's middle") {
		return nil
	}
	return c
}

func (m *meaning) relief(r *syntax.Reading, base Item) *Relief {
	x := &Relief{Item: base, Over: nameOf(r.Get("over"), 0), Reach: m.quantity(r.Get("reach"), 0, positive), Margin: m.quantity(r.Get("margin"), 0, notNegative)}
	if on := r.Get("on"); on != nil {
		for _, v := range on.Values {
			if f, ok := m.face(v); ok {
				x.Faces = append(x.Faces, f)
			}
		}
	}
	if !x.Over.Given() || len(x.Faces) == 0 || !x.Reach.Given() {
		return nil
	}
	return x
}

func (m *meaning) tab(r *syntax.Reading, base Item) *Tab {
	t := &Tab{Item: base, Routed: r.Get("routed") != nil, Premetallised: r.Get("premetallised") != nil}
	t.Edge, _ = m.edgeOf(r)
	at, ok := m.middle(r, t.Edge)
	t.Width = m.quantity(r.Get("width"), 0, positive)
	t.Length = m.quantity(r.Get("length"), 0, positive)
	if p := r.Get("perforated"); p != nil {
		t.Perforated = true
		t.Hole, t.Pitch = m.quantity(p.Get("hole"), 0, positive), m.quantity(p.Get("pitch"), 0, positive)
		t.Inset = m.quantity(p.Get("inset"), 0, anySign)
	}
	if !ok || !t.Width.Given() || t.Perforated && (!t.Hole.Given() || !t.Pitch.Given()) || t.Routed == t.Perforated {
		return nil
	}
	t.Position, t.PositionAt = at.Value, r.Get("at").Place()
	if n := t.HoleCount(); n > MaxItems {
		m.report(RuleTooMany, t.Pitch.At, "at this pitch there are %d holes in the tab; at most %d are read", n, MaxItems)
		return nil
	}
	if !m.onEdge(t.Edge, t.From(), t.To(), t.PositionAt.Cover(r.Get("width").Place()), "the tab") {
		return nil
	}
	return t
}

func (m *meaning) castellation(r *syntax.Reading, base Item) *Castellation {
	c := &Castellation{Item: base, Nets: namesOf(r.Get("net"))}
	c.Edge, _ = m.edgeOf(r)
	c.Hole, c.Pitch = m.quantity(r.Get("hole"), 0, positive), m.quantity(r.Get("pitch"), 0, positive)
	if land := r.Get("land"); land != nil {
		c.LandWidth, c.LandLength = m.quantity(land, 0, positive), m.quantity(land.Get("by"), 0, positive)
	}
	if c.Edge == nil || !c.Hole.Given() || !c.LandWidth.Given() || !c.LandLength.Given() {
		return nil
	}
	if from := r.Get("from"); from != nil {
		s, ok := m.stretch(from, c.Edge, "the row of half holes")
		if !ok {
			return nil
		}
		c.From, c.To, c.Stretch = s.from, s.to, s.at
		if !c.Pitch.Given() {
			if !r.Stands("pitch") {
				m.report(RuleMissing, c.Stretch, "expected pitch beside from and to: from hole to hole")
			}
			return nil
		}
	} else {
		at, ok := m.middle(r, c.Edge)
		if !ok {
			return nil
		}
		c.From, c.To, c.Stretch = at.Value, at.Value, r.Get("at").Place()
		if !m.onEdge(c.Edge, c.From, c.To, c.Stretch, "the half hole") {
			return nil
		}
	}
	if !m.row(c.Edge, c.From, c.To, c.Pitch, "half holes", &c.Centres) {
		return nil
	}
	c.To = c.Centres[len(c.Centres)-1]
	if n := len(c.Nets); n > 1 && n != len(c.Centres) {
		m.report(RuleWrongValue, r.Get("net").Place(), "the row has %d half holes and %d nets; give one net, or one for each hole", len(c.Centres), n)
	}
	return c
}

// row fills in the positions from one end to the other at a pitch, the number
// of them bounded. All round a closed edge the last is not the first again.
func (m *meaning) row(e *Edge, from, to float64, pitch Value, what string, out *[]float64) bool {
	n := 1.0
	if to > from && pitch.Given() {
		n += math.Floor((to-from)/pitch.Value + 1e-9)
		if e.Closed && n > 1 && (n-1)*pitch.Value >= e.Length-Tolerance {
			n--
		}
	}
	if float64(len(*out))+n > MaxItems {
		m.report(RuleTooMany, pitch.At, "at this pitch there are %.0f %s in the row; at most %d are read", n, what, MaxItems)
		return false
	}
	for i := range int(n) {
		*out = append(*out, grid(from+float64(i)*pitch.Value))
	}
	return true
}

func (m *meaning) plane(r *syntax.Reading, base Item) *Plane {
	on := r.Get("on")
	p := &Plane{Item: base, Layer: nameOf(on, 0), Net: nameOf(r.Get("net"), 0), Pullback: m.quantity(r.Get("pullback"), 0, notNegative)}
	if on == nil || !m.layer(on.Values[0]) || !p.Pullback.Given() {
		return nil
	}
	// A plane has no name of its own; findings on it are accepted by its layer's.
	p.Item.Name = p.Layer
	return p
}

func (m *meaning) feature(r *syntax.Reading, base Item) *Feature {
	on := r.Get("on")
	f := &Feature{Item: base, Layer: nameOf(on, 0), Net: nameOf(r.Get("net"), 0)}
	known := on != nil && m.layer(on.Values[0])
	at := r.Get("at")
	if at == nil {
		return nil
	}
	centre, ok := m.point(at.Values[0])
	f.Centre = centre
	if rect := r.Get("rectangle"); rect != nil {
		w, h := m.quantity(rect, 0, positive), m.quantity(rect.Get("by"), 0, positive)
		f.ShapeAt = rect.Place().Cover(at.Place())
		if ok && w.Given() && h.Given() {
			f.Shape = geom.RectangleAt(geom.Point{X: grid(centre.X - w.Value/2), Y: grid(centre.Y - h.Value/2)}, w.Value, h.Value, 0)
		}
	} else if circle := r.Get("circle"); circle != nil {
		d := m.quantity(circle, 0, positive)
		f.ShapeAt = circle.Place().Cover(at.Place())
		if ok && d.Given() {
			f.Shape = geom.Circle(centre, d.Value)
		}
	}
	if !known || f.Shape == nil {
		return nil
	}
	return f
}

func (m *meaning) fence(r *syntax.Reading, base Item) *Fence {
	f := &Fence{Item: base, Along: m.along(r, "the fence"), Net: nameOf(r.Get("net"), 0)}
	f.Inset, f.Pitch, f.Hole = m.quantity(r.Get("inset"), 0, positive), m.quantity(r.Get("pitch"), 0, positive), m.quantity(r.Get("hole"), 0, positive)
	if len(f.Along) == 0 || !f.Inset.Given() || !f.Pitch.Given() || !f.Hole.Given() {
		return nil
	}
	drilled := places{}
	for _, a := range f.Along {
		var at []float64
		from, to := a.From, a.To
		if !a.Edge.Closed {
			// The row starts and ends as far from the edge's ends as it lies
			// inside, so that the rows of two edges meet in one via and none
			// falls outside.
			from, to = math.Max(from, f.Inset.Value), math.Min(to, a.Edge.Length-f.Inset.Value)
		}
		if to < from {
			continue
		}
		if !m.row(a.Edge, from, to, f.Pitch, "vias", &at) {
			return nil
		}
		if len(f.Vias)+len(at) > MaxItems {
			m.report(RuleTooMany, f.Pitch.At, "the fence has more than %d vias, the most that are read", MaxItems)
			return nil
		}
		for _, p := range at {
			if via := a.Edge.Point(p).Add(a.Edge.Inward(p).Scale(f.Inset.Value)); drilled.add(via) {
				f.Vias = append(f.Vias, via)
			}
		}
	}
	return f
}

// places is a set of points in which those within Tolerance are one, kept in
// cells of a micrometre.
type places map[geom.Point]geom.Point

// add puts a point in and tells whether it was not there yet.
func (s places) add(p geom.Point) bool {
	cell := geom.Point{X: math.Round(p.X / 1000), Y: math.Round(p.Y / 1000)}
	for _, dx := range [...]float64{0, -1, 1} {
		for _, dy := range [...]float64{0, -1, 1} {
			if q, ok := s[geom.Point{X: cell.X + dx, Y: cell.Y + dy}]; ok && p.Dist(q) <= Tolerance {
				return false
			}
		}
	}
	s[cell] = p
	return true
}

func (m *meaning) fabricator(r *syntax.Reading, base Item) *Fabricator {
	f := &Fabricator{Item: base}
	for _, c := range r.Clauses {
		if c.Broken {
			continue
		}
		switch c.Spec.Word {
		case "offers":
			f.Offers = append(f.Offers, namesOf(c)...)
		case "finishes":
			f.Finishes = append(f.Finishes, namesOf(c)...)
		case "limit":
			f.Limits = append(f.Limits, m.limit(c)...)
		}
	}
	return f
}

// limit reads one limit; it has a minimum, a maximum or both.
func (m *meaning) limit(c *syntax.Clause) []Limit {
	l := Limit{Parameter: nameOf(c, 0), Because: nameOf(c.Get("because"), 0), Source: nameOf(c.Get("source"), 0), At: c.Place()}
	bound := func(word string) (v Value) {
		k := c.Get(word)
		if k == nil {
			return v
		}
		if q, ok := m.eval(k.Values[0]); ok {
			v = Value{q, k.Values[0].Place()}
		}
		return v
	}
	if !c.Stands("minimum") && !c.Stands("maximum") {
		m.report(RuleMissing, c.Place(), "expected minimum or maximum: what the limit is")
		return nil
	}
	l.Minimum, l.Maximum = bound("minimum"), bound("maximum")
	if !l.Minimum.Given() && !l.Maximum.Given() {
		return nil
	}
	return []Limit{l}
}

func (m *meaning) acceptance(r *syntax.Reading, base Item) *Acceptance {
	a := &Acceptance{Item: base, On: nameOf(r.Get("on"), 0), Because: nameOf(r.Get("because"), 0), Until: nameOf(r.Get("until"), 0)}
	a.Item.Name = nameOf(&r.Clause, 0)
	if a.Until.Given() {
		if _, err := time.Parse(time.DateOnly, a.Until.Text); err != nil {
			m.report(RuleWrongValue, a.Until.At, "expected a date such as \"2027-06-30\", found %q", a.Until.Text)
			a.Until = Name{}
		}
	}
	if !a.Item.Name.Given() || !a.On.Given() {
		return nil
	}
	return a
}
