package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var nameUnused = &checks.Rule{
	Name: "name_unused", Group: checks.GroupHouse, Category: finding.Tidy,
	Finds:  "A let, connector or fabricator of the file is there and nothing refers to it: no expression reads the let, no gap is for the connector, another fabricator is in use.",
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
				p.Report(l.Name.At, []string{l.Name.Text}, "let %s is read nowhere", l.Name.Text)
			}
		}
		launched := map[string]bool{}
		for _, g := range p.Board.Gaps() {
			launched[g.For.Text] = true
		}
		for _, c := range p.Board.Connectors() {
			if mine(&c.Item) && !launched[c.Name.Text] && p.Board.States("gap") == len(p.Board.Gaps()) {
				p.Report(c.Name.At, []string{c.Name.Text}, "no gap is for connector %s", c.Name.Text)
			}
		}
		for _, f := range p.Board.Fabricators() {
			if mine(&f.Item) && f != p.Board.Fabricator() {
				r := p.Report(f.Name.At, []string{f.Name.Text}, "fabricator %s is not in use: the last one stated is, %s", f.Name.Text, p.Board.Fabricator().Name.Text)
				related(r, p.Board.Fabricator().Name.At, "the one in use")
			}
		}
	},
}
