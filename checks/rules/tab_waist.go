package rules

import (
	"fmt"
	"math"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/rout"
)

var tabWaist = &checks.Rule{
	Name: "tab_waist", Group: checks.GroupTabs, Category: finding.Risky,
	Finds:  "The finest bit that cuts a tab's profile, at least `router_bit`, leaves less than two fifths of the tab's width halfway along the slots beside it.",
	Why:    "A tab's width is that of its root, on the profile. The slots beside it end in rounds of the bit's radius, so that halfway along a slot as wide as the bit the tab is narrower by the bit's diameter, and on a hollow arc by more: at this waist it lets go, and one no wider than the bit is cut through.",
	Limits: []string{"router_bit"},
	Source: "geometry of the slots' ends; the two fifths are our own judgement",
	Bad:    shop("limit router_bit minimum 1.81 mm") + platedWith(),
	Good:   shop("limit router_bit minimum 1.8 mm") + platedWith(),
	Run: func(p *checks.Pass) {
		least := p.Limits.Minimum("router_bit")
		bits := boardBits(p)
		for _, t := range p.Board.Tabs() {
			if bits.Spares(t) {
				continue
			}
			what := fmt.Sprintf("waist of tab %s is %s", t.Name.Text, length(bits.Tab(t).Waist, t.Width))
			if bits.Tab(t).Waist <= board.Tolerance {
				what = fmt.Sprintf("tab %s is cut through", t.Name.Text)
			}
			bit := bits.Bit(t.Edge.Profile)
			wide := "wider"
			if !onArc(t) {
				wide = length(1e4*math.Ceil(bit/(1-rout.WaistShare)/1e4), t.Width).String() + " wide"
			}
			f := p.Report(t.Width.At, []string{t.Name.Text}, "%s halfway along the slots that a bit of %s cuts beside it; at least two fifths of its width, %s, should be left: make it %s, or ask for a finer bit",
				what, length(bit, t.Width), length(rout.WaistShare*t.Width.Value, t.Width), wide)
			relatedLimit(f, least)
		}
	},
}

// boardBits are the bits that the board is cut by.
func boardBits(p *checks.Pass) *rout.Bits {
	type key struct{}
	return checks.Once(p, key{}, func() *rout.Bits { return p.Limits.Bits(p.Board) })
}

// weakest is where a tab is weakest.
func weakest(p *checks.Pass, t *board.Tab) figures.Section {
	return figures.WeakestSection(t, boardBits(p))
}
