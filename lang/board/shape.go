package board

import (
	"math"

	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Cutout is an opening in the board.
type Cutout struct {
	Item
	Profile *Profile
	// Kind is the shape's keyword: rectangle, circle, slot, or start for a drawn path.
	Kind string
	// Centre is where the text places a rectangle, circle or slot; zero for a drawn path,
	// whose points are its place.
	Centre geom.Point
	// Width is the narrow side of a rectangle or slot, a circle's diameter; absent for a drawn path.
	Width Value
}

// SlotLength is a slot's over all, nm: its rim is two straights and a full circle.
func (c *Cutout) SlotLength() float64 {
	w := c.Width.Value
	return (c.Profile.Path.Perimeter()-math.Pi*w)/2 + w
}

// OpenPath is a drawn path whose end is not its start.
type OpenPath struct {
	Name       string // "outline" or the cutout's
	Start, End geom.Point
	At         source.Place // of the last piece
	Pieces     []geom.Segment
}

// shape is the meaning of an outline or cutout statement.
type shape struct {
	Cutout        // without a Profile where the path does not close or could not be read
	key    string // "" for the outline
	open   *OpenPath
}

func (m *meaning) shape(r *syntax.Reading, base Item) *shape {
	s := &shape{Cutout: Cutout{Item: base}}
	cutout := r.Spec.Word == "cutout"
	centre := geom.Point{}
	if cutout {
		s.key = base.Name.Text
		if at := r.Get("at"); at != nil {
			p, ok := m.point(at.Values[0])
			if !ok {
				return nil
			}
			centre = p
		} else if r.Get("start") == nil {
			if !r.Stands("at") {
				m.report(RuleMissing, r.Keyword, "cutout needs at (x, y): where its centre is")
			}
			return nil
		}
	}
	if turned := r.Get("turned"); turned != nil && !r.Stands("slot") {
		m.report(RuleWrongValue, turned.Place(), "turned is of a slot")
	}
	switch {
	case r.Get("rectangle") != nil:
		s.rectangle(m, r.Get("rectangle"), centre, cutout)
	case r.Get("circle") != nil:
		s.Kind = "circle"
		if s.Width = m.quantity(r.Get("circle"), 0, positive); s.Width.Given() {
			s.Profile = rimProfile(geom.Circle(centre, s.Width.Value), s.Kind)
		}
	case r.Get("slot") != nil:
		s.slot(m, r.Get("slot"), r.Get("turned"), centre)
	case r.Get("start") != nil:
		s.drawn(m, r)
	}
	if s.Kind != "start" {
		s.Centre = centre
	}
	if s.Profile == nil {
		if s.open != nil {
			return s
		}
		return nil
	}
	p := s.Profile
	p.Name, p.Cutout, p.At = "outline", cutout, base.Keyword
	for _, e := range p.Edges {
		if cutout {
			e.Name = base.Name.Text + "." + e.Name
		}
		if e.At.Anchor == nil {
			e.At = base.Keyword
			if base.Name.Given() {
				e.At = base.Name.At
			}
		}
	}
	if cutout {
		p.Name = base.Name.Text
	}
	return s
}

func (s *shape) rectangle(m *meaning, c *syntax.Clause, centre geom.Point, cutout bool) {
	s.Kind = "rectangle"
	w, h := m.quantity(c, 0, positive), m.quantity(c.Get("by"), 0, positive)
	r := m.quantity(c.Get("corner"), 0, notNegative)
	if !w.Given() || !h.Given() || c.Get("corner") != nil && !r.Given() {
		return
	}
	if r.Value > math.Min(w.Value, h.Value)/2 {
		m.report(RuleWrongValue, r.At, "the corner's radius of %s is more than half the shorter side (%s)", r, quantity.Quantity{Value: math.Min(w.Value, h.Value) / 2, Dim: quantity.Length, Unit: r.Unit})
		return
	}
	s.Width = w
	if h.Value < w.Value {
		s.Width = h
	}
	corner := geom.Point{}
	if cutout {
		corner = geom.Point{X: grid(centre.X - w.Value/2), Y: grid(centre.Y - h.Value/2)}
	}
	s.Profile = rectangleProfile(corner, w.Value, h.Value, r.Value)
}

func (s *shape) slot(m *meaning, c, angle *syntax.Clause, centre geom.Point) {
	s.Kind = "slot"
	l, w := m.quantity(c, 0, positive), m.quantity(c.Get("by"), 0, positive)
	turned := m.quantity(angle, 0, anySign)
	if !l.Given() || !w.Given() || angle != nil && !turned.Given() {
		return
	}
	if l.Value < w.Value {
		m.report(RuleWrongValue, l.At, "the slot is %s long over all and %s wide; it cannot be shorter than wide", l, w)
		return
	}
	s.Width = w
	s.Profile = rimProfile(geom.Slot(centre, l.Value, w.Value, turned.Value*math.Pi/180), s.Kind)
}

// point reads (x, y).
func (m *meaning) point(v syntax.Value) (geom.Point, bool) {
	if v.Expr.Op != syntax.OpPoint {
		return geom.Point{}, false // reported when it was read
	}
	x, ok := m.value(v.Of(v.Expr.Args[0]), quantity.Length)
	y, also := m.value(v.Of(v.Expr.Args[1]), quantity.Length)
	return geom.Point{X: x.Value, Y: y.Value}, ok && also
}

// drawn reads a path piece by piece, in the order the clauses stand.
func (s *shape) drawn(m *meaning, r *syntax.Reading) {
	s.Kind = "start"
	start, ok := m.point(r.Get("start").Values[0])
	if !ok {
		return
	}
	at, pieces, closed := start, []piece{}, false
	seen := map[string]bool{}
	for _, c := range r.Clauses {
		word := c.Spec.Word
		if word != "line" && word != "arc" && word != "close" {
			continue
		}
		if c.Broken {
			return // its fault is reported; a path with a hole in it has no meaning
		}
		if closed {
			m.report(RuleWrongValue, c.Keyword, "the path is closed already; nothing may come after close")
			return
		}
		name := nameOf(c, 0)
		if seen[name.Text] {
			m.report(RuleDuplicate, name.At, "this path has a piece named %s already", syntax.Quote(name.Text))
			return
		}
		seen[name.Text] = true
		seg, good := m.segment(c, at, start)
		corner := m.quantity(c.Get("corner"), 0, notNegative)
		if !good || c.Get("corner") != nil && !corner.Given() {
			return
		}
		closed = word == "close"
		pieces = append(pieces, piece{name: name.Text, at: name.At, seg: seg, corner: corner})
		at = seg.B
	}
	last := r.Keyword
	if len(pieces) > 0 {
		last = pieces[len(pieces)-1].at
	}
	switch {
	case len(pieces) == 0:
		m.report(RuleMissing, r.Get("start").Place(), "the path has no pieces; expected line, arc or close after start")
	case !closed && at.Dist(start) > Tolerance:
		name := s.key
		if name == "" {
			name = "outline"
		}
		s.open = &OpenPath{Name: name, Start: start, End: at, At: last, Pieces: segments(pieces)}
	case len(pieces) == 1 && !pieces[0].seg.Arc || math.Abs(geom.NewLoop(segments(pieces)).SignedArea()) < 1:
		m.noArea(pieces, last)
	default:
		pieces[len(pieces)-1].seg.B = start
		if m.roundCorners(pieces) {
			s.Profile = drawnProfile(pieces)
		}
	}
}

// noArea says that a path encloses no area, and where it crosses itself if that
// is why.
func (m *meaning) noArea(pieces []piece, last source.Place) {
	segs := segments(pieces)
	for _, c := range geom.NewLoop(segs).Crossings(Tolerance) {
		_, s, _ := segs[c.I].Nearest(c.At)
		_, t, _ := segs[c.J].Nearest(c.At)
		if v, w := segs[c.I].Tangent(s), segs[c.J].Tangent(t); math.Abs(v.Cross(w)) < 1e-9 {
			continue // it runs back along itself
		}
		a, b := pieces[min(c.I, c.J)], pieces[max(c.I, c.J)]
		m.report(RuleWrongValue, b.at, "the path meets itself at %s, where %s and %s cross or touch, and what it encloses on one side is as large as on the other", Coordinates(c.At), a.name, b.name)
		return
	}
	m.report(RuleWrongValue, last, "the path encloses no area")
}

func segments(pieces []piece) []geom.Segment {
	segs := make([]geom.Segment, len(pieces))
	for i, p := range pieces {
		segs[i] = p.seg
	}
	return segs
}

// segment reads one piece of a path that has come to `at`.
func (m *meaning) segment(c *syntax.Clause, at, start geom.Point) (geom.Segment, bool) {
	if c.Spec.Word == "close" {
		if at.Dist(start) <= Tolerance {
			m.report(RuleWrongValue, c.Place(), "the path is back at its start already; nothing is left to close")
			return geom.Segment{}, false
		}
		return geom.Line(at, start), true
	}
	to := c.Get("to")
	if to == nil {
		return geom.Segment{}, false
	}
	end, ok := m.point(to.Values[0])
	if !ok {
		return geom.Segment{}, false
	}
	if c.Spec.Word == "line" {
		if end.Dist(at) <= Tolerance {
			m.report(RuleWrongValue, to.Place(), "the line ends where it starts")
			return geom.Segment{}, false
		}
		return geom.Line(at, end), true
	}
	around := c.Get("around")
	if around == nil {
		return geom.Segment{}, false
	}
	centre, ok := m.point(around.Values[0])
	if !ok {
		return geom.Segment{}, false
	}
	return m.arc(at, end, centre, c.Get("clockwise") != nil, around.Place())
}

// RadiusSlip is how far, in nm, an arc's start and end may differ in their
// distance from its centre: what rounding coordinates to 0.1 µm brings about.
const RadiusSlip = 200

func (m *meaning) arc(a, b, centre geom.Point, clockwise bool, at source.Place) (geom.Segment, bool) {
	r0, r1 := a.Dist(centre), b.Dist(centre)
	switch {
	case r0 <= Tolerance:
		m.report(RuleWrongValue, at, "the arc's centre lies on its start")
	case math.Abs(r0-r1) > RadiusSlip:
		m.report(RuleWrongValue, at, "the arc's start lies %s from its centre, its end %s; they must be equally far", quantity.Nanometres(r0), quantity.Nanometres(r1))
	default:
		return geom.ArcAround(a, b, centre, clockwise), true
	}
	return geom.Segment{}, false
}
