package rules

import (
	"slices"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/source"
)

var gapIdle = &checks.Rule{
	Name: "gap_idle", Group: checks.GroupPlating, Category: finding.Tidy,
	Finds:  "A gap, stated or opened by a tab or a connector, interrupts nothing: its plating does not run there, or another plating does too, so that nothing is bare.",
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
					r := p.Report(g.Stretch, []string{g.Name.Text, other.Name.Text}, "%s leaves nothing bare: plating %s runs there too", g.Title(), other.Name.Text)
					related(r, other.Name.At, "the plating that runs there")
				}
				continue
			}
			r := p.Report(g.Stretch, []string{g.Name.Text}, "%s interrupts nothing: plating %s has no plated stretch there on %s", g.Title(), pl.Name.Text, g.Edge.Name)
			related(r, pl.Name.At, "the plating")
		}
		idleOpeners(p)
	},
}

// idleOpeners are the tabs and connectors that open a gap in whatever is plated
// where they stand, and nothing is.
func idleOpeners(p *checks.Pass) {
	if p.Board.States("plating") != len(p.Board.Platings()) || slices.ContainsFunc(p.Board.Platings(), func(pl *board.Plating) bool { return pl.Faulty }) {
		return // what is plated is not known
	}
	opened := map[source.Place]bool{}
	for _, g := range p.Board.Gaps() {
		if g.Opened() {
			opened[g.Stretch] = true
		}
	}
	idle := func(word string, i *board.Item, o *board.Opens, e *board.Edge) {
		if o != nil && len(o.Platings) == 0 && above(o.To, o.From) && !opened[o.At] {
			p.Report(o.At, []string{i.Name.Text}, "%s %s opens nothing: no plating runs there on %s", word, i.Name.Text, e.Name)
		}
	}
	for _, c := range p.Board.Connectors() {
		idle("connector", &c.Item, c.Opens, c.Edge)
	}
	for _, t := range p.Board.Tabs() {
		if !t.Premetallised { // which is gap_conflict's
			idle("tab", &t.Item, t.Opens, t.Edge)
		}
	}
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
