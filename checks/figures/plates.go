package figures

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hemline/checks/physics"
	"hemline/checks/sheet"
	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

// Measured is what a continuity measurement comes to with the planes that the
// plating is tied to, Ω at 20 °C, of even copper as it is stated.
type Measured struct {
	// With is that with the wall; Without with all of the stretch's wall missing but for
	// where the probes stand; Half with half of its copper but for there; Holed with the middle fifth
	// of the way missing.
	With, Without, Half, Holed float64
	// Layers are those whose planes count, each once.
	Layers []string
}

// Contact is how much of the wall is left under each probe where the rest of it is
// missing, nm, or a tenth of the way where that is less. What a plane alone comes to
// between two points hangs on it, by the logarithm.
const Contact = 1e6

// cellsOf is how many cells a plane has at least, about, if they are not finer then than
// fine asks, and cellsOfAll how many all have at most that differ in shape.
const cellsOf, cellsOfAll = 2500, 10_000

// fine, nm, is how coarse the cells may be, and resolved how many of them a stretch has at
// least, or a quarter of one all round, for what comes to it to be known: within a tenth of what
// cells of 0.25 mm give (ends of strips anywhere beside the cells, rings, corners; see
// TestFineness).
const fine, resolved = 2 * Contact, 4

// plate is the planes of one shape that are tied to the same walls, as one sheet.
type plate struct {
	planes []*board.Plane
	ties   []*board.Plating
	by     float64 // its conductance, S a square
	sheet  *sheet.Sheet
	joined bool // another plane of the net on the layer meets one of them: together they are no sheet of these
}

// Measured works out what Continuity would measure. It takes some tens of
// milliseconds a plating with planes, and none without; ok is false where there is
// no continuity, or the planes are too odd to be worked out.
func (c *Conductors) Measured(p *board.Plating) (m Measured, ok bool) {
	defer c.alone()()
	return c.measured(p, true)
}

// measured leaves out what only a report asks for where it is not to be in full. What
// has been worked out is kept.
func (c *Conductors) measured(p *board.Plating, full bool) (Measured, bool) {
	if c == nil || !p.Copper.Given() {
		return Measured{}, false
	}
	x, begun := c.known[p]
	if !begun {
		x = c.measuring(p)
		c.known[p] = x
	}
	if x == nil {
		return Measured{}, false
	}
	return x.workOut(full)
}

// measuring is a measurement as far as it has been worked out.
type measuring struct {
	trial *trial
	m     Measured
	done  int // of its four resistances, in their order
	fails bool
}

// measuring begins a measurement; nil where there is none to be had.
func (c *Conductors) measuring(p *board.Plating) *measuring {
	i := c.longest(p)
	if i < 0 {
		return nil
	}
	plates := c.platesTo(c.ofTied[i])
	s := c.ring.runs[i].Stretch
	if c.broken || c.ring.runs[i].wide() || slices.ContainsFunc(plates, func(p *plate) bool { return p.joined || p.coarse(s) }) {
		return nil
	}
	x := &measuring{}
	for _, plate := range plates {
		for _, plane := range plate.planes {
			if !slices.Contains(x.m.Layers, plane.Layer.Text) {
				x.m.Layers = append(x.m.Layers, plane.Layer.Text)
			}
		}
	}
	contact := Contact
	if !slices.ContainsFunc(plates, func(p *plate) bool { return p.touches(s) }) {
		contact = 0 // what is missing is all of the wall, whatever is tied to others
	}
	x.trial = newTrial(c, i, plates, contact)
	return x
}

// workOut works out what is still asked for: two resistances, or in full all four.
func (x *measuring) workOut(full bool) (Measured, bool) {
	list := []struct {
		to   *float64
		wall wallOf
	}{{&x.m.With, whole}, {&x.m.Without, x.trial.missing}, {&x.m.Half, x.trial.half}, {&x.m.Holed, x.trial.holed}}
	if !full {
		list = list[:2]
	}
	for x.done < len(list) && !x.fails {
		v := list[x.done]
		r, ok := x.trial.resistance(v.wall)
		*v.to, x.fails = r, !ok
		x.done++
	}
	if x.fails {
		return Measured{}, false
	}
	out := x.m
	out.Layers = slices.Clone(x.m.Layers)
	return out, true
}

// platesTo are the plates that are tied to any of the runs.
func (c *Conductors) platesTo(runs []int) (list []*plate) {
	if !c.meshed {
		c.meshed = true
		c.mesh()
	}
	on := map[*board.Plating]bool{}
	for _, i := range runs {
		on[c.ring.runs[i].Plating] = true
	}
	for _, x := range c.plates {
		if slices.ContainsFunc(x.ties, func(p *board.Plating) bool { return on[p] }) {
			list = append(list, x)
		}
	}
	return list
}

// oneWith tells whether two planes of one net on one layer come to each other.
func oneWith(b *board.Board, x, y *board.Plane) bool {
	if !x.Net.Given() || x.Net.Text != y.Net.Text || !b.SameLayer(x.Layer.Text, y.Layer.Text) {
		return false
	}
	return x.Within == nil || y.Within == nil || x.Within.Grow(board.Tolerance).Overlaps(*y.Within)
}

// touches tells whether a plane of the plate comes to a stretch.
func (x *plate) touches(s board.Stretch) bool {
	return slices.Contains(x.ties, s.Plating) && slices.ContainsFunc(x.planes, func(p *board.Plane) bool { return len(contacts(p, s)) > 0 })
}

// coarse tells whether the plate's cells are too coarse for what is measured along a stretch
// that it comes to.
func (x *plate) coarse(s board.Stretch) bool {
	way := s.Length()
	if s.Round() {
		way /= 4
	}
	return x.sheet.Step > min(fine, way/resolved)*(1+1e-9) && x.touches(s)
}

// mesh makes the plates of all planes that are tied to a wall.
func (c *Conductors) mesh() {
	type shape struct {
		pullback float64
		cut      bool
		within   geom.Box
		ties     string
	}
	known := map[shape]*plate{}
	for _, x := range c.b.Planes() {
		s := shape{pullback: x.Pullback.Value}
		if x.Within != nil {
			s.cut, s.within = true, *x.Within
		}
		var ties []*board.Plating
		for i, p := range c.b.Platings() {
			if tiesTo(c.b, x, p) && c.b.Runs(p) {
				ties = append(ties, p)
				s.ties += fmt.Sprint(i, " ")
			}
		}
		if len(ties) == 0 {
			continue
		}
		if known[s] == nil {
			known[s] = &plate{ties: ties}
			c.plates = append(c.plates, known[s])
		}
		known[s].planes = append(known[s].planes, x)
		known[s].joined = known[s].joined || slices.ContainsFunc(c.b.Planes(), func(y *board.Plane) bool { return x != y && oneWith(c.b, x, y) })
		known[s].by += quantity.InMetres(layerCopper(c.b, x.Layer.Text)) / physics.Rho20
	}
	outline := c.b.Outline()
	for _, x := range c.plates {
		if outline == nil || x.mesh(c.b, x.step(outline, cellsOfAll/float64(len(c.plates)))) != nil {
			c.broken = true
		}
	}
}

// step is how wide its cells are, nm, with so many at most.
func (x *plate) step(outline *board.Profile, most float64) float64 {
	box, area := outline.Path.Box(), math.Abs(outline.Path.SignedArea())
	if w := x.planes[0].Within; w != nil {
		part := box.Intersect(*w)
		area = min(area, (part.Max.X-part.Min.X)*(part.Max.Y-part.Min.Y))
	}
	return math.Sqrt(area / min(most, max(cellsOf, area/(fine*fine))))
}

// mesh cuts the plate into cells about so wide, nm: the outline less cutouts, less what lies off the
// rectangle, less the strips along every edge that it keeps from.
func (x *plate) mesh(b *board.Board, step float64) error {
	outline, plane := b.Outline(), x.planes[0]
	if !(step > 0) {
		return sheet.ErrEmpty
	}
	box := outline.Path.Box()
	var region sheet.Region
	add := func(l *geom.Loop, hole bool) {
		if l.Clockwise() != hole {
			l = l.Reverse()
		}
		region = append(region, l.Flatten(step/200))
	}
	add(outline.Path, false)
	for _, p := range b.Profiles() {
		if p.Cutout {
			add(p.Path, true)
		}
		for _, s := range slices.Concat(b.Finished(p).Plated, b.Finished(p).Bare) {
			if s.Plating == nil || !slices.Contains(x.ties, s.Plating) {
				for _, l := range s.Inward(plane.Pullback.Value) {
					add(l, true)
				}
			}
		}
	}
	if w := plane.Within; w != nil {
		all := box.Grow(step)
		for _, off := range []geom.Box{
			{Min: all.Min, Max: geom.Point{X: w.Min.X, Y: all.Max.Y}}, {Min: geom.Point{X: w.Max.X, Y: all.Min.Y}, Max: all.Max},
			{Min: all.Min, Max: geom.Point{X: all.Max.X, Y: w.Min.Y}}, {Min: geom.Point{X: all.Min.X, Y: w.Max.Y}, Max: all.Max},
		} {
			if wide, high := off.Max.X-off.Min.X, off.Max.Y-off.Min.Y; wide > 0 && high > 0 {
				add(geom.RectangleAt(off.Min, wide, high, 0), true)
			}
		}
	}
	var err error
	x.sheet, err = sheet.Mesh(region, step)
	return err
}

// LayerNames are the layers, in the order of the stack.
func (m Measured) LayerNames(b *board.Board) []string {
	order := b.Layers()
	list := slices.Clone(m.Layers)
	slices.SortStableFunc(list, func(x, y string) int { return cmp.Compare(slices.Index(order, x), slices.Index(order, y)) })
	return list
}
