package report

import (
	"hemline/lang/board"
	"hemline/lang/quantity"
)

// CutoutItem is a plated cutout's figures; ok is false for one that is not plated.
func CutoutItem(b *board.Board, c *board.Cutout) (i Item, ok bool) {
	i = Item{Kind: "cutout", Name: c.Name.Text}
	if c.Profile == nil || len(b.Finished(c.Profile).Plated) == 0 {
		return i, false
	}
	wall := b.Finished(c.Profile)
	i.Figures = append(i.Figures, is("plated share of its edge", wall.Share*100, "%"))
	if !c.Width.Given() {
		return i, true // a drawn path has no one width
	}
	width, radius := c.Width.Value, 0.0
	for _, g := range c.Profile.Path.Segments() {
		if g.Arc {
			radius = g.Radius() // all of a slot's or a rectangle's are alike
		}
	}
	copper := 0.0
	for _, s := range wall.Plated {
		copper = max(copper, s.Plating.Copper.Value)
	}
	const grows = "the plating makes it so; it is routed wider by the copper of both walls"
	i.Figures = append(i.Figures, is("finished width", quantity.InMillimetres(width), "mm").with(grows),
		is("finished radius inside", quantity.InMillimetres(radius), "mm"))
	if wall.Whole() && copper > 0 {
		i.Figures = append(i.Figures, is("width before plating", quantity.InMillimetres(width+2*copper), "mm"),
			is("radius before plating", quantity.InMillimetres(radius+copper), "mm"))
	}
	return i, true
}
