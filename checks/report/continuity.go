package report

import (
	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/copper"
	"hemline/lang/emit/notes"
)

// NoteFigures are the values that fabrication notes state: computed ones, and the
// limits in force. store may be nil.
func NoteFigures(a *lang.Analysis, store *figures.Store) notes.Figures {
	b, l := a.Board(), checks.LimitsFor(a)
	gap := l.Minimum("tab_gap")
	f := notes.Figures{Room: l.Room(), TabGap: copper.Distance{By: gap.Value, Who: gap.Who}, Bits: l.Bits(b)}
	if shop := l.Shop(); shop != nil { // a note is read without the text that names its shop
		for _, d := range []*copper.Distance{&f.Room.Copper, &f.Room.EdgeOuter, &f.Room.EdgeInner, &f.Room.Wrap, &f.Room.WallInner, &f.TabGap} {
			if d.Who == shop.Name.Text {
				d.Who = "fabricator " + d.Who
			}
		}
	}
	c := store.Conductors(b)
	for _, p := range b.Platings() {
		if x, ok := c.Continuity(p); ok {
			f.Continuity = append(f.Continuity, x)
		}
	}
	return f
}
