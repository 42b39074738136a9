package report

import (
	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/emit/notes"
)

// NoteFigures are the values that fabrication notes state: computed ones, and the
// limits in force. store may be nil.
func NoteFigures(a *lang.Analysis, store *figures.Store) notes.Figures {
	b, f := a.Board(), notes.Figures{Room: checks.LimitsFor(a).Room(), MaskMargin: checks.LimitsFor(a).MaskMargin()}
	c := store.Conductors(b)
	for _, p := range b.Platings() {
		if l, ok := c.Continuity(p); ok {
			f.Continuity = append(f.Continuity, l)
		}
	}
	return f
}
