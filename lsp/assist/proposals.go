package assist

import (
	"math"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/board"
)

// Proposal is a gap that would make room for something on a plated edge.
type Proposal struct {
	Of    *board.Plating
	Width float64 // nm, the least that the limits allow
	// From and To are its ends on the edge, nm.
	From, To float64
}

// GapForConnector is the gap that a connector's pins need in the plating that
// runs past them; ok is false where there is none to interrupt, where the gap
// would be wider than the connector's body or leave the edge, and where the
// connector opens one of its own.
func GapForConnector(a *lang.Analysis, limits *checks.Limits, c *board.Connector) (p Proposal, ok bool) {
	clear := math.Max(limits.Minimum("launch_clearance").Value, c.Clearance.Value)
	for _, pin := range c.Pins {
		p.Width = math.Max(p.Width, pin.Width.Value+2*clear)
	}
	if p.Width == 0 || c.Opens != nil {
		return p, false
	}
	p.Width = math.Ceil(math.Max(p.Width, limits.Minimum("gap_width").Value))
	if p.Width > c.Body.Value+board.Tolerance {
		return p, false
	}
	return p.on(a.Board(), c.Edge, c.Position)
}

// GapForTab is the gap that a tab needs which is there while the board is
// plated; ok is false for a tab that stands on no plating, is premetallised or opens a gap of its own.
func GapForTab(a *lang.Analysis, limits *checks.Limits, t *board.Tab) (p Proposal, ok bool) {
	if t.Premetallised || t.Opens != nil {
		return p, false
	}
	p.Width = math.Ceil(math.Max(t.Width.Value+2*limits.Minimum("tab_gap").Value, limits.Minimum("gap_width").Value))
	return p.on(a.Board(), t.Edge, t.Position)
}

// on finds the plating round a position that the gap would interrupt.
func (p Proposal) on(b *board.Board, e *board.Edge, middle float64) (Proposal, bool) {
	from, to := middle-p.Width/2, middle+p.Width/2
	if !e.Closed && (from < 0 || to > e.Length) {
		return p, false
	}
	p.From, p.To = from, to
	from, to = e.Range(from, to)
	b.Wall(e.Profile).PlatedIn(from, to, func(s board.Stretch) { p.Of = s.Plating })
	return p, p.Of != nil && board.Overlap(b.Wall(e.Profile), from, to) > board.Tolerance
}
