package board

import (
	"math"

	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Tab holds the board in its panel.
type Tab struct {
	Item
	Edge          *Edge
	Position      float64 // of its middle, nm along the edge
	PositionAt    source.Place
	Width         Value
	Solid         bool // no row of holes; it is routed off
	Perforated    bool
	Hole, Pitch   Value // of the perforation
	Inset         Value
	Premetallised bool
	Length        Value
	Removal       Removal
	// Opens is the gap that it makes for itself; nil for none.
	Opens *Opens
}

// Removal is how a tab is taken off; its words are not Given where the text
// does not say.
type Removal struct {
	How, By Name
	Within  Value // what may stand out or be missing
}

// Hand tells whether the tab is taken off by hand: as it says, and where it says
// nothing where it has a row of holes to snap along.
func (t *Tab) Hand() bool {
	if t.Removal.How.Given() {
		return t.Removal.How.Text == "hand"
	}
	return t.Perforated
}

// From is the position where the tab starts, To where it ends, nm along its edge.
func (t *Tab) From() float64 { return t.Position - t.Width.Value/2 }

// To is the position where the tab ends.
func (t *Tab) To() float64 { return t.Position + t.Width.Value/2 }

// Range is where its root starts and ends along its profile's path, nm.
func (t *Tab) Range() (from, to float64) { return t.Edge.Range(t.From(), t.To()) }

func (m *meaning) tab(r *syntax.Reading, base Item) *Tab {
	t := &Tab{Item: base, Solid: r.Get("solid") != nil, Premetallised: r.Get("premetallised") != nil}
	t.Edge, _ = m.edgeOf(r)
	at, ok := m.middle(r, t.Edge)
	t.Width = m.quantity(r.Get("width"), 0, positive)
	t.Length = m.quantity(r.Get("length"), 0, positive)
	if x := r.Get("removal"); x != nil {
		t.Removal = Removal{nameOf(x, 0), nameOf(x.Get("by"), 0), m.quantity(x.Get("within"), 0, positive)}
	}
	if p := r.Get("perforated"); p != nil {
		t.Perforated = true
		t.Hole, t.Pitch = m.quantity(p.Get("hole"), 0, positive), m.quantity(p.Get("pitch"), 0, positive)
		t.Inset = m.quantity(p.Get("inset"), 0, anySign)
	}
	if !ok || !t.Width.Given() || t.Perforated && (!t.Hole.Given() || !t.Pitch.Given()) || t.Solid == t.Perforated {
		return nil
	}
	t.Position, t.PositionAt = at.Value, r.Get("at").Place()
	if n := t.HoleCount(); n > MaxItems {
		m.report(RuleTooMany, t.Pitch.At, "at this pitch there are %d holes in the tab; at most %d are read", n, MaxItems)
		return nil
	}
	stretch := t.PositionAt
	if w := r.Get("width"); !w.Values[0].Taken() && !t.Row.Given() {
		stretch = stretch.Cover(w.Place())
	}
	if !m.onEdge(t.Edge, t.From(), t.To(), stretch, "the tab") {
		return nil
	}
	if from, to := t.Range(); to-from <= Tolerance {
		m.report(RuleOffEdge, stretch, "the tab stands on the rounded corner beside %s, which is straight from %s to %s; there is no root for it there",
			t.Edge.Name, quantity.Nanometres(t.Edge.Base), quantity.Nanometres(t.Edge.Base+t.Edge.To-t.Edge.From))
		return nil
	}
	t.Opens = m.opens(r, t.Edge, t.Position, t.Width.Value)
	return t
}

// HoleCount is how many holes a tab's row has: as many as fit its width at the
// pitch, and one more where at either end more board would be left than between two
// holes, so that the tab snaps along all of its root; that row's end holes break into
// the slots beside the tab. 0 for a tab that is not perforated, and where a hole is
// wider than the tab.
func (t *Tab) HoleCount() int {
	w, d, p := t.Width.Value, t.Hole.Value, t.Pitch.Value
	if !t.Perforated || d > w || d <= 0 || p <= 0 {
		return 0
	}
	n := math.Floor((w-d)/p+1e-9) + 1
	if web := math.Max(0, p-d); (w-d-(n-1)*p)/2 > web+Tolerance {
		n++
	}
	return int(n)
}

// EndWeb is how much board is left between a tab's row of holes and the slot at
// either end of it, nm, for a root of a width; under 0 where the last hole breaks
// into the slot.
func (t *Tab) EndWeb(root float64) float64 {
	return (root - float64(t.HoleCount()-1)*t.Pitch.Value - t.Hole.Value) / 2
}

// Holes are the middles of a tab's row of holes, HoleCount of them, the row
// being centred on the tab's position.
func (t *Tab) Holes() []geom.Point {
	var holes []geom.Point
	for k := range t.HoleCount() {
		holes = append(holes, t.HoleAt(k))
	}
	return holes
}

func (t *Tab) refers(x *tying) { t.Opens.refers(x) }

// HoleAt is the centre of one of them.
func (t *Tab) HoleAt(k int) geom.Point {
	p := t.Position + (float64(k)-float64(t.HoleCount()-1)/2)*t.Pitch.Value
	return t.Edge.Point(p).Add(t.Edge.Inward(p).Scale(t.Inset.Value))
}

func (t *Tab) count() (int, source.Place) { return t.HoleCount(), t.Pitch.At }
