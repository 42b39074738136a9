// Package sheet is a drawing sheet as a list of lines, fills and texts, all in
// millimetres on paper from the sheet's lower left corner. It knows the sizes,
// scales and line types of the standards, and how wide a text is; it knows
// nothing of boards, and nothing of the files that sheets are written to.
//
// Figures of ISO 128, 3098, 5455 and 5457 are from memory: the standards could
// not be read here.
package sheet

import (
	"math"

	"hemline/lang/source"
)

// Point is a place on the sheet, mm; x runs right, y up.
type Point struct{ X, Y float64 }

// Add moves a point.
func (p Point) Add(x, y float64) Point { return Point{p.X + x, p.Y + y} }

// Step is one piece of a path: a straight line, or an arc about Centre. An arc
// that ends where it starts is a full circle.
type Step struct {
	To             Point
	Arc, Clockwise bool
	Centre         Point
}

// Path is a run of lines and arcs.
type Path struct {
	Start  Point
	Steps  []Step
	Closed bool
}

// Moved is the path somewhere else.
func (p Path) Moved(x, y float64) Path {
	out := Path{Start: p.Start.Add(x, y), Steps: make([]Step, len(p.Steps)), Closed: p.Closed}
	for i, s := range p.Steps {
		s.To, s.Centre = s.To.Add(x, y), s.Centre.Add(x, y)
		out.Steps[i] = s
	}
	return out
}

// Sweep is the angle that an arc from a point runs through, radians, positive
// counterclockwise, a full turn where it ends at its start.
func (s Step) Sweep(from Point) float64 {
	a := math.Atan2(from.Y-s.Centre.Y, from.X-s.Centre.X)
	b := math.Atan2(s.To.Y-s.Centre.Y, s.To.X-s.Centre.X)
	turn := math.Mod(b-a, 2*math.Pi)
	const same = 1e-9
	if s.Clockwise {
		for turn > -same {
			turn -= 2 * math.Pi
		}
		return turn
	}
	for turn < same {
		turn += 2 * math.Pi
	}
	return turn
}

// Flat is a path as points no farther apart than the chords of arcs need to
// stay within 0.02 mm of them.
func (p Path) Flat() []Point { return p.Within(0.02) }

// Within is a path as points no farther apart than the chords of arcs need to
// stay within a distance of them, mm.
func (p Path) Within(off float64) []Point {
	list := []Point{p.Start}
	from := p.Start
	for _, s := range p.Steps {
		if s.Arc {
			r := math.Hypot(from.X-s.Centre.X, from.Y-s.Centre.Y)
			sweep := s.Sweep(from)
			n := math.Ceil(math.Abs(sweep) / (2 * math.Acos(1-math.Min(off/math.Max(r, off), 0.5))))
			start := math.Atan2(from.Y-s.Centre.Y, from.X-s.Centre.X)
			for i := 1.0; i < n; i++ {
				a := start + sweep*i/n
				list = append(list, Point{s.Centre.X + r*math.Cos(a), s.Centre.Y + r*math.Sin(a)})
			}
		}
		list = append(list, s.To)
		from = s.To
	}
	if p.Closed && from != p.Start {
		list = append(list, p.Start)
	}
	return list
}

// Line is a type of line (ISO 128-2, from memory).
type Line int

// The line types: continuous, dashed, long-dash dot, long-dash double-dot.
const (
	NoLine     Line = iota
	Thick           // 01.2: visible edges
	Thin            // 01.1: dimensions, extension lines, leaders
	Dashed          // 02.1: hidden
	ChainThin       // 04.1: centre lines
	ChainThick      // 04.2: a surface that is treated
	Phantom         // 05.1: adjacent parts
	Border          // the frame, ISO 5457
)

// Widths of lines, mm: the line group 0.5.
const (
	ThickWidth  = 0.5
	ThinWidth   = 0.25
	BorderWidth = 0.7
)

// Width is how thick a line is, mm.
func (l Line) Width() float64 {
	switch l {
	case NoLine:
		return 0
	case Thick, ChainThick:
		return ThickWidth
	case Border:
		return BorderWidth
	}
	return ThinWidth
}

// Dashes are the lengths of strokes and spaces in turn, mm; none for a continuous line.
func (l Line) Dashes() []float64 {
	switch l {
	case Dashed:
		return []float64{3, 0.75}
	case ChainThin:
		return []float64{6, 0.75, 0.125, 0.75}
	case ChainThick:
		return []float64{6, 1.2, 0.5, 1.2}
	case Phantom:
		return []float64{6, 0.75, 0.125, 0.75, 0.125, 0.75}
	}
	return nil
}

// Heavy tells whether a text must keep off the line.
func (l Line) Heavy() bool { return l == Thick || l == ChainThick || l == Border }

// Fill is how dark an area is, in hundredths of black; Clear leaves it as it is.
type Fill int

// The fills. White covers what lies below.
const (
	Clear  Fill = -1
	White  Fill = 0
	Light  Fill = 12
	Medium Fill = 30
	Dark   Fill = 60
	Black  Fill = 100
)

// Shape is an area that is filled, or lines, or both. Inner paths of an area
// are holes.
type Shape struct {
	ID    string // what it shows, for readers of the file; "" for none
	Line  Line
	Fill  Fill
	Paths []Path
}

// Align says which end of a text stands at its place.
type Align int

// The alignments.
const (
	Left Align = iota
	Centre
	Right
)

// Text is a line of lettering.
type Text struct {
	ID     string
	At     Point // on the base line
	S      string
	Height float64 // of capitals, mm
	Align  Align
	Up     bool // it reads upwards, from the sheet's right side
	Bold   bool
}

// Rect is an upright rectangle, mm.
type Rect struct{ Min, Max Point }

// W is its width.
func (r Rect) W() float64 { return r.Max.X - r.Min.X }

// H is its height.
func (r Rect) H() float64 { return r.Max.Y - r.Min.Y }

// Grow moves its sides out.
func (r Rect) Grow(d float64) Rect { return Rect{r.Min.Add(-d, -d), r.Max.Add(d, d)} }

// Nearest is the point of it that lies nearest to another.
func (r Rect) Nearest(p Point) Point {
	return Point{math.Min(math.Max(p.X, r.Min.X), r.Max.X), math.Min(math.Max(p.Y, r.Min.Y), r.Max.Y)}
}

// Meets tells whether two rectangles share more than a border.
func (r Rect) Meets(o Rect) bool {
	return r.Min.X < o.Max.X && o.Min.X < r.Max.X && r.Min.Y < o.Max.Y && o.Min.Y < r.Max.Y
}

// Holds tells whether another lies within it.
func (r Rect) Holds(o Rect) bool {
	return r.Min.X <= o.Min.X && o.Max.X <= r.Max.X && r.Min.Y <= o.Min.Y && o.Max.Y <= r.Max.Y
}

// Crossed tells whether a straight line from a to b runs through it.
func (r Rect) Crossed(a, b Point) bool {
	t0, t1 := 0.0, 1.0
	for _, c := range [...][4]float64{{a.X, b.X - a.X, r.Min.X, r.Max.X}, {a.Y, b.Y - a.Y, r.Min.Y, r.Max.Y}} {
		if c[1] == 0 {
			if c[0] <= c[2] || c[0] >= c[3] {
				return false
			}
			continue
		}
		u, v := (c[2]-c[0])/c[1], (c[3]-c[0])/c[1]
		t0, t1 = math.Max(t0, math.Min(u, v)), math.Min(t1, math.Max(u, v))
	}
	return t0 < t1
}

// Back is how far before its place a text begins, mm.
func (t Text) Back() float64 {
	switch t.Align {
	case Centre:
		return t.Width() / 2
	case Right:
		return t.Width()
	}
	return 0
}

// Box is the rectangle that a text covers, its descenders included.
func (t Text) Box() Rect {
	w, em := t.Width(), t.Height/capitals
	x := -t.Back()
	down, up := descent*em, math.Max(t.Height, ascent*em)
	if t.Up {
		return Rect{t.At.Add(-up, x), t.At.Add(down, x+w)}
	}
	return Rect{t.At.Add(x, -down), t.At.Add(x+w, up)}
}

// Sheet is one page of a drawing.
type Sheet struct {
	Format Format
	Title  string
	Shapes []Shape // painted in this order
	Texts  []Text  // over the shapes
}

// Add paints a shape over what is there.
func (s *Sheet) Add(x ...Shape) { s.Shapes = append(s.Shapes, x...) }

// Write letters a text.
func (s *Sheet) Write(t ...Text) {
	for _, x := range t {
		x.S = source.Visible(x.S)
		s.Texts = append(s.Texts, x)
	}
}

// Polyline is a path of straight lines.
func Polyline(closed bool, points ...Point) Path {
	p := Path{Start: points[0], Closed: closed}
	for _, q := range points[1:] {
		p.Steps = append(p.Steps, Step{To: q})
	}
	return p
}

// Box is a rectangle's path.
func Box(r Rect) Path {
	return Polyline(true, r.Min, Point{r.Max.X, r.Min.Y}, r.Max, Point{r.Min.X, r.Max.Y})
}

// Circle is a circle's path.
func Circle(c Point, r float64) Path {
	right, left := c.Add(r, 0), c.Add(-r, 0)
	return Path{Start: right, Closed: true, Steps: []Step{{To: left, Arc: true, Centre: c}, {To: right, Arc: true, Centre: c}}}
}

// Strokes are straight lines of one type through points, as one shape.
func Strokes(l Line, points ...Point) Shape {
	return Shape{Line: l, Fill: Clear, Paths: []Path{Polyline(false, points...)}}
}
