package report

import (
	"math"

	"hemline/lang/board"
	"hemline/lang/quantity"
)

// CastellationItem is a row of half holes' figures.
func CastellationItem(b *board.Board, c *board.Castellation) Item {
	i := Item{Kind: "castellation", Name: c.Name.Text}
	t, known := b.Thickness()
	barrel := quantity.InSquareMillimetres(math.Pi / 2 * c.Hole.Value * t.Value)
	i.Figures = append(i.Figures, is("half holes", float64(len(c.Centres)), ""),
		of("copper left in each half hole", barrel, known, "mm²", noThickness).with("half of the barrel's wall"),
		is("land beside the hole", quantity.InMillimetres((c.LandWidth.Value-c.Hole.Value)/2), "mm"),
		is("land behind the hole", quantity.InMillimetres(c.LandLength.Value-c.Hole.Value/2), "mm"))
	if d := c.Short(); d > 0 {
		i.Figures = append(i.Figures, is("row ends short by", quantity.InMillimetres(d), "mm").with("of where it may end"))
	}
	if len(c.Centres) > 1 {
		i.Figures = append(i.Figures, is("board between holes", quantity.InMillimetres(c.Apart()-c.Hole.Value), "mm"))
	}
	return i
}
