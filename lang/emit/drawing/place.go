package drawing

import (
	"math"
	"slices"

	"hemline/lang/emit/sheet"
)

// placer finds free places for texts on a sheet: off other texts, off
// lines and within bounds.
type placer struct {
	sheet  *sheet.Sheet
	bounds sheet.Rect
	lines  squares[[2]sheet.Point] // that no text may lie on
	boxes  squares[sheet.Rect]     // of the texts
	shapes int                     // of the sheet that are in lines
	texts  int
	misses int // of searches
}

// mostMisses is how many searches may find no place before they look near at hand
// alone: on a full sheet all further ones would be in vain.
const mostMisses = 150

func newPlacer(s *sheet.Sheet, bounds sheet.Rect) *placer {
	return &placer{sheet: s, bounds: bounds, lines: squares[[2]sheet.Point]{}, boxes: squares[sheet.Rect]{}}
}

// squares keep things by the squares of the sheet that their boxes touch: on a
// dense sheet a place must not be held to everything that is drawn.
type squares[T any] map[[2]int][]T

const cell = 8.0 // mm

func (c squares[T]) each(r sheet.Rect, visit func(key [2]int) bool) bool {
	for x := int(math.Floor(r.Min.X / cell)); x <= int(math.Floor(r.Max.X/cell)); x++ {
		for y := int(math.Floor(r.Min.Y / cell)); y <= int(math.Floor(r.Max.Y/cell)); y++ {
			if visit([2]int{x, y}) {
				return true
			}
		}
	}
	return false
}

// add puts a thing into the squares of its box.
func (c squares[T]) add(r sheet.Rect, thing T) {
	c.each(r, func(key [2]int) bool {
		c[key] = append(c[key], thing)
		return false
	})
}

// any tells whether a thing near a box is hit.
func (c squares[T]) any(r sheet.Rect, hit func(T) bool) bool {
	return c.each(r, func(key [2]int) bool { return slices.ContainsFunc(c[key], hit) })
}

// between is the box of points.
func between(points ...sheet.Point) sheet.Rect {
	r := sheet.Rect{Min: sheet.Point{X: math.Inf(1), Y: math.Inf(1)}, Max: sheet.Point{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, p := range points {
		r.Min = sheet.Point{X: math.Min(r.Min.X, p.X), Y: math.Min(r.Min.Y, p.Y)}
		r.Max = sheet.Point{X: math.Max(r.Max.X, p.X), Y: math.Max(r.Max.Y, p.Y)}
	}
	return r
}

func (p *placer) addLine(a, b sheet.Point) {
	// In pieces, so that a long slanting line is not in every square of its box.
	n := math.Ceil(math.Max(math.Hypot(b.X-a.X, b.Y-a.Y)/cell, 1))
	for i := 0.0; i < n; i++ {
		from, to := a.Add((b.X-a.X)*i/n, (b.Y-a.Y)*i/n), a.Add((b.X-a.X)*(i+1)/n, (b.Y-a.Y)*(i+1)/n)
		p.lines.add(between(from, to), [2]sheet.Point{from, to})
	}
}

// catch up with what was drawn since.
func (p *placer) update() {
	for ; p.shapes < len(p.sheet.Shapes); p.shapes++ {
		x := p.sheet.Shapes[p.shapes]
		if x.Line == sheet.NoLine && x.Fill != sheet.Medium { // copper on the face is grey
			continue
		}
		for _, q := range x.Paths {
			flat := q.Flat()
			for i := 1; i < len(flat); i++ {
				p.addLine(flat[i-1], flat[i])
			}
		}
	}
	for ; p.texts < len(p.sheet.Texts); p.texts++ {
		box := p.sheet.Texts[p.texts].Box()
		p.boxes.add(box, box)
	}
}

func (p *placer) free(r sheet.Rect) bool {
	if !p.bounds.Holds(r) {
		return false
	}
	r = r.Grow(0.6)
	return !p.boxes.any(r, r.Meets) && !p.lines.any(r, func(l [2]sheet.Point) bool { return r.Crossed(l[0], l[1]) })
}

// clearLine tells whether a leader would run over a text.
func (p *placer) clearLine(a, b sheet.Point) bool {
	return !p.boxes.any(between(a, b), func(x sheet.Rect) bool { return x.Crossed(a, b) })
}

// find is the free place nearest to a point for a rectangle of a size, as the
// rectangle's middle, with a leader from a foot that runs over no text; ok is false
// where there is none within reach.
func (p *placer) find(at, foot sheet.Point, w, h, reach float64) (sheet.Point, bool) {
	p.update()
	if p.misses > mostMisses {
		reach = min(reach, 4)
	}
	for r := 0.0; r <= reach; r += 1.5 {
		n := max(1, int(r*1.6))
		for i := range n {
			a := 2*math.Pi*float64(i)/float64(n) + math.Pi/4
			c := at.Add((r+w/3)*math.Cos(a), r*math.Sin(a))
			if r == 0 {
				c = at
			}
			box := sheet.Rect{Min: c.Add(-w/2, -h/2), Max: c.Add(w/2, h/2)}
			if p.free(box) && p.clearLine(foot, c) && p.clearLine(foot, box.Nearest(foot)) {
				return c, true
			}
		}
	}
	p.misses++
	return at, false
}

// label writes a text near a point, with a leader from a foot where it is not
// upon it. Where no place is free it is left out, and false is returned.
func (p *placer) label(at sheet.Point, s, id string, reach float64, foot sheet.Point) bool {
	t := sheet.Text{ID: id, S: s, Height: sheet.Small, Align: sheet.Centre}
	box := t.Box()
	c, ok := p.find(at, foot, box.W(), box.H(), reach)
	if !ok {
		return false
	}
	t.At = c.Add(0, -sheet.Small/2)
	p.lead(foot, t.Box(), "")
	p.sheet.Write(t)
	return true
}

// lead draws a leader from a point, where it ends in a dot, to a text's box.
func (p *placer) lead(at sheet.Point, box sheet.Rect, id string) {
	near := box.Nearest(at)
	if math.Hypot(near.X-at.X, near.Y-at.Y) < 2 {
		return
	}
	line := sheet.Strokes(sheet.Thin, at, near)
	line.ID = id
	p.sheet.Add(dot(at), line)
	p.addLine(at, near)
}
