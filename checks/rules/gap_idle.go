package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var gapIdle = &checks.Rule{
	Name: "gap_idle", Group: checks.GroupPlating, Category: finding.Tidy,
	Finds:  "A gap interrupts nothing: its plating does not run there, or another plating does too, so that nothing is bare.",
	Why:    "Either the gap or the plating is not where its author thinks it is.",
	Source: "common practice, no source",
	Bad:    platedWith("gap g of wall on south at middle width 5 mm"),
	Good:   platedWith("gap g of wall on east at middle width 5 mm"),
	Run: func(p *checks.Pass) {
		for _, g := range p.Board.Gaps() {
			pl := p.Board.PlatingNamed(g.Of.Text)
			if pl == nil || pl.Faulty || hollow(g) {
				continue // stretch_empty's, where it has no length
			}
			if p.Board.Interrupts(g) {
				if other := platedOver(p, g); other != nil {
					r := p.Report(g.Stretch, []string{g.Name.Text, other.Name.Text}, "gap %s leaves nothing bare: plating %s runs there too", g.Name.Text, other.Name.Text)
					related(r, other.Name.At, "the plating that runs there")
				}
				continue
			}
			r := p.Report(g.Stretch, []string{g.Name.Text}, "gap %s interrupts nothing: plating %s has no plated stretch there on %s", g.Name.Text, pl.Name.Text, g.Edge.Name)
			related(r, pl.Name.At, "the plating")
		}
	},
}

// platedOver is a plating that covers what a gap would leave bare, nil where some
// of the gap is bare, or lies on a rounded corner alone.
func platedOver(p *checks.Pass, g *board.Gap) (over *board.Plating) {
	if len(p.Board.Platings()) < 2 {
		return nil
	}
	from, to := g.Edge.Range(g.From, g.To)
	if to-from <= board.Tolerance {
		return nil
	}
	wall, l, bare := p.Board.Wall(g.Edge.Profile), g.Edge.Profile.Path.Perimeter(), false
	wall.BareIn(from, to, func(s board.Stretch) {
		for _, shift := range [...]float64{-l, 0, l} {
			bare = bare || min(s.To, to+shift)-max(s.From, from+shift) > board.Tolerance
		}
	})
	if !bare {
		wall.PlatedIn(from, to, func(s board.Stretch) {
			if over == nil && s.Plating.Name.Text != g.Of.Text {
				over = s.Plating
			}
		})
	}
	return over
}
