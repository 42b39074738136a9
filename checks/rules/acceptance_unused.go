package rules

import (
	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/finding"
)

var acceptanceUnused = &checks.Rule{
	Name: "acceptance_unused", Group: checks.GroupHouse, Category: finding.Tidy,
	Finds:  "An `accept` silences nothing: no finding of its rule is on a name that it gives, or between that one and the one after `with`.",
	Why:    "What was agreed has been mended, or was never there; a stale acceptance hides the next finding of the kind.",
	Source: "common practice, no source",
	Bad:    platedWith("accept wrap_land on wall because \"agreed with the shop\""),
	Good:   plated("wrap top 0.3 mm", "wrap bottom 0.8 mm") + "accept wrap_land on wall because \"agreed with the shop\"\n",
	AllRun: true,
	Run: func(p *checks.Pass) {
		for _, a := range p.Board.Acceptances() {
			if !p.Knows(a.Name.Text) || p.Expired(a) || p.Awaits(a.Name.Text) {
				continue
			}
			for _, on := range a.On {
				if p.Silences(a, on) || unread(p.Board, on.Text) {
					continue
				}
				at := a.Name.At
				if len(a.On) > 1 {
					at = on.At
				}
				items := acceptedItems(a, on)
				p.Report(at, items, "there is no finding of %s on %s to accept", a.Name.Text, finding.Parties(items))
			}
		}
	},
}

// unread tells whether what a name stands for could not be read in full, so that what
// would be found of it is not known.
func unread(b *board.Board, name string) bool {
	missing := false
	for _, k := range board.Kinds() {
		if !k.Accepts {
			continue
		}
		if i := k.Find(b, name); i != nil {
			return i.Faulty
		}
		missing = missing || b.States(k.Word) > len(k.Items(b))
	}
	return missing && name != "outline" && name != "board"
}

// acceptedItems are what an acceptance speaks of by one of the names it is on.
func acceptedItems(a *board.Acceptance, on board.Name) []string {
	if a.With.Given() {
		return []string{on.Text, a.With.Text}
	}
	return []string{on.Text}
}
