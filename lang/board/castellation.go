package board

import (
	"math"
	"slices"

	"hemline/lang/geom"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Castellation is a row of plated half holes, or some that stand each at its place.
type Castellation struct {
	Item
	Edge       *Edge
	From, To   float64    // the first and the last centre along the edge, nm
	Row        [3]float64 // where the row starts, where its pitch brings it to, and where the text says that it may end, nm
	Stretch    source.Place
	Pitch      Value // not Given where each has its place
	Hole       Value
	LandWidth  Value  // along the edge
	LandLength Value  // inward
	Layers     []Name // where the holes have lands; none for top and bottom
	Nets       []Name
	Finish     Name      // its own; see Board.FinishOfHalfHoles
	Burrs      Name      // the face on which burrs may stand, or either; not Given where the text does not say
	Centres    []float64 // positions of the holes on the edge; those of single places in the order of the text
	Left       int       // how many holes of the row except leaves out
}

// NetOf is the net of half hole number i: the row's one net, or the one given
// in turn; not Given where the text gives none.
func (c *Castellation) NetOf(i int) Name {
	switch {
	case len(c.Nets) == 1:
		return c.Nets[0]
	case i < len(c.Nets):
		return c.Nets[i]
	}
	return Name{}
}

func (m *meaning) castellation(r *syntax.Reading, base Item) *Castellation {
	c := &Castellation{Item: base, Nets: namesOf(r.Get("net")), Finish: nameOf(r.Get("finish"), 0), Burrs: nameOf(r.Get("burrs"), 0)}
	c.Edge, _ = m.edgeOf(r)
	c.Hole, c.Pitch = m.quantity(r.Get("hole"), 0, positive), m.quantity(r.Get("pitch"), 0, positive)
	if land := r.Get("land"); land != nil {
		c.LandWidth, c.LandLength = m.quantity(land, 0, positive), m.quantity(land.Get("by"), 0, positive)
	}
	if layers := r.Get("layers"); layers != nil {
		for i, v := range layers.Values {
			if m.layer(v) {
				c.Layers = append(c.Layers, nameOf(layers, i))
			}
		}
		if len(c.Layers) == 0 {
			return nil
		}
	}
	if c.Edge == nil || !c.Hole.Given() || !c.LandWidth.Given() || !c.LandLength.Given() || !m.placed(r, c) {
		return nil
	}
	if c.Centres == nil && !m.row(c.Edge, c.From, c.To, c.Pitch, "half holes", &c.Centres) {
		return nil
	}
	c.Row = [3]float64{c.From, slices.Max(c.Centres), c.To}
	if c.Edge.Closed && c.To-c.From >= c.Edge.Length-Tolerance {
		c.Row[2] = c.Row[1] // all round, what remains is between the last hole and the first
	}
	if !m.except(r, c) {
		return nil
	}
	c.From, c.To = slices.Min(c.Centres), slices.Max(c.Centres)
	if n := len(c.Nets); n > 1 && n != len(c.Centres) {
		m.report(RuleWrongValue, r.Get("net").Place(), "the row has %d half holes and %d nets; give one net, or one for each hole", len(c.Centres), n)
	}
	return c
}

// placed reads where a row stands, or each of some single holes.
func (m *meaning) placed(r *syntax.Reading, c *Castellation) bool {
	if from := r.Get("from"); from != nil {
		s, ok := m.stretch(from, c.Edge, "the row of half holes")
		if !ok {
			return false
		}
		c.From, c.To, c.Stretch = s.from, s.to, s.at
		if !c.Pitch.Given() {
			if !r.Stands("pitch") {
				m.report(RuleMissing, c.Stretch, "expected pitch beside from and to: from hole to hole")
			}
			return false
		}
		return true
	}
	at := r.Get("at")
	if at == nil {
		return false
	}
	for _, word := range [...]string{"pitch", "except"} {
		if k := r.Get(word); k != nil {
			m.report(RuleWrongValue, k.Place(), "%s is of a row, which from and to place; at places each half hole by itself", word)
			return false
		}
	}
	for _, v := range at.Values {
		p, ok := m.position(v, c.Edge)
		if !ok || !m.onEdge(c.Edge, p.Value, p.Value, v.Place(), "the half hole") {
			return false
		}
		c.Centres = append(c.Centres, p.Value)
	}
	c.From, c.To, c.Stretch = slices.Min(c.Centres), slices.Max(c.Centres), at.Place()
	return true
}

// except leaves out the holes whose centres lie in a part that the text excepts,
// and refuses to leave out all.
func (m *meaning) except(r *syntax.Reading, c *Castellation) bool {
	stated := r.All("except")
	var parts []Along
	for _, k := range stated {
		from := k.Get("from")
		if from == nil {
			return false
		}
		s, ok := m.stretch(from, c.Edge, "the part that is left out")
		if !ok {
			return false
		}
		parts = append(parts, Along{Edge: c.Edge, From: s.from, To: s.to})
	}
	all := len(c.Centres)
	c.Centres = slices.DeleteFunc(c.Centres, func(at float64) bool {
		return slices.ContainsFunc(parts, func(a Along) bool { return a.holds(c.Edge, at) })
	})
	c.Left = all - len(c.Centres)
	if len(c.Centres) == 0 {
		m.report(RuleWrongValue, stated[0].Place(), "except leaves out all %d half holes of the row", all)
		return false
	}
	return true
}

// Short is how far before the end that the text states the row ends, nm; 0 where
// its last hole, or one that is left out, is there.
func (c *Castellation) Short() float64 {
	if d := c.Row[2] - c.Row[1]; d > 1 {
		return d
	}
	return 0
}

// Land is the land of half hole number i.
func (c *Castellation) Land(i int) *geom.Loop {
	return c.Edge.Standing(c.Centres[i], c.LandWidth.Value, 0, c.LandLength.Value)
}

// Apart is the least distance from centre to centre along the edge, nm; 0 for a
// single hole.
func (c *Castellation) Apart() float64 {
	if c.Pitch.Given() || len(c.Centres) < 2 {
		return c.Pitch.Value
	}
	list := slices.Sorted(slices.Values(c.Centres))
	least := math.Inf(1)
	if c.Edge.Closed {
		least = list[0] + c.Edge.Length - list[len(list)-1]
	}
	for i, at := range list[1:] {
		least = min(least, at-list[i])
	}
	return least
}

// Excepted lists the parts of the row in which holes are left out: the positions of
// the first and the last of each.
func (c *Castellation) Excepted() [][2]float64 {
	if c.Left == 0 {
		return nil
	}
	var list [][2]float64
	add := func(from, to float64) {
		if to-from > -c.Pitch.Value/2 {
			list = append(list, [2]float64{from, to})
		}
	}
	p := c.Pitch.Value
	add(c.Row[0], c.Centres[0]-p)
	for i, at := range c.Centres[1:] {
		add(c.Centres[i]+p, at-p)
	}
	add(c.Centres[len(c.Centres)-1]+p, c.Row[1])
	return list
}

// LandLayers are the layers that the text states for the lands.
func (c *Castellation) LandLayers() []string {
	var list []string
	for _, l := range c.Layers {
		list = append(list, l.Text)
	}
	return list
}

// FinishOfHalfHoles is the finish of a row of half holes: its own, or else the board's.
func (b *Board) FinishOfHalfHoles(c *Castellation) Name {
	if !c.Finish.Given() && b.Info() != nil {
		return b.Info().Finish
	}
	return c.Finish
}

// LandsOn tells whether the half holes have lands on a copper layer.
func (b *Board) LandsOn(c *Castellation, layer string) bool {
	if len(c.Layers) == 0 {
		_, outer := b.FaceOf(layer)
		return outer
	}
	return slices.ContainsFunc(c.Layers, func(l Name) bool { return b.SameLayer(l.Text, layer) })
}

// row fills in the positions from one end to the other at a pitch, the number
// of them bounded. All round a closed edge the last is not the first again.
func (m *meaning) row(e *Edge, from, to float64, pitch Value, what string, out *[]float64) bool {
	n := 1.0
	if to > from && pitch.Given() {
		n += math.Floor((to - from + 1) / pitch.Value) // it may pass the end by a nanometre
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

func (c *Castellation) nets() []Name { return c.Nets }

func (c *Castellation) count() (n int, at source.Place) {
	if !c.Pitch.Given() {
		return len(c.Centres), c.Keyword
	}
	return len(c.Centres), c.Pitch.At
}
