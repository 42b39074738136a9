package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var nameUnused = &checks.Rule{
	Name: "name_unused", Group: checks.GroupHouse, Category: finding.Tidy,
	Finds:  "A let, connector, typical or fabricator of the file is there and nothing refers to it: no expression uses the let, nothing is like the typical, the connector stands on a plating and no gap is for it, another fabricator applies.",
	Why:    "What nobody uses is out of date or misspelt somewhere else.",
	Source: "common practice, no source",
	Bad:    platedWith("let spare = 3 mm"),
	Good:   platedWith("let spare = 3 mm", "gap g of wall on west at middle width spare"),
	Run: func(p *checks.Pass) {
		if p.Board.States("outline") == 0 && p.Board.States("board") == 0 {
			return // a file that others use: what they read is not known here
		}
		root := p.Root()
		mine := func(i *board.Item) bool { return i.Whole.Anchor != nil && i.Whole.Anchor.Path == root }
		read := p.Board.ReadNames()
		for _, l := range p.Board.Lets() {
			if mine(&l.Item) && !read[l.Name.Text] {
				p.Report(l.Name.At, []string{l.Name.Text}, "let %s is never used", l.Name.Text)
			}
		}
		launched := map[string]bool{}
		for _, g := range p.Board.Gaps() {
			launched[g.For.Text] = true
		}
		for _, c := range p.Board.Connectors() {
			if !mine(&c.Item) || launched[c.Name.Text] || p.Board.States("gap") != len(p.Board.StatedGaps()) {
				continue
			}
			from, to := c.Span()
			for _, pl := range p.Board.Platings() {
				if pl.RunsOn(c.Edge, from, to) {
					r := p.Report(c.Name.At, []string{c.Name.Text}, "connector %s stands on plating %s, and no gap is for it", c.Name.Text, pl.Name.Text)
					related(r, pl.Name.At, "the plating")
					break
				}
			}
		}
		for _, t := range p.Board.Typicals() {
			read := p.Board.States(t.Kind) == len(board.KindNamed(t.Kind).Items(p.Board)) && p.Board.States("typical") == len(p.Board.Typicals())
			if mine(&t.Item) && t.Name.Given() && read && len(p.Board.Followers(t.Name.Text)) == 0 {
				p.Report(t.Name.At, []string{t.Name.Text}, "nothing is like typical %s", t.Name.Text)
			}
		}
		for _, f := range p.Board.Fabricators() {
			if mine(&f.Item) && f != p.Board.Fabricator() {
				r := p.Report(f.Name.At, []string{f.Name.Text}, "fabricator %s is not used; %s, stated later, applies", f.Name.Text, p.Board.Fabricator().Name.Text)
				related(r, p.Board.Fabricator().Name.At, "the one in use")
			}
		}
	},
}
