package report

import (
	"math"

	"hemline/checks"
	"hemline/checks/physics"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/emit/notes"
	"hemline/lang/geom"
	"hemline/lang/quantity"
)

// NoteFigures are the values that fabrication notes state: computed ones, and the
// limits in force.
func NoteFigures(a *lang.Analysis) notes.Figures {
	b, f := a.Board(), notes.Figures{Room: checks.LimitsFor(a).Room(), MaskMargin: checks.LimitsFor(a).MaskMargin()}
	for _, p := range b.Platings() {
		if l, ok := Continuity(b, p); ok {
			f.Continuity = append(f.Continuity, l)
		}
	}
	return f
}

// Continuity is the resistance along a plating's longest stretch, and the limit
// to ask for there: twice as much, measured with four wires, which is common
// practice without a source. A stretch that runs all round is measured between
// two points opposite each other, its halves side by side. ok is false where
// nothing is plated, or the copper or the thickness is not stated.
//
// The wall alone is counted, smooth and even; wraps and joined layers lower it.
func Continuity(b *board.Board, p *board.Plating) (l notes.Limit, ok bool) {
	t, known := b.Thickness()
	if !known || !p.Copper.Given() {
		return l, false
	}
	for s := range b.FinishedBy(p) {
		if s.Length() > l.Stretch.Length()+board.Tolerance {
			l.Stretch = s
		}
	}
	sheet, valid := physics.SheetResistance(physics.Rho20, quantity.InMetres(p.Copper.Value))
	along, also := physics.StripResistance(sheet, quantity.InMetres(l.Stretch.Length()), quantity.InMetres(t.Value))
	if !valid || !also || along <= 0 || math.IsInf(along, 0) {
		return l, false
	}
	path := l.Stretch.Profile.Path
	l.From, l.To, l.Computed = path.At(l.Stretch.From), path.At(l.Stretch.To), along
	if l.Stretch.Round() {
		l.From, l.To = opposite(path, l.Stretch.From)
		l.Computed = along / 4
	}
	l.Maximum = 2 * l.Computed
	return l, true
}

// opposite are two points of a ring that halve it.
func opposite(path *geom.Loop, from float64) (a, b geom.Point) {
	return path.At(from), path.At(math.Mod(from+path.Perimeter()/2, path.Perimeter()))
}
