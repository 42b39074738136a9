package report

import (
	"fmt"
	"math"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/rout"
)

// TabItem is a tab's figures, cut free by the board's bits.
func TabItem(b *board.Board, t *board.Tab, bits *rout.Bits) Item {
	f := figures.TabFigures(b, t, bits)
	i := Item{Kind: "tab", Name: t.Name.Text}
	i.Figures = append(i.Figures, is("width", quantity.InMillimetres(f.Section.Root), "mm").with("at its root, on the profile, as the bits leave it"),
		is("waist", quantity.InMillimetres(f.Section.Waist), "mm").with(fmt.Sprintf("halfway along slots of a bit of %s", quantity.Nanometres(f.Section.Bit))))
	if t.Perforated {
		i.Figures = append(i.Figures, rowOf(t, f)...)
	}
	where := "along its holes"
	if f.Section.AtWaist() {
		where = "its waist"
	}
	i.Figures = append(i.Figures, is("net width", quantity.InMillimetres(f.Section.Net), "mm").with(where))
	i.Figures = append(i.Figures,
		of("holds at least", f.Holds, f.Known, "N·mm", noThickness).with("345 N/mm², the least crosswise of the laminate's standard"),
		of("breaks at about", f.Breaks, f.Known, "N·mm", noThickness).with("689 N/mm², typical lengthwise"))
	i.Figures = append(i.Figures, carried(f)...)
	if t.Hand() {
		i.Figures = append(i.Figures, of("snapping force at its end", f.Breaks/quantity.InMillimetres(figures.Reach(t)), f.Known, "N", noThickness).with(leverage(t)))
	}
	return i
}

// rowOf is a tab's row of holes: how long it is, and what is left of the root between
// its holes and at either end.
func rowOf(t *board.Tab, f figures.TabFigure) []Figure {
	list := []Figure{is("holes", float64(f.Holes), "")}
	if f.Holes == 0 {
		return list
	}
	span := float64(f.Holes-1)*t.Pitch.Value + t.Hole.Value
	if f.Holes > 1 {
		list = append(list, is("web between holes", quantity.InMillimetres(math.Max(0, t.Pitch.Value-t.Hole.Value)), "mm"))
	}
	return append(list, is("row of holes", quantity.InMillimetres(span), "mm").with("from the first hole's side to the last one's"),
		is("web at each end", quantity.InMillimetres(math.Max(0, t.EndWeb(f.Section.Root))), "mm").with("from the row to the slot beside the root"))
}

// carried is what a tab bears of the board, or why that is not told.
func carried(f figures.TabFigure) []Figure {
	const share, bend = "share of the board's mass", "moment of what hangs out from the tabs"
	switch {
	case !f.Known:
		return []Figure{none(share, noThickness)}
	case f.Untold != "":
		return []Figure{none(share, "cannot be told: "+f.Untold)}
	}
	s := is(share, f.Carries.Grams, "g").with("stiff board, equal tabs, with the parts whose mass is stated")
	if f.Carries.Grams < 0 {
		s = s.with("under 0: it is pulled up, and keeps the board from tipping")
	}
	list := []Figure{s}
	if f.Carries.Bend > f.Carries.Load()/2 {
		list = append(list, is(bend, f.Carries.Bend, "N·mm").with("the tabs hold it as a cantilever"))
	}
	return list
}

// leverage says at what length a tab is snapped off, and why by hand.
func leverage(t *board.Tab) string {
	note := fmt.Sprintf("at %s, the tab's own length", quantity.Nanometres(figures.Reach(t)))
	if !t.Length.Given() {
		note = fmt.Sprintf("at %s, a slot's usual width: the tab states no length", quantity.Nanometres(figures.TabReach))
	}
	if !t.Removal.How.Given() {
		note += "; taken as snapped off by hand: no removal is stated"
	}
	return note
}
