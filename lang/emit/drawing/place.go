package drawing

import (
	"math"

	"hemline/lang/emit/sheet"
)

// placer finds free places for texts on a sheet: off other texts, off
// lines and within bounds.
type placer struct {
	sheet  *sheet.Sheet
	bounds sheet.Rect
	lines  [][2]sheet.Point // that no text may lie on
	boxes  []sheet.Rect
	shapes int // of the sheet that are in lines
	texts  int
}

func newPlacer(s *sheet.Sheet, bounds sheet.Rect) *placer {
	return &placer{sheet: s, bounds: bounds}
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
				p.lines = append(p.lines, [2]sheet.Point{flat[i-1], flat[i]})
			}
		}
	}
	for ; p.texts < len(p.sheet.Texts); p.texts++ {
		p.boxes = append(p.boxes, p.sheet.Texts[p.texts].Box())
	}
}

func (p *placer) free(r sheet.Rect) bool {
	if !p.bounds.Holds(r) {
		return false
	}
	r = r.Grow(0.6)
	for _, b := range p.boxes {
		if b.Meets(r) {
			return false
		}
	}
	for _, l := range p.lines {
		if r.Crossed(l[0], l[1]) {
			return false
		}
	}
	return true
}

// clearLine tells whether a leader would run over a text.
func (p *placer) clearLine(a, b sheet.Point) bool {
	for _, x := range p.boxes {
		if x.Crossed(a, b) {
			return false
		}
	}
	return true
}

// find is the free place nearest to a point for a rectangle of a size, as the
// rectangle's middle; ok is false where there is none within reach.
func (p *placer) find(at sheet.Point, w, h, reach float64) (sheet.Point, bool) {
	p.update()
	for r := 0.0; r <= reach; r += 1.5 {
		n := max(1, int(r*1.6))
		for i := range n {
			a := 2*math.Pi*float64(i)/float64(n) + math.Pi/4
			c := at.Add((r+w/3)*math.Cos(a), r*math.Sin(a))
			if r == 0 {
				c = at
			}
			box := sheet.Rect{Min: c.Add(-w/2, -h/2), Max: c.Add(w/2, h/2)}
			if p.free(box) && p.clearLine(at, c) {
				return c, true
			}
		}
	}
	return at, false
}

// label writes a text near a point, with a leader from a foot where it is not
// upon it. Where no place is free it is left out, and false is returned.
func (p *placer) label(at sheet.Point, s, id string, reach float64, foot sheet.Point) bool {
	t := sheet.Text{ID: id, S: s, Height: sheet.Small, Align: sheet.Centre}
	box := t.Box()
	c, ok := p.find(at, box.W(), box.H(), reach)
	if !ok {
		return false
	}
	t.At = c.Add(0, -sheet.Small/2)
	p.lead(foot, t.Box())
	p.sheet.Write(t)
	return true
}

// lead draws a leader from a point, where it ends in a dot, to a text's box.
func (p *placer) lead(at sheet.Point, box sheet.Rect) {
	near := sheet.Point{X: math.Min(math.Max(at.X, box.Min.X), box.Max.X), Y: math.Min(math.Max(at.Y, box.Min.Y), box.Max.Y)}
	if math.Hypot(near.X-at.X, near.Y-at.Y) < 2 {
		return
	}
	p.sheet.Add(dot(at), sheet.Strokes(sheet.Thin, at, near))
	p.lines = append(p.lines, [2]sheet.Point{at, near})
}
