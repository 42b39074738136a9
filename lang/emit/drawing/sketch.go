package drawing

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"hemline/lang/emit/sheet"
)

// sketch is a section or a detail, drawn about a place of its own; it becomes
// a block when it is done.
type sketch struct {
	sheet.Sheet
	measures []dimension
}

// dimension is a measure (ISO 129-1): the distance of two places, with a line
// that stands off the drawing. Tables state all that is measured so; here its
// figure is in brackets.
type dimension struct {
	a, b float64 // the two places, a < b
	from float64 // where the extension lines start, off the line's direction
	out  float64 // 1 where the dimension line lies up or right of the drawing, -1 for down or left
	up   bool    // measured upwards
	text string
}

// What a dimension takes, mm: the arrows and the room for a figure above its line.
const (
	arrowL = 2.5
	rowH   = 6.0
)

// across adds a horizontal dimension, up a vertical one.
func (k *sketch) across(a, b, from, out float64, text string) {
	k.measures = append(k.measures, dimension{math.Min(a, b), math.Max(a, b), from, out, false, text})
}

func (k *sketch) up(a, b, from, out float64, text string) {
	k.measures = append(k.measures, dimension{math.Min(a, b), math.Max(a, b), from, out, true, text})
}

// dimensioned draws the measures on each side of the drawing's box, the shortest
// nearest to it, so that no extension line crosses a shorter dimension's line.
func (k *sketch) dimensioned() {
	box := k.extent()
	slices.SortStableFunc(k.measures, func(x, y dimension) int { return cmp.Compare(x.b-x.a, y.b-y.a) })
	var figures []sheet.Text
	used := map[[2]bool]float64{}
	for _, m := range k.measures {
		side := [2]bool{m.up, m.out > 0}
		if _, ok := used[side]; !ok {
			used[side] = map[[2]bool]float64{{false, true}: box.Max.Y, {false, false}: box.Min.Y, {true, true}: box.Max.X, {true, false}: box.Min.X}[side]
			if m.up && m.out > 0 {
				used[side]++ // figures stand left of their line
			}
		}
		used[side] += m.out * rowH
		figures = append(figures, k.measured(m, used[side]))
	}
	// Figures interrupt the lines that they lie on, so they come last.
	for _, t := range figures {
		box := t.Box()
		if t.Up { // figures have nothing under their base line
			box.Max.X = t.At.X
		} else {
			box.Min.Y = t.At.Y
		}
		k.Add(sheet.Shape{Fill: sheet.White, Paths: []sheet.Path{sheet.Box(box.Grow(0.3))}})
		k.Write(t)
	}
	k.measures = nil
}

// measured draws one dimension with its line at a height and returns its figure.
func (k *sketch) measured(m dimension, row float64) sheet.Text {
	p := func(along, off float64) sheet.Point {
		if m.up {
			return sheet.Point{X: off, Y: along}
		}
		return sheet.Point{X: along, Y: off}
	}
	for _, u := range [...]float64{m.a, m.b} {
		k.Add(sheet.Strokes(sheet.Thin, p(u, m.from+m.out), p(u, row+1.5*m.out)))
	}
	t := sheet.Text{S: aside(m.text), Height: sheet.Small, Align: sheet.Centre, Up: m.up}
	off := row + 0.8
	if m.up {
		off = row - 0.8
	}
	t.At = p((m.a+m.b)/2, off)
	wide := t.Width()
	if m.b-m.a >= 2*arrowL+2 {
		k.Add(sheet.Strokes(sheet.Thin, p(m.a, row), p(m.b, row)), arrow(p(m.b, row), p(m.a, row)), arrow(p(m.a, row), p(m.b, row)))
	} else {
		after := m.b + arrowL + 1.5
		if wide > m.b-m.a {
			after += wide + 1
			t.At = p(m.b+arrowL+1.5+wide/2, off)
		}
		k.Add(sheet.Strokes(sheet.Thin, p(m.a-arrowL-1.5, row), p(after, row)), arrow(p(m.a-arrowL, row), p(m.a, row)), arrow(p(m.b+arrowL, row), p(m.b, row)))
		return t
	}
	if wide > m.b-m.a-0.5 {
		t.At = p(m.b+1.5+wide/2, off)
		k.Add(sheet.Strokes(sheet.Thin, p(m.b, row), p(m.b+2+wide, row)))
	}
	return t
}

// cutOff is a line with a zigzag: what is drawn goes on beyond it (ISO 128-2, 01.1).
func (k *sketch) cutOff(a, b sheet.Point) {
	x, y := b.X-a.X, b.Y-a.Y
	d := math.Hypot(x, y)
	if d < 6 {
		k.Add(sheet.Strokes(sheet.Thin, a, b))
		return
	}
	x, y = x/d, y/d
	at := func(along, off float64) sheet.Point { return a.Add(x*along-y*off, y*along+x*off) }
	k.Add(sheet.Strokes(sheet.Thin, a, at(d/2-1, 0), at(d/2-0.5, 1.5), at(d/2+0.5, -1.5), at(d/2+1, 0), b))
}

// area is a rectangle of a fill between two corners.
func (k *sketch) area(x0, y0, x1, y1 float64, f sheet.Fill, id string) {
	k.Add(sheet.Shape{ID: id, Fill: f, Paths: []sheet.Path{sheet.Box(between(sheet.Point{X: x0, Y: y0}, sheet.Point{X: x1, Y: y1}))}})
}

// hatch draws parallel thin lines over a rectangle (ISO 128-3), rising to the
// right or to the left.
func (k *sketch) hatch(r sheet.Rect, left bool) {
	const apart = 2.4
	var lines []sheet.Path
	for c := r.Min.X - r.H(); c < r.Max.X; c += apart * math.Sqrt2 {
		// The line x - y = c, from the rectangle's lower side.
		x0, x1 := math.Max(c, r.Min.X), math.Min(c+r.H(), r.Max.X)
		if x1-x0 < 0.05 {
			continue
		}
		a, b := sheet.Point{X: x0, Y: r.Min.Y + x0 - c}, sheet.Point{X: x1, Y: r.Min.Y + x1 - c}
		if left {
			a.Y, b.Y = r.Max.Y+r.Min.Y-a.Y, r.Max.Y+r.Min.Y-b.Y
		}
		lines = append(lines, sheet.Polyline(false, a, b))
	}
	k.Add(sheet.Shape{Line: sheet.Thin, Fill: sheet.Clear, Paths: lines})
}

// caption writes a title over all that is drawn, and sentences under it.
func (k *sketch) caption(title string, sentences ...string) {
	const width = column - 2
	var lines []string
	for _, s := range sentences {
		if s != "" {
			lines = append(lines, wrapped(shown(s, 0), width, false)...)
		}
	}
	heads := wrapped(shown(title, 0), width*sheet.Small/sheet.Large, true)
	box := k.extent()
	y := box.Max.Y + 4 + float64(len(lines))*lineH + float64(len(heads))*(sheet.Large+1.6)
	for _, h := range heads {
		y -= sheet.Large + 1.6
		k.Write(bold(sheet.Point{X: box.Min.X, Y: y}, h, sheet.Large))
	}
	for _, l := range lines {
		y -= lineH
		k.Write(text(sheet.Point{X: box.Min.X, Y: y}, l, sheet.Small))
	}
}

// extent is the box round all that is drawn.
func (k *sketch) extent() sheet.Rect {
	var corners []sheet.Point
	for _, s := range k.Shapes {
		for _, p := range s.Paths {
			corners = append(corners, p.Flat()...)
		}
	}
	for _, t := range k.Texts {
		b := t.Box()
		corners = append(corners, b.Min, b.Max)
	}
	return between(corners...)
}

// block makes what is drawn a block.
func (k *sketch) block(kind string) *block {
	box := k.extent()
	return &block{kind: kind, w: box.W(), h: box.H(), draw: func(s *sheet.Sheet, at sheet.Point) {
		x, y := at.X-box.Min.X, at.Y-box.Max.Y
		for _, shape := range k.Shapes {
			paths := make([]sheet.Path, len(shape.Paths))
			for i, p := range shape.Paths {
				paths[i] = p.Moved(x, y)
			}
			shape.Paths = paths
			s.Add(shape)
		}
		for _, t := range k.Texts {
			t.At = t.At.Add(x, y)
			s.Write(t)
		}
	}}
}

// fitted cuts a line of text to a width, which the ellipsis shows.
func fitted(s string, width float64) string {
	s = shown(s, 0)
	for list := []rune(s); len(list) > 1 && (sheet.Text{S: s, Height: sheet.Small}).Width() > width; s = string(list) + "…" {
		list = list[:len(list)-1]
	}
	return s
}

// enumerated lists names, the first few where there are many.
func enumerated(names []string) string {
	const most = 12
	if len(names) > most {
		return strings.Join(names[:most], " ") + " and " + figure(float64(len(names)-most)) + " more"
	}
	return strings.Join(names, " ")
}

// largest is the largest scale at which both lengths, mm, stay within their room.
func largest(w, h, roomW, roomH float64) sheet.Scale {
	for _, s := range sheet.Scales {
		if w*s.Factor() <= roomW && h*s.Factor() <= roomH {
			return s
		}
	}
	return sheet.Scales[len(sheet.Scales)-1]
}
