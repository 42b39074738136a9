package drawing

import (
	"math"
	"slices"

	"hemline/lang/emit/sheet"
)

// field is the view of a mode's field: the board's outline and lines of equal field,
// each with its share of the greatest, and a cross where that is.
func (a *author) field() *block {
	f := a.o.Field
	w, h := a.size()
	scale := largest(w, h, column-2, column-2)
	k := &sketch{}
	v := &view{a: a, k: scale.Factor()}
	k.Add(sheet.Shape{ID: "field.outline", Line: sheet.Thick, Fill: sheet.Clear, Paths: v.paths(a.scene.Outline)})
	if len(a.scene.Cutouts) > 0 {
		k.Add(sheet.Shape{ID: "field.cutouts", Line: sheet.Thick, Fill: sheet.Clear, Paths: v.paths(a.scene.Cutouts)})
	}
	var shares []sheet.Text
	for i, line := range f.Lines {
		paths := v.paths(line.Paths)
		k.Add(sheet.Shape{ID: "field.line", Line: sheet.Thin, Fill: sheet.Clear, Paths: paths})
		for _, p := range paths {
			flat := p.Flat() // the figures of one share after another farther along, so that neighbours stand apart
			at := flat[len(flat)*(i+1)/(len(f.Lines)+1)]
			t := sheet.Text{At: at.Add(0, -sheet.Small/2), S: figure(math.Round(line.Share*10) / 10), Height: sheet.Small, Align: sheet.Centre}
			if !slices.ContainsFunc(shares, func(x sheet.Text) bool { return x.Box().Grow(0.5).Meets(t.Box()) }) {
				shares = append(shares, t)
			}
		}
	}
	for _, t := range shares { // they interrupt the lines that they lie on, so they come last
		k.Add(sheet.Shape{Fill: sheet.White, Paths: []sheet.Path{sheet.Box(t.Box().Grow(0.3))}})
		k.Write(t)
	}
	const arm = 1.8
	at := v.at(f.Strongest)
	k.Add(sheet.Strokes(sheet.Thick, at.Add(-arm, -arm), at.Add(arm, arm)), sheet.Strokes(sheet.Thick, at.Add(-arm, arm), at.Add(arm, -arm)))
	k.caption("Field of "+f.Title+", "+scale.String(), "Seen from above. Lines of equal field as shares of the greatest, which the cross marks: stitching or capacitors work most there.")
	return k.block("field")
}
