package board

import (
	"math"

	"hemline/lang/geom"
)

// HoleCount is how many holes a tab's row has: as many as fit its width at the
// pitch. 0 for a tab that is not perforated, and where a hole is wider than the tab.
func (t *Tab) HoleCount() int {
	if !t.Perforated || t.Hole.Value > t.Width.Value || t.Hole.Value <= 0 || t.Pitch.Value <= 0 {
		return 0
	}
	return int(math.Floor((t.Width.Value-t.Hole.Value)/t.Pitch.Value+1e-9)) + 1
}

// Holes are the middles of a tab's row of holes, HoleCount of them, the row
// being centred on the tab's position.
func (t *Tab) Holes() []geom.Point {
	n := t.HoleCount()
	var holes []geom.Point
	for k := range n {
		p := t.Position + (float64(k)-float64(n-1)/2)*t.Pitch.Value
		holes = append(holes, t.Edge.Point(p).Add(t.Edge.Inward(p).Scale(t.Inset.Value)))
	}
	return holes
}
