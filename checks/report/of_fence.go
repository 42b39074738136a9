package report

import (
	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/quantity"
)

// FenceItem is a fence's figures.
func FenceItem(b *board.Board, f *board.Fence, tolerances figures.Tolerances) Item {
	pitch := figures.PitchOf(f, tolerances)
	i := Item{Kind: "fence", Name: f.Name.Text}
	way := figures.WayOf(f, tolerances)
	i.Figures = append(i.Figures, is("vias", float64(len(f.Vias)), ""), is("pitch", quantity.InMillimetres(f.Pitch.Value), "mm").atWorst(quantity.InMillimetres(pitch.Worst)).with(pitch.Because()),
		is("opening between vias", quantity.InMillimetres(f.Widest()-f.Hole.Value), "mm"))
	if f.LeftOut > 0 {
		i.Figures = append(i.Figures, is("vias left out by the clearance", float64(f.LeftOut), ""))
	}
	share := "pitch as a share of the wavelength"
	if f.Wide > f.Pitch.Value {
		i.Figures = append(i.Figures, is("longest way from via to via", quantity.InMillimetres(way.Nominal), "mm").atWorst(quantity.InMillimetres(way.Worst)).with(way.Because()))
		share = "that way as a share of the wavelength"
	}
	lambda, ok := figures.WavelengthIn(b)
	i.Figures = append(i.Figures, of(share, way.Nominal/lambda*100, ok, "%", noFrequency).atWorst(way.Worst/lambda*100))
	return i
}
