package board

import (
	"math"

	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Castellation is a row of plated half holes, or a single one.
type Castellation struct {
	Item
	Edge       *Edge
	From, To   float64 // first and last centre, nm along the edge
	Stretch    source.Place
	Pitch      Value
	Hole       Value
	LandWidth  Value // along the edge
	LandLength Value // inward
	Nets       []Name
	Centres    []float64 // positions of the holes on the edge
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

func (c *Castellation) nets() []Name { return c.Nets }

func (c *Castellation) count() (n int, at source.Place) {
	if !c.Pitch.Given() {
		return len(c.Centres), c.Keyword
	}
	return len(c.Centres), c.Pitch.At
}
