package scene

import "hemline/lang/board"

// NominalThickness, mm, is how thick a board is drawn whose text does not say:
// the thickness most boards have, common practice, no source.
const NominalThickness = 1.6

// Level is a layer of the stack and where it lies in the thickness: depths of
// its two faces below the board's top face, mm.
type Level struct {
	board.Layer
	Top, Bottom float64
}

// Levels are the stack's layers, top first, or where there is no stack the two
// faces' copper, without a thickness of their own, and what is between.
// thickness, mm, is the board's then.
func Levels(b *board.Board, thickness float64) []Level {
	var list []Level
	depth := 0.0
	for _, l := range b.Stack().Layered() {
		list = append(list, Level{Layer: l, Top: depth, Bottom: depth + l.Thickness.Value/mm})
		depth += l.Thickness.Value / mm
	}
	if len(list) > 0 {
		return list
	}
	face := func(f board.Face, depth float64) Level {
		return Level{Layer: board.Layer{Name: board.Name{Text: f.String()}, Copper: true}, Top: depth, Bottom: depth}
	}
	return []Level{face(board.Top, 0), {Bottom: thickness}, face(board.Bottom, thickness)}
}
