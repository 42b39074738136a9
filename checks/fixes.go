package checks

import (
	"math"

	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/quantity"
)

// widen is the edit that makes a gap so wide, nm; nil where that would take it
// past its edge or past its connector's body, or where the gap is given by its ends.
func (p *Pass) widen(g *board.Gap, width float64) *finding.Fix {
	if !g.Width.Given() || width <= g.Width.Value {
		return nil
	}
	middle := (g.From + g.To) / 2
	from, to := middle-width/2, middle+width/2
	if !g.Edge.Closed && (from < 0 || to > g.Edge.Length) {
		return nil
	}
	if c := p.Board.ConnectorNamed(g.For.Text); c != nil {
		if half := c.Body.Value / 2; below(from, c.Position-half) || above(to, c.Position+half) {
			return nil
		}
	}
	return edit("widen the gap", g.Width.At, written(quantity.Nanometres(math.Ceil(width)), g.Width.Unit))
}

// gapRound is the gap that a tab stands in, with all of its width.
func (p *Pass) gapRound(t *board.Tab) *board.Gap {
	for _, g := range p.Board.Gaps {
		if g.Edge == t.Edge && g.From <= t.From()+board.Tolerance && t.To() <= g.To+board.Tolerance {
			return g
		}
	}
	return nil
}

// intoGap is the edit that moves a tab to the middle of the gap that it misses:
// one that it overlaps, wide enough for it, and the only one.
func (p *Pass) intoGap(t *board.Tab) *finding.Fix {
	room := t.Width.Value + 2*p.Limits.Minimum("tab_gap").Value
	var gap *board.Gap
	for _, g := range p.Board.Gaps {
		if g.Edge != t.Edge || g.For.Given() || g.From >= t.To() || t.From() >= g.To || below(g.To-g.From, room) {
			continue
		}
		if gap != nil {
			return nil
		}
		gap = g
	}
	if gap == nil {
		return nil
	}
	middle := quantity.Nanometres((gap.From + gap.To) / 2)
	return edit("move the tab into gap "+gap.Name.Text, t.PositionAt, "at "+written(middle, quantity.Millimetre))
}
