package report

import (
	"fmt"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/quantity"
	"hemline/lang/rout"
)

// TabItem is a tab's figures, cut free by the board's bits.
func TabItem(b *board.Board, t *board.Tab, bits *rout.Bits) Item {
	f := figures.TabFigures(b, t, bits)
	i := Item{Kind: "tab", Name: t.Name.Text}
	i.Figures = append(i.Figures, is("width", quantity.InMillimetres(t.Width.Value), "mm").with("at its root, on the profile"),
		is("waist", quantity.InMillimetres(f.Section.Waist), "mm").with(fmt.Sprintf("halfway along slots of a bit of %s", quantity.Nanometres(f.Section.Bit))))
	if t.Perforated {
		i.Figures = append(i.Figures, is("holes", float64(f.Holes), ""))
	}
	where := "along its holes"
	if f.Section.AtWaist() {
		where = "its waist"
	}
	i.Figures = append(i.Figures, is("net width", quantity.InMillimetres(f.Section.Net), "mm").with(where))
	i.Figures = append(i.Figures,
		of("holds at least", f.Holds, f.Known, "N·mm", noThickness).with("345 N/mm², the least crosswise of the laminate's standard"),
		of("breaks at about", f.Breaks, f.Known, "N·mm", noThickness).with("689 N/mm², typical lengthwise"),
		of("share of the board's mass", f.Carries, f.Known, "g", noThickness))
	if t.Hand() {
		force := of("snapping force at 20 mm", f.Breaks/20, f.Known, "N", noThickness)
		if !t.Removal.How.Given() {
			force = force.with("taken as snapped off by hand: no removal is stated")
		}
		i.Figures = append(i.Figures, force)
	}
	return i
}
