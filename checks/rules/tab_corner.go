package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var tabCorner = &checks.Rule{
	Name: "tab_corner", Group: checks.GroupTabs, Category: finding.Risky,
	Finds:  "A tab's side lies nearer than `tab_corner` to the end of its edge, or the tab stands on an arc.",
	Why:    "Near a corner the board has nothing behind it and breaks where it should not; on an arc the row of holes is no straight line and the stub cannot be filed flush. A rim has no end, and a tab on it does not count.",
	Limits: []string{"tab_corner"},
	Source: "common practice, no source; first tab 10 to 25 mm from the corner on large boards",
	Bad:    platedWith("tab t4 on south at 4.4 mm width 3 mm solid"),
	Good:   platedWith("tab t4 on south at 4.5 mm width 3 mm solid"),
	Run: func(p *checks.Pass) {
		need := p.Limits.Minimum("tab_corner")
		for _, t := range p.Board.Tabs() {
			if t.Edge.Closed {
				continue
			}
			if onArc(t) {
				p.Report(t.PositionAt, []string{t.Name.Text}, "tab %s stands on an arc, on edge %s from %s to %s", t.Name.Text, t.Edge.Name, length(t.From(), t.Width), length(t.To(), t.Width))
				continue
			}
			left := min(t.From(), t.Edge.Length-t.To())
			what := func() string {
				return fmt.Sprintf("distance from tab %s to the end of edge %s", t.Name.Text, t.Edge.Name)
			}
			if !lacks(p, need, t.PositionAt, length(left, t.Width), what) {
				continue
			}
			f := p.Report(t.PositionAt, []string{t.Name.Text}, "%s", tooSmall(what(), length(left, t.Width), need))
			relatedLimit(f, need)
		}
	},
}

// onArc tells whether any part of a tab stands on an arc or a rounded corner.
func onArc(t *board.Tab) bool {
	if below(t.From(), t.Edge.Base) || above(t.To(), t.Edge.Base+t.Edge.To-t.Edge.From) {
		return true // the straight piece ends within the tab
	}
	from, to := t.Range()
	for _, s := range t.Edge.Profile.Path.Stretch(from, to) {
		if s.Arc && s.Length() > board.Tolerance {
			return true
		}
	}
	return false
}
