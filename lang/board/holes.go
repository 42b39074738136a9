package board

import (
	"math"

	"hemline/lang/geom"
)

// HoleCount is how many holes a tab's row has: as many as fit its width at the
// pitch. 0 where a hole is wider than the tab.
func (t *Tab) HoleCount() int { return len(t.Holes()) }

// Holes are the middles of a tab's row of holes: as many as fit its width at
// the pitch, the row being centred. None where a hole is wider than the tab.
func (t *Tab) Holes() []geom.Point {
	if t.Hole.Value > t.Width.Value || t.Hole.Value <= 0 || t.Pitch.Value <= 0 {
		return nil
	}
	n := math.Floor((t.Width.Value-t.Hole.Value)/t.Pitch.Value+1e-9) + 1
	var holes []geom.Point
	for k := 0.0; k < n; k++ {
		p := t.Position + (k-(n-1)/2)*t.Pitch.Value
		holes = append(holes, t.Edge.Point(p).Add(t.Edge.Inward(p).Scale(t.Inset.Value)))
	}
	return holes
}
